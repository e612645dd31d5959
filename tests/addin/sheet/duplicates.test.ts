import { beforeEach, describe, expect, it, vi } from "vitest";
import { derive } from "../../../addin/pane/plan/derived";
import { insertPlan, readShelf, writeMeasured } from "../../../addin/sheet";
import { BUT } from "../../../addin/sheet/plan-texts";
import { startInputs } from "../../../functions/plan/inputs";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { openPane } from "../pane/open-pane";
import { floor, planFor, putShelf } from "./agreement";
import { named, openGritForEach, select, setInTable, snapshot, tableRows, write } from "./workbook";

// Two rows of one name: an owner had two machines called “Machine A, 20 in” and got the price of the dearer one, in silence.
vi.setConfig({ testTimeout: 60_000 });

openGritForEach();
beforeEach(async () => {
  const { tools, liquids } = starterShelf("us");
  await putShelf({ tools, liquids, machines: starterMachines("us") }, "us");
});

const inputs = floor({ ...startInputs("us"), jobName: "Duplicates", length: 80, width: 50 });
const [NARROW, WIDE] = starterMachines("us").map(({ name }) => name) as [string, string];
const planned = () => {
  const plan = planFor(inputs);
  const isTool = ({ work }: { work: string }) => work !== "densify" && work !== "guard";
  return { ...plan, stages: plan.stages.map((s) => (isTool(s) ? { ...s, machine: NARROW } : s)) };
};
/** Machines stand from C5 on, so their names in C6 and C7. */
const nameWide = (name: string) => setInTable("My_machines", 1, "Machine", name);
const PLACES = "in C6 and C7 of “Machines”. They are looked up by name: give each row a name of its own";

describe("two rows of the shelf with one name", () => {
  it.each([NARROW, NARROW.toUpperCase(), ` ${NARROW} `])(
    "are listed with their cells, and nothing is priced: %j",
    async (name) => {
      await nameWide(name);
      const { unfit, problems, shelf } = await readShelf("us");
      expect(unfit).toBe(`“${NARROW}” stands 2 times in the table My_machines, ${PLACES}`);
      expect(problems[0]).toBe(unfit);
      expect(shelf.machines).toEqual([]);
      const { store, commands } = openPane();
      await commands.readShelf();
      expect(derive(store.state.plan)).toMatchObject({
        estimate: null,
        comparison: null,
        trouble: { kind: "shelfUnfit", why: unfit },
      });
    },
  );

  it("are listed for tools and for liquids too", async () => {
    const { tools, liquids } = starterShelf("us");
    await setInTable("My_tools", 3, "Tool", tools[0]!.name);
    await setInTable("My_liquids", 1, "Liquid", liquids[0]!.name);
    const { unfit } = await readShelf("us");
    expect(unfit).toContain(`“${tools[0]!.name}” stands 2 times in the table My_tools, in B3 and B6 of “Tools”`);
    expect(unfit).toContain(`“${liquids[0]!.name}” stands 2 times in the table My_liquids, in A2 and A3 of “Liquids”`);
  });

  it("count even where one of them cannot be used, which a lookup could still find", async () => {
    await nameWide(NARROW);
    await setInTable("My_machines", 0, "Cost per h", "?");
    expect((await readShelf("us")).unfit).toContain(PLACES);
  });

  it("are no trouble without a name", async () => {
    await write("Machines!C6:C7", [[""], [""]]);
    expect((await readShelf("us")).unfit).toBeUndefined();
  });

  it.each(["new sheet", "selected cell"] as const)("keep a plan from being written at the %s", async (where) => {
    const plan = planned();
    await nameWide(NARROW);
    await select("Sheet1!B2");
    const before = await snapshot();
    await expect(insertPlan(plan, where)).rejects.toThrow(PLACES);
    await expect(writeMeasured(plan.shelf.tools[0]!.name, { cut: 100 }, "us")).rejects.toThrow(PLACES);
    expect(await snapshot()).toEqual(before);
  });
});

describe("a plan, once two rows have one name", () => {
  beforeEach(async () => {
    await select("Sheet1!B2");
    await insertPlan(planned(), "new sheet");
    expect(await named("Stages_Price")).toBeGreaterThan(0);
  });

  const answer = async () => {
    const sheet = "Stage plan";
    const used = await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem(sheet).getUsedRange().load("values");
      await context.sync();
      return range.values.flat();
    });
    return used.find((value) => String(value).startsWith(BUT));
  };

  async function expectShown(index: number, words: string) {
    const row = (await tableRows("Stages"))[index]!;
    expect(row.Check).toBe(words);
    expect(row["Stage cost"]).toMatch(/^#/);
    expect(row.Hours).toMatch(/^#/);
    expect(await named("Stages_Price")).toMatch(/^#/);
    expect(await answer()).toMatch(/row \d+ of the stages /);
  }

  it("shows no price and says which row looks up two machines", async () => {
    await nameWide(NARROW);
    await expectShown(0, "duplicate machine name");
    await nameWide(WIDE);
    expect(await named("Stages_Price")).toBeGreaterThan(0);
  });

  it("shows no price and says which row looks up two tools or liquids", async () => {
    const { stages, shelf } = planned();
    const other = shelf.tools.findIndex(({ name }) => stages.every(({ tool }) => tool !== name));
    await setInTable("My_tools", other, "Tool", stages[0]!.tool);
    await expectShown(0, "duplicate name on the shelf");
    await setInTable("My_tools", other, "Tool", shelf.tools[other]!.name);
    expect(await named("Stages_Price")).toBeGreaterThan(0);
    const at = stages.findIndex(({ work }) => work === "densify");
    await setInTable("My_liquids", 1, "Liquid", stages[at]!.tool);
    await expectShown(at, "duplicate name on the shelf");
  });
});
