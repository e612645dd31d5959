import { beforeAll, describe, expect, it } from "vitest";
import { translate } from "../../../addin/share/translate";
import { insertPlan, undo } from "../../../addin/sheet";
import {
  EXPOSURE_LINE_KEYS,
  type ExposureInput,
  type ExposureKey,
  exposureLine,
  exposureOf,
} from "../../../functions/plan/exposure";
import { FIELDS, type Key } from "../../../functions/plan/fields";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import type { Problems } from "../../../functions/plan/problems";
import type { System } from "../../../functions/units";
import { SURROUNDINGS } from "../share/engine";
import { expectSheetAgrees, floor, planFor } from "./agreement";
import { openGritForEach, openGritOnce, putBackAfterEach, setAllNamed, setNamed, snapshot, write } from "./workbook";

const SHEET = "Stage plan";
/** From a line's label to its value, unit, action value, limit and words. */
const STEPS = [3, 4, 6, 7, 8];
const HEADING = "Crew exposure, one person's day";
const RULE = "NIOSH: level for 8 hours";

async function cellsOf(sheet: string): Promise<{ values: any[][]; formulas: any[][]; row: number; column: number }> {
  return Excel.run(async (context) => {
    const used = context.workbook.worksheets.getItem(sheet).getUsedRange();
    used.load("values,formulas,rowIndex,columnIndex");
    await context.sync();
    const { values, formulas, rowIndex, columnIndex } = used;
    return { values, formulas, row: rowIndex, column: columnIndex };
  });
}

const labelsOn = async (sheet: string) => (await cellsOf(sheet)).values.flat();

function lineIn(values: any[][], label: string) {
  const row = values.find((cells) => cells.includes(label));
  if (!row) throw new Error(`no line ${label}`);
  const at = row.indexOf(label);
  const [value, unit, action, limit, words] = STEPS.map((step) => row[at + step]);
  return { value, unit, action, limit, words };
}

const line = async (label: string) => lineIn((await cellsOf(SHEET)).values, label);

async function cellOf(label: string, step: number): Promise<string> {
  const { values, row, column } = await cellsOf("Stage plan");
  const r = values.findIndex((cells) => cells.includes(label));
  return `Stage plan!${String.fromCharCode(65 + column + values[r]!.indexOf(label) + step)}${row + r + 1}`;
}

const SIZES = { us: { length: 80, width: 50 }, metric: { length: 24, width: 15 } };
const WHEEL = { us: 5, metric: 125 };

/** A floor with an exposure that nobody set out to be round. */
const full = (units: System): Inputs =>
  floor({
    ...startInputs(units),
    jobName: "Test floor",
    ...SIZES[units],
    handHours: 1.75,
    machineHours: 4.5,
    handVibration: 6.4,
    machineVibration: 2.9,
    handNoise: 98.5,
    machineNoise: 91,
    dust: 63,
    dustHours: 3.5,
    shroudDiameter: WHEEL[units],
  });

const SOME: [what: string, over: Partial<Inputs>][] = [
  ["all of it", {}],
  ["a machine without a hand on it", { machineVibration: 0 }],
  ["no hand tool that day", { handHours: 0, handVibration: null, handNoise: null }],
  ["hours alone", { handVibration: null, machineVibration: null, handNoise: null, machineNoise: null }],
  ["no hours at the machine told", { machineHours: null }],
  ["neither dust nor wheel", { dust: null, shroudDiameter: null }],
  ["neither hours of dust nor a wheel that day", { dust: null, dustHours: 0, shroudDiameter: 0 }],
  ["dust without its hours", { dustHours: null }],
  ["a quiet and smooth day", { handVibration: 1, machineVibration: 1, handNoise: 70, machineNoise: 71, dust: 3 }],
  ["a blow above the ceiling", { handHours: 0.05, handNoise: 120, machineHours: 0, machineNoise: null }],
  ["a long day below the criterion", { handHours: 0, handNoise: null, machineHours: 10, machineNoise: 89 }],
  ["both at once", { handHours: 1, handNoise: 116, machineHours: 9, machineNoise: 89.5 }],
  ["a day above every limit", { handVibration: 14, handNoise: 109, dust: 300 }],
];

async function expectAgrees(inputs: Inputs, problems: Problems = {}): Promise<void> {
  const wanted = exposureOf(inputs, problems);
  const { values } = await cellsOf(SHEET);
  for (const key of EXPOSURE_LINE_KEYS) {
    const { label, unit } = exposureLine(key);
    const found = lineIn(values, label);
    expect(found.unit, label).toBe(unit(inputs.units));
    expect(found.words, label).toBe(wanted[key].words);
    for (const part of ["value", "action", "limit"] as const) {
      const figure = wanted[key][part];
      if (typeof figure === "number" && figure !== 0)
        expect(found[part] / figure, `${label}, ${part}`).toBeCloseTo(1, 9);
      else expect(found[part], `${label}, ${part}`).toBe(figure);
    }
  }
}

/** From an input's label to its cell. */
const INPUT = 3;

/** Types a day over the one that stands there, where they differ. */
async function typeOver(inputs: Inputs): Promise<void> {
  const { values, row, column } = await cellsOf(SHEET);
  await Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.getItem(SHEET);
    for (const key of (Object.keys(FIELDS) as Key[]).filter((key) => FIELDS[key].group === "exposure")) {
      const { label } = FIELDS[key];
      const r = values.findIndex((cells) => cells.includes(label));
      const c = values[r]!.indexOf(label) + INPUT;
      const wanted = inputs[key] ?? "";
      if (values[r]![c] !== wanted) sheet.getCell(row + r, column + c).values = [[wanted]];
    }
    await context.sync();
  });
}

// One case of each is inserted, a different one with blank inputs each time; the others are typed over it.
describe.each([
  ["us", "no hand tool that day"],
  ["us", "neither hours of dust nor a wheel that day"],
  ["metric", "neither dust nor wheel"],
  ["metric", "hours alone"],
] as const)("in %s units, written with %s, every figure is the pane's own", (units, inserted) => {
  const first = SOME.find(([what]) => what === inserted)!;
  const inputsWith = (over: Partial<Inputs>): Inputs => ({ ...full(units), ...over });
  openGritOnce();
  beforeAll(async () => {
    await insertPlan(planFor(inputsWith(first[1])), "new sheet");
  });

  it.each([first, ...SOME.filter((some) => some !== first)])("with %s", async (what, over) => {
    const inputs = inputsWith(over);
    if (what !== inserted) await typeOver(inputs);
    await expectAgrees(inputs);
    await expectSheetAgrees(planFor(inputs));
  });
});

describe("a plan that tells nothing of the crew's exposure", () => {
  openGritOnce();
  beforeAll(async () => {
    await insertPlan(planFor(floor()), "new sheet");
  });

  it("has neither the block nor its inputs", async () => {
    const labels = await labelsOn(SHEET);
    expect(labels).toContain(FIELDS.length.label);
    expect(labels).not.toContain(HEADING);
    for (const key of Object.keys(FIELDS) as Key[]) {
      if (FIELDS[key].group === "exposure") expect(labels).not.toContain(FIELDS[key].label);
    }
  });

  it("warns of dry grinding all the same", async () => {
    expect((await labelsOn("Stage plan")).join(" ")).toMatch(/Dry grinding needs dust collection/);
  });
});

describe("the block on the sheet", () => {
  const inputs = full("us");
  openGritOnce();
  beforeAll(async () => {
    await insertPlan(planFor(inputs), "new sheet");
  });
  putBackAfterEach();

  it("says that it is no permission, and who has the last word", async () => {
    const text = (await labelsOn("Stage plan")).join(" ");
    expect(text).toMatch(/not a permission: local law.*manufacturers' instructions.*licensed professional come first/);
  });

  it("says that OSHA ends at 115 dBA, and that its limit leaves out what is below 90 dBA (29 CFR 1910.95(a) and (b))", async () => {
    const words = async (handHours: number, handNoise: number, machineHours: number, machineNoise: number) => {
      await setAllNamed("Stage plan", {
        Crew_HandHours: handHours,
        Crew_HandNoise: handNoise,
        Crew_MachineHours: machineHours,
        Crew_MachineNoise: machineNoise,
      });
      return (await line("Noise dose, OSHA (action: general industry)")).words;
    };
    // Hand: 120 dBA may last 8 / 2^6 h by the formula, so 0.05 h is 40 %.
    expect(await words(0.05, 120, 0, 80)).toBe(
      "below the action value; OSHA allows at most 15 minutes at 115 dBA and nothing above it",
    );
    expect(await words(0.05, 115, 0, 120)).toBe("below the action value");
    // Hand: 89 dBA may last 8 × 2^0.2 = 9.19 h by the formula.
    expect(await words(0, 80, 10, 89)).toBe(
      "above the limit; levels below 90 dBA are counted here, but OSHA leaves them out of its limit",
    );
    expect(await words(0, 80, 10, 90)).toBe("above the limit");
    expect(await words(0, 80, 9, 89)).toBe("at or above the action value");
  });

  it("follows its inputs, and says so where one is cleared", async () => {
    let now = inputs;
    const change = async (key: Key, value: number | null) => {
      await setNamed(FIELDS[key].name, "Stage plan", value ?? "");
      now = { ...now, [key]: value };
      await expectAgrees(now);
    };
    await change("handVibration", 3.1);
    await change("machineNoise", 84);
    await change("handHours", 0);
    await change("handVibration", null);
    await change("dust", null);
    await change("handVibration", 3.1);
    await change("handHours", 14);
    await change("machineHours", 13);
    expect((await line("Hand-arm vibration A(8), EU values")).value).toBe("too many hours");
    expect((await line("Hours on tools and machine")).words).toBe("longer than a day");
  });

  /** Each is outside what its input may be; a text stands for one that cannot be read. */
  const WRONG: [ExposureInput, number | string, figures: ExposureKey[]][] = [
    ["handHours", -2, ["hours", "vibration", "osha", "niosh"]],
    ["machineHours", -0.5, ["hours", "vibration", "osha", "niosh"]],
    ["machineHours", 25, ["hours", "vibration", "osha", "niosh"]],
    ["handHours", "2 h", ["hours", "vibration", "osha", "niosh"]],
    ["handVibration", -6.4, ["vibration", "handUntil"]],
    ["handVibration", 0, ["vibration", "handUntil"]],
    ["machineVibration", -2.9, ["vibration", "machineUntil"]],
    ["machineVibration", "low", ["vibration", "machineUntil"]],
    ["handNoise", -98.5, ["osha", "niosh"]],
    ["machineNoise", 910, ["osha", "niosh"]],
    ["machineNoise", " ", ["osha", "niosh"]],
    ["dust", -63, ["dust"]],
    ["dustHours", -3.5, ["dust"]],
    ["shroudDiameter", -5, ["shroud"]],
  ];

  it("tells no figure that a wrong input touches, names the input, and leaves the other figures", async () => {
    let right = {};
    for (const [key, typed, touched] of WRONG) {
      const { name } = FIELDS[key];
      await setAllNamed("Stage plan", { ...right, [name]: typed });
      const { values } = await cellsOf("Stage plan");
      for (const line of EXPOSURE_LINE_KEYS) {
        const { value, action, words } = lineIn(values, exposureLine(line).label);
        const figure = line.endsWith("Until") ? action : value;
        const about = `${key} ${typed}: ${line}`;
        expect(figure === "check the inputs", about).toBe(touched.includes(line));
        expect(words.startsWith(FIELDS[key].label), about).toBe(touched.includes(line));
      }
      const given = { ...inputs, [key]: typeof typed === "number" ? typed : null };
      await expectAgrees(given, { [key]: "cannot be read" });
      right = { [name]: inputs[key] };
    }
    await setAllNamed("Stage plan", right);
    await expectAgrees(inputs);
  });

  it.each([
    [RULE, "value", ["", "loud"]],
    ["NIOSH: rise that halves the time", "value", ["", "3 dB"]],
    ["Noise dose, NIOSH", "limit", ["", "none"]],
  ] as const)("tells no verdict on noise by NIOSH with %s (%s) cleared or a text", async (label, part, texts) => {
    expect((await line("Noise dose, NIOSH")).words).toBe("at or above the limit");
    const step = STEPS[part === "value" ? 0 : 3]!;
    for (const text of texts) {
      await write(await cellOf(label, step), [[text]]);
      expect((await line("Noise dose, NIOSH")).words).toMatch(/^#N\/A|isn't a number/);
    }
  });

  it("tells no hours until an action value that was cleared", async () => {
    await write(await cellOf("Hand-arm vibration A(8), EU values", STEPS[2]!), [[""]]);
    expect((await line("Hand-arm vibration A(8), EU values")).words).toMatch(/isn't a number/);
    expect((await line(exposureLine("handUntil").label)).action).toBe("#N/A");
  });

  it("holds the figures against other values where the law has others, and counts noise by another rule", async () => {
    // By hand, hours of the hand tool alone to 2.8 m/s²: 8 × (2.8/6.4)².
    const [value, , action] = STEPS as [number, number, number];
    await write(await cellOf("Hand-arm vibration A(8), EU values", action), [[2.8]]);
    expect((await line(exposureLine("handUntil").label)).action).toBeCloseTo(8 * (2.8 / 6.4) ** 2, 9);
    // Each 3 dB more for 8 hours halve the dose.
    const dose = (await line("Noise dose, NIOSH")).value;
    await write(await cellOf(RULE, value), [[88]]);
    expect((await line("Noise dose, NIOSH")).value).toBeCloseTo(dose / 2, 9);
  });
});

describe("the block with its plan", () => {
  openGritForEach();

  it("the block is taken back with the plan", async () => {
    const before = await snapshot();
    await undo(await insertPlan(planFor(full("us")), "new sheet"));
    expect(await snapshot()).toEqual(before);
  });

  it("a copy without the add-in has the same figures: every formula of the block is made plain", async () => {
    await insertPlan(planFor(full("metric")), "new sheet");
    const { values, formulas, row, column } = await cellsOf("Stage plan");
    const from = values.findIndex((cells) => cells.includes(HEADING));
    let translated = 0;
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Stage plan");
      for (const [r, cells] of formulas.entries()) {
        for (const [c, formula] of cells.entries()) {
          if (r <= from || !/GRIT\.(HANDARM|HANDTIME|NOISE|DUST|SHROUD)/.test(String(formula))) continue;
          const plain = translate(formula, SURROUNDINGS);
          expect(plain).not.toMatch(/GRIT/);
          sheet.getRangeByIndexes(row + r, column + c, 1, 1).formulas = [[plain]];
          translated++;
        }
      }
      await context.sync();
    });
    // A(8), four times until a value, two doses, dust and airflow.
    expect(translated).toBe(9);
    await expectAgrees(full("metric"));
  });
});
