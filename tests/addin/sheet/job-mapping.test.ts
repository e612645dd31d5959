/** The choice of headings as the workbook may hold it when somebody else's hand was at it. */
import { expect, it } from "vitest";
import { type JobSource, Refusal, readMapping, rememberMapping } from "../../../addin/sheet";
import { openGritForEach } from "./workbook";

openGritForEach();

const SETTING = "Gritledger.jobs";
const SOURCE: JobSource = {
  place: { table: "Done" },
  name: "table Done on “Old jobs”",
  sheetName: "Old jobs",
  headings: ["Job"],
  rows: 1,
  top: 1,
  left: 0,
};
const GOOD = { version: 1, mapping: { job: "Job" }, place: { table: "Done" } };

const keep = (value: unknown) =>
  Excel.run(async (context) => {
    context.workbook.settings.add(SETTING, value as any);
    await context.sync();
  });
const kept = () =>
  Excel.run(async (context) => {
    const setting = context.workbook.settings.getItem(SETTING).load("value");
    await context.sync();
    return setting.value;
  });

it.each([
  ["a later version's choice", { ...GOOD, version: 2 }, "from version 2, and this add-in reads version 1"],
  ["an earlier version's choice", { ...GOOD, version: 0.5 }, "from version 0.5, and this add-in reads version 1"],
  ["a text", "Job=Job", "damaged"],
  ["a number", 1, "damaged"],
  ["a list", [GOOD], "damaged"],
  ["a choice without a version", { ...GOOD, version: undefined }, "damaged"],
  ["a version that is no number", { ...GOOD, version: "1" }, "damaged"],
  ["nothing but a version", { version: 1 }, "damaged"],
  ["a field that does not exist", { ...GOOD, mapping: { color: "Job" } }, "damaged"],
  [
    "a field by the name of the prototype",
    JSON.parse('{"version":1,"mapping":{"constructor":"x"},"place":{"table":"A"}}'),
    "damaged",
  ],
  ["a heading that is no text", { ...GOOD, mapping: { job: 7 } }, "damaged"],
  ["a place that is neither a table nor a cell", { ...GOOD, place: { sheet: "Old jobs" } }, "damaged"],
])("%s is refused and is left as it is", async (_, value: unknown, why) => {
  await keep(value);
  for (const refused of [readMapping(), rememberMapping(SOURCE, { job: "Job" })]) {
    const error = await refused.catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(Refusal);
    expect((error as Refusal).message).toBe(
      `Can't use the headings saved in this workbook: they're ${why}. They were left as they are.`,
    );
  }
  expect(await kept()).toEqual(JSON.parse(JSON.stringify(value)));
});

it("a new choice takes the place of the one before", async () => {
  await rememberMapping(SOURCE, { job: "Job", area: "Size" });
  await rememberMapping({ ...SOURCE, place: { sheet: "Bob's", cell: "B3" } }, { job: "No." });
  expect(await readMapping()).toMatchObject({ mapping: { job: "No." }, place: { sheet: "Bob's", cell: "B3" } });
  expect(Object.keys((await readMapping())!.mapping)).toEqual(["job"]);
});
