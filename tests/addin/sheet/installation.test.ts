/** The check of an installation, over the headless host: everything holds, each check can fail, and nothing is left. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { noConditions } from "../../../addin/preview/host/conditions";
import type { BlankAs } from "../../../addin/preview/host/functions";
import { Refusal } from "../../../addin/sheet";
import type { Check } from "../../../addin/sheet/installation/check";
import { CHECKS } from "../../../addin/sheet/installation/checks";
import { countsOf, hostFacts, reportText } from "../../../addin/sheet/installation/report";
import { checkInstallation } from "../../../addin/sheet/installation/run";
import { FUNCTIONS } from "../../../functions/topics";
import { isPlain, outcomeOf } from "./faults-commands";
import { MUTANTS } from "./installation-mutants";
import { quietly } from "./job-lists";
import { failRequest, type GritWorkbook, openGrit, select, snapshot, write } from "./workbook";

vi.setConfig({ testTimeout: 240_000 });

const ROOT = join(import.meta.dirname, "../../..");
const pause = () => new Promise((done) => setTimeout(done, 1));

const check = (checks: readonly Check[] = CHECKS, library: Readonly<Record<string, unknown>> = FUNCTIONS) =>
  checkInstallation(checks, { library, pause }, quietly());

/** What can't be tried by a program, with why: by hand, from what each needs. */
const UNTRIED = {
  "open-damaged-workbook": /could open another window/,
  "view-only": /needs a workbook opened for viewing/,
  "chart-sheet-active": /needs a chart sheet/,
};
const triable = CHECKS.filter(({ id }) => !Object.keys(UNTRIED).includes(id));

let workbook: GritWorkbook;

/** A workbook of somebody's, with what could be disturbed. */
async function openMine(blankAs: BlankAs = null): Promise<void> {
  workbook = await openGrit(blankAs);
  await write("Sheet1!A1:C2", [
    ["mine", 30, "=GRIT.SIZE(B1)"],
    ["Gritledger check", 1, "=B2*2"],
  ]);
  await Excel.run(async (context) => {
    const { worksheets, names, settings } = context.workbook;
    worksheets.add("Hidden one").visibility = "Hidden";
    worksheets.add("Gritledger check").tables.add("A1:B3", true).name = "Gritledger_check";
    names.add("Mine", worksheets.getItem("Sheet1").getRange("A1"));
    settings.add("mine", 1);
    await context.sync();
  });
  await select("Sheet1!B2:C2");
}

beforeEach(() => openMine());
afterEach(async () => {
  vi.restoreAllMocks();
  await workbook.dispose();
});

/** All that a user could see changed, or find changed later. */
async function everything(): Promise<unknown> {
  const { model, engine } = workbook.host;
  const kept = { ...model.conditions };
  Object.assign(model.conditions, noConditions());
  const seen = await snapshot();
  Object.assign(model.conditions, kept);
  return {
    seen,
    settings: [...model.settings],
    structure: model.structure,
    active: engine.active,
    selection: engine.selection(engine.active),
    sheets: engine.sheetIds().map((id) => [engine.sheetName(id), engine.isHidden(id)]),
    functions: Object.values(FUNCTIONS),
  };
}

describe.each([null, "", 0] as const)("in a host where a blank cell is %j", (blankAs) => {
  it("everything holds, or can't be tried for a listed reason; the workbook is as it was", async () => {
    await workbook.dispose();
    await openMine(blankAs);
    const before = await everything();
    const installation = await check();
    const text = reportText(installation, hostFacts());
    console.log(text);
    expect(installation.tried.filter(({ outcome }) => outcome.kind === "differs")).toEqual([]);
    const untried = installation.tried.filter(({ outcome }) => outcome.kind === "untried");
    expect(untried.map((one) => one.check.id).sort()).toEqual(Object.keys(UNTRIED).sort());
    for (const { check: one, outcome } of untried) {
      expect("why" in outcome && outcome.why).toMatch(UNTRIED[one.id as keyof typeof UNTRIED]);
    }
    expect(countsOf(installation)).toEqual({ held: triable.length, differs: 0, untried: 3 });
    expect(text).toContain(`${triable.length} held, 0 differ, 3 can't be tried here`);
    expect(installation.left).toEqual([]);
    expect(await everything()).toEqual(before);
  });
});

describe("a check", () => {
  it("has an id of its own, and words that stand alone", () => {
    const ids = CHECKS.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { words } of CHECKS) expect(words).toMatch(/^[A-Z][^.]+$/);
  });

  it("can fail: each has a host in which it does", () => {
    expect(Object.keys(MUTANTS).sort()).toEqual(triable.map(({ id }) => id).sort());
  });

  it.each(triable)("differs where the host does otherwise: $id", async (one) => {
    const before = await everything();
    const library = (MUTANTS[one.id]!(workbook) ?? FUNCTIONS) as typeof FUNCTIONS;
    const installation = await check([one], library);
    const { tried, left } = installation;
    vi.restoreAllMocks();
    const [{ outcome }] = tried as [(typeof tried)[0]];
    expect(outcome.kind, JSON.stringify(outcome)).toBe("differs");
    const text = reportText(installation, hostFacts());
    expect(text).toMatch(/0 held, 1 differ, 0 can't be tried here[\s\S]*\nDiffers\n- .*: expected .*, got ./);
    expect(left).toEqual([]);
    expect(await everything()).toEqual(before);
  });

  it("of what functions are given can't be tried where the pane doesn't run them", async () => {
    const blank = CHECKS.filter(({ id }) => id === "blank-cell");
    const elsewhere = { ...FUNCTIONS };
    const { tried } = await check(blank, elsewhere);
    expect(tried[0]!.outcome).toEqual({ kind: "untried", why: "the pane can't listen in on the functions here" });
  });
});

describe("a request that fails", () => {
  it.each(triable)("at any point of $id leaves the workbook as it was", async (one) => {
    const before = await everything();
    for (const when of ["before", "after"] as const) {
      for (let n = 1; ; n++) {
        const { reached } = failRequest(workbook, n, when);
        const outcome = await outcomeOf(() => check([one]));
        vi.restoreAllMocks();
        if (outcome instanceof Error) expect(isPlain(outcome.message), outcome.message).toBe(true);
        expect(await everything(), `request ${n}, ${when}`).toEqual(before);
        if (!reached()) break;
      }
    }
  });

  it("for good ends the check, and says which sheet is left", async () => {
    const some = CHECKS.filter(({ id }) => ["spill", "delete-very-hidden", "settings"].includes(id));
    const process = workbook.host.process.bind(workbook.host);
    let said = 0;
    for (let n = 1; ; n++) {
      let count = 0;
      const gone = vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
        if (++count < n) return process(body);
        const error = { Code: "GeneralException", Message: "Gone.", Location: "", HttpStatusCode: 500, ActionIndex: 0 };
        return { Error: error, Results: [] } as any;
      });
      const outcome = await outcomeOf(() => check(some));
      gone.mockRestore();
      const isOver = count < n;
      const names = workbook.engine.sheetIds().map((id) => workbook.engine.sheetName(id));
      const ours = names.filter((name) => /^Gritledger check \d/.test(name));
      const words = outcome instanceof Error ? outcome.message : reportText(outcome as any, hostFacts());
      for (const name of ours) expect(words, `request ${n}`).toContain(`“${name}”`);
      if (ours.length > 0) said++;
      for (const name of ours) {
        const id = workbook.engine.sheetIdOf(name)!;
        workbook.engine.setHidden(id, false);
        workbook.engine.removeSheet(id);
      }
      if (isOver) break;
    }
    expect(said).toBeGreaterThan(2);
  });
});

describe("where nothing may be added, it says so plainly, and does nothing:", () => {
  const CASES: readonly [string, () => void, RegExp][] = [
    [
      "a workbook open for reading only",
      () => {
        workbook.host.model.readOnly = true;
      },
      /^This workbook is open for reading only\. Nothing was changed/,
    ],
    [
      "one that can only be looked at",
      () => {
        workbook.host.model.conditions.viewOnly = true;
      },
      /open for reading only\. Nothing was changed/,
    ],
    [
      "a locked structure",
      () => {
        workbook.host.model.structure = { password: undefined };
      },
      /structure is protected, so no sheet can be added\. Nothing was changed/,
    ],
    [
      "another workbook in front",
      () => {
        workbook.host.model.conditions.otherWorkbookInFront = true;
      },
      /^Another workbook is in front\. Nothing was changed; click a cell of this workbook/,
    ],
  ];

  it.each(CASES)("%s", async (_, begin, told) => {
    begin();
    const before = await everything();
    const refused = await outcomeOf(() => check());
    expect(refused).toBeInstanceOf(Refusal);
    expect((refused as Error).message).toMatch(told);
    expect(isPlain((refused as Error).message)).toBe(true);
    expect(await everything()).toEqual(before);
  });

  it("canceled in the middle", async () => {
    const before = await everything();
    const canceling = new AbortController();
    const progress = async (done: number) => (done === 3 ? canceling.abort() : undefined);
    const refused = await outcomeOf(() =>
      checkInstallation(CHECKS, { library: FUNCTIONS, pause }, { signal: canceling.signal, progress }),
    );
    expect((refused as Error).message).toBe("Canceled. The check's own sheets are gone again.");
    expect(await everything()).toEqual(before);
  });

  it("protected sheets of the user's are no hindrance", async () => {
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Sheet1").protection.protect();
      await context.sync();
    });
    const before = await everything();
    expect(countsOf(await check())).toEqual({ held: triable.length, differs: 0, untried: 3 });
    expect(await everything()).toEqual(before);
  });

  it("with a chart sheet in front it goes on without what would show another sheet", async () => {
    workbook.host.model.conditions.chartSheetActive = true;
    const before = await everything();
    const { tried } = await check();
    const untried = tried.filter(({ outcome }) => outcome.kind === "untried").map((one) => one.check.id);
    expect(untried.sort()).toEqual([...Object.keys(UNTRIED), "activate-hidden", "added-sheet"].sort());
    expect(await everything()).toEqual(before);
  });
});

describe("the report", () => {
  it("has nothing of the user's workbook in it", async () => {
    const text = reportText(await check(), hostFacts());
    for (const own of ["mine", "Mine", "Hidden one", "Sheet1"])
      expect(text.replaceAll('["mine"]', "")).not.toContain(own);
  });

  it("says host, platform, version and the newest sets of calls", async () => {
    const facts = hostFacts();
    const text = reportText({ tried: [], left: [], calculation: "Manual" }, facts);
    // The sets that the emulated host says it has.
    expect(facts.sets).toEqual(expect.arrayContaining(["ExcelApi 1.17", "SharedRuntime 1.2", "CompressedFile 1.1"]));
    expect(text).toContain(`${facts.host}, platform ${facts.platform}, version ${facts.version}`);
    expect(text).toContain("API sets: ExcelApi 1.17");
    expect(text).toContain("\nCalculation: Manual\n");
  });
});

describe("the guesses of the emulated host", () => {
  const files = readdirSync(join(ROOT, "addin"), { recursive: true, encoding: "utf8" }).filter((f) =>
    f.endsWith(".ts"),
  );
  const guesses = files.flatMap((file) => {
    const text = readFileSync(join(ROOT, "addin", file), "utf8");
    return [...text.matchAll(/\bguess(?:\(([\w-]+)\))?:/g)]
      .filter(([, id]) => id !== undefined || file.includes("/host/"))
      .map(([, id]) => ({ file, id }));
  });

  it("each name the check that tests it, and no check for a guess is without one", () => {
    const named = guesses.map(({ id }) => id);
    const guessing = CHECKS.filter(({ isGuess }) => isGuess).map(({ id }) => id);
    expect([...new Set(named)].sort()).toEqual(guessing.sort());
    expect(guesses.length).toBeGreaterThan(15);
  });
});
