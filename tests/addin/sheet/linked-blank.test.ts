/** Inputs taken from the user's own cells, when such a cell is emptied after the plan was inserted. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { insertPlan } from "../../../addin/sheet";
import { CHECK_WORDS, FIX } from "../../../addin/sheet/plan-texts";
import { estimate } from "../../../functions/plan/estimate";
import { field, type Key } from "../../../functions/plan/fields";
import type { Inputs } from "../../../functions/plan/inputs";
import { close, floor, planFor } from "./agreement";
import { type GritWorkbook, named, openGrit, valuesOf, write } from "./workbook";

// Expected: the pane refuses to price a plan that lacks one of these, so the sheet may not either.

const measured: Partial<Inputs> = { cutCoefficient: 40, stripSize: 250, slideSpeed: 1000 };
const inputs = floor({ area: 4000, passesFrom: "scratch", ...measured });

/** Of these some have defaults in our functions, and some stand in bare products and sums, where a blank would count 0. */
const PRICED: readonly Key[] = [
  "area",
  "overlap",
  "efficiency",
  "machineCost",
  "burden",
  "changeHours",
  "overhead",
  "hoursADay",
];
const UNPRICED: readonly Key[] = ["hardness", "maxRatio"];
const LINKED: readonly Key[] = [...PRICED, ...UNPRICED, "cutCoefficient"];
const cellOf = (key: Key) => `Mine!A${LINKED.indexOf(key) + 1}`;
const plan = planFor(inputs, Object.fromEntries(LINKED.map((key) => [key, cellOf(key)])));

let workbook: GritWorkbook;
beforeAll(async () => {
  workbook = await openGrit();
  await Excel.run(async (context) => {
    context.workbook.worksheets.add("Mine");
    await context.sync();
  });
  for (const key of LINKED) await write(cellOf(key), [[inputs[key]]]);
  await insertPlan(plan, "new sheet");
}, 60_000);
afterAll(() => workbook.dispose());

const ANSWERS: readonly unknown[] = Object.values(CHECK_WORDS);
/** The price, and what the check cell says of it. */
const priced = async (): Promise<[price: unknown, answer: unknown]> => {
  const cells = (await valuesOf("Stage plan!A1:Z120")).flat();
  return [await named("Stages_Price"), cells.find((value) => ANSWERS.includes(value) || String(value).startsWith(FIX))];
};

/** The answer names the input and its cell. */
const namesInput = (key: Key) => expect.stringMatching(`^${FIX}${field(key).label}, [A-Z]+\\d+, must be `);

async function pricedWithout(key: Key) {
  await write(cellOf(key), [[""]]);
  const found = await priced();
  await write(cellOf(key), [[inputs[key]]]);
  return found;
}

describe("an input taken from a cell that has been emptied", () => {
  it("is as typed in while the cell is filled", async () => {
    const [price, answer] = await priced();
    close(price, estimate(inputs, plan.shelf, plan.stages).price);
    expect(answer).toBe(CHECK_WORDS.upToDate);
  });

  it.each(PRICED)("makes the price an error, and the check cell says so: %s", async (key) => {
    expect(await pricedWithout(key)).toEqual(["#N/A", namesInput(key)]);
  });

  it.each(UNPRICED)("is told by the check cell where no price depends on it: %s", async (key) => {
    const [price, answer] = await pricedWithout(key);
    expect(price).toBeTypeOf("number");
    expect(answer).toEqual(namesInput(key));
  });

  it("is as if not given where the plan can do without it: the shelf's cut a pass is taken", async () => {
    const [price, answer] = await pricedWithout("cutCoefficient");
    close(price, estimate({ ...inputs, cutCoefficient: null }, plan.shelf, plan.stages).price);
    expect(price).not.toBe(await named("Stages_Price"));
    expect(answer).toBe(CHECK_WORDS.upToDate);
  });
});
