/** An input that is a word of ours says beside it what it stands for, and goes on doing so when the word changes. */
import { expect, it, vi } from "vitest";
import { insertPlan } from "../../../addin/sheet";
import { inputGroups } from "../../../addin/sheet/inputs-block";
import type { ChoiceField } from "../../../functions/plan/field";
import { FIELDS, field, KEYS } from "../../../functions/plan/fields";
import { floor, planFor } from "./agreement";
import { named, openGritForEach, setNamed, valuesOf } from "./workbook";

vi.setConfig({ testTimeout: 60_000 });

openGritForEach();

/** The note of an input, by its label. */
async function noteOf(label: string): Promise<string> {
  const rows = await valuesOf("Stage plan!A1:Z160");
  return String(rows.findLast((cells) => cells[0] === label)?.[5]);
}

it("says what every word stands for", async () => {
  const plan = planFor(floor());
  await insertPlan(plan, "new sheet");
  const rows = new Set(inputGroups(plan).flatMap(({ keys }) => keys));
  const choices = KEYS.filter((key) => field(key).kind === "choice" && rows.has(key));
  expect(choices.length).toBeGreaterThanOrEqual(8);
  for (const key of choices) {
    const f = field(key) as ChoiceField;
    const [, label] = f.choices.find(([word]) => word === plan.inputs[key])!;
    expect(await noteOf(f.label)).toBe(`${label}. ${f.sheetNote ?? f.note}`);
  }
});

it("follows the word, which formulas and older sheets read as before", async () => {
  await insertPlan(planFor(floor()), "new sheet");
  const before = await named("Stages_Hours");
  await setNamed("Floor_Passes", "Stage plan", "shelf");
  expect(await noteOf(FIELDS.passesFrom.label)).toMatch(/^as listed on the shelf\. /);
  await setNamed("Crew_EdgeWork", "Stage plan", "after");
  expect(await noteOf(FIELDS.edgeWork.label)).toMatch(/^after the machine\. /);
  expect(await named("Stages_Hours")).not.toBe(before);
});

it("says only what the input is for where the word is none", async () => {
  await insertPlan(planFor(floor()), "new sheet");
  await setNamed("Floor_Exposure", "Stage plan", "Z");
  expect(await noteOf(FIELDS.exposure.label)).toBe(FIELDS.exposure.note);
});
