/** The math behind the selected cell over the emulated workbook: what its formula refers to, wherever that is. */
import { beforeEach, describe, expect, it } from "vitest";
import { readMath } from "../../../addin/sheet";
import { FUNCTIONS } from "../../../functions/topics";
import { byId, CATALOGUE } from "../../catalogue";
import { addTable, openGritForEach, select, workbook, write } from "./workbook";

openGritForEach();
beforeEach(async () => {
  await Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.getActiveWorksheet().name = "Quote";
    worksheets.add("My shelf");
    await context.sync();
  });
});

const mathAt = async (address: string) => {
  await select(address);
  return readMath(CATALOGUE, FUNCTIONS);
};

/** Enters a formula; gives the math of the one call in it. */
async function shown(formula: string, address = "Quote!H5") {
  await write(address, [[formula]]);
  return (await mathAt(address)).calls[0]!;
}

describe("the math behind the selected cell", () => {
  // office-platform.md: what Excel may write before a call.
  it.each(["'C:\\Program Files\\FUNCRES.XLAM'!", "Grit.xla!", "_xlfn."])(
    "knows a call by what Excel may write before it: %s",
    async (prefix) => {
      const found = await shown(`=${prefix}GRIT.MARKUPFOR(0.2)`);
      expect([found.id, found.formula]).toEqual(["MARKUPFOR", "0.2/(1-0.2)"]);
    },
  );

  it("has the numbers of cells, on its own sheet and on another", async () => {
    await write("Quote!A1:B1", [[4200, 28]]);
    await write("My shelf!C3", [[15]]);
    const found = await shown("=GRIT.PASSTIME(A1,$B$1,'My shelf'!C3,,0.2,75%)");
    expect(found.formula).toBe("4200*1/(28/12*15*60*(1-0.2)*0.75)");
    // By hand: 28 / 12 × 15 × 60 × 0.8 × 0.75 = 1260 ft²/h; 4200 / 1260.
    expect(found.outcome).toEqual({ kind: "value", text: "3.33333333333333 h" });
    expect(found.args[2]).toEqual({ name: "speed", given: "'My shelf'!C3", value: "15 ft/min" });
  });

  it("has the cells of names, a sheet's own before the workbook's, and constants with a name", async () => {
    await write("Quote!A1:A2", [[100], [200]]);
    await Excel.run(async (context) => {
      const { names, worksheets } = context.workbook;
      const quote = worksheets.getItem("Quote");
      names.add("Area", quote.getRange("A1"));
      quote.names.add("Area", quote.getRange("A2"));
      worksheets.getItem("My shelf").names.add("Other", quote.getRange("A1"));
      names.add("Waste", "=10%");
      await context.sync();
    });
    expect((await shown("=GRIT.LIQUID(Area,400,,Waste)")).formula).toBe("200*1*(1+0.1)/400");
    expect((await shown("=GRIT.LIQUID('My shelf'!Other,400)")).formula).toBe("100*1*(1+0)/400");
  });

  it("has the cells of tables: a column, this row, a row looked up", async () => {
    await addTable("Tools", "My shelf", "A1", [
      ["Tool", "Life", "Price"],
      ["metal 30", 4000, 360],
      ["metal 60", 6000, 250],
    ]);
    await addTable("Stages", "Quote", "A1", [
      ["Tool", "Passes", "Cost"],
      ["metal 60", 2, ""],
      ["metal 30", 3, ""],
    ]);
    const cost =
      "=GRIT.TOOLCOST(1000,INDEX(Tools[Life],MATCH([@Tool],Tools[Tool],0)),INDEX(Tools[[Tool]:[Price]],MATCH(Stages[@Tool],Tools[Tool],0),3),[@Passes])";
    expect((await shown(cost, "Quote!C2")).formula).toBe("1000*2/6000*250");
    expect((await shown(cost, "Quote!C3")).formula).toBe("1000*3/4000*360");
    const lives = await shown("=SUM(GRIT.TOOLSUSED(1000,Tools[Life]))");
    expect(lives.formula).toBe("1000*1/4000");
  });

  it("of a spilled cell is that of its own row, and says where the formula is", async () => {
    await write("Quote!A1:A3", [[20], [24], [28]]);
    await write("Quote!B1", [["=GRIT.AREARATE(A1:A3,15)"]]);
    const { anchor, place, formula, shown: value, calls } = await mathAt("Quote!B3");
    expect({ anchor, formula }).toEqual({ anchor: "Quote!B1", formula: "=GRIT.AREARATE(A1:A3,15)" });
    expect(place).toEqual({ row: 2, column: 0 });
    expect(value).toBe("2100"); // by hand: 28 / 12 × 15 × 60
    expect(calls[0]!.formula).toBe("28/12*15*60*(1-0)*1");
    expect((await mathAt("Quote!B1")).anchor).toBeUndefined();
    expect((await shown("=GRIT.TOOLSUSED(MAX(B1#),4000)")).formula).toBe("2100*1/4000");
  });

  it("has the message of an error, as the function gives it", async () => {
    const found = await shown("=GRIT.AREARATE(20,30,20)");
    expect(found.outcome).toEqual({
      kind: "error",
      code: "#VALUE!",
      message: "overlap must be from 0 to below 1 (20% is 0.2); got 20",
    });
    await write("Quote!A1", [["=1/0"]]);
    expect((await shown("=GRIT.SIZE(A1)")).args[0]!.value).toBe("#DIV/0!");
  });

  it("says of each reference that is not there why it is not known", async () => {
    const why = async (reference: string) => (await shown(`=GRIT.SIZE(${reference})`)).args[0]!.value;
    expect(await why("Nothing")).toBe("not known here: there's no such name");
    expect(await why("[@Grit]")).toBe("not known here: the cell isn't in a table");
    expect(await why("Nowhere[Grit]")).toBe("not known here: there's no table Nowhere");
    expect(await why("Gone!A1")).toBe("not known here: there's no sheet Gone");
    expect(await why("A1#")).toBe("not known here: it doesn't refer to any cells");
    expect(await why("A:A")).toBe("not known here: it has more than 20,000 cells, too many to read here");
  });

  it("is empty where the cell has no call of ours, and says what it shows", async () => {
    await write("Quote!A1:A2", [["Floor"], ['="GRIT."&1']]);
    expect(await mathAt("Quote!A1")).toMatchObject({ address: "Quote!A1", formula: "", shown: "Floor", calls: [] });
    expect(await mathAt("Quote!A2")).toMatchObject({ formula: '="GRIT."&1', shown: "GRIT.1", calls: [] });
  });

  it("follows plain references to the cell that has the function, through names, sheets and spills", async () => {
    await write("Quote!A1:A2", [[20], [28]]);
    await write("My shelf!B1", [["=GRIT.AREARATE(Quote!A1:A2,15)"]]);
    await Excel.run(async (context) => {
      context.workbook.names.add("Rate", context.workbook.worksheets.getItem("My shelf").getRange("B2"));
      await context.sync();
    });
    await write("Quote!C1:C2", [["=C2"], ["=Rate"]]);
    const found = await mathAt("Quote!C1");
    expect(found).toMatchObject({ address: "Quote!C1", formula: "=C2", shown: "2100", refers: [] });
    expect(found.followed.map(({ formula }) => formula)).toEqual(["=Rate", "=GRIT.AREARATE(Quote!A1:A2,15)"]);
    expect(found.followed[1]).toMatchObject({ place: { row: 1, column: 0 }, shown: "2100" });
    // By hand: the second machine, 28 / 12 × 15 × 60.
    expect(found.calls[0]!.formula).toBe("28/12*15*60*(1-0)*1");
    expect(found.calls[0]!.outcome).toEqual({ kind: "value", text: "2100 ft²/h" });
  });

  it("of a formula without our functions is what it refers to, and where ours are", async () => {
    await write("Quote!A1:A3", [[20], ["=GRIT.AREARATE(A1,15)"], ["=GRIT.AREARATE(28,15)"]]);
    await write("Quote!B1", [["=SUM(A2:A3)*A1+B9"]]);
    await write("Quote!C1", [["=B1"]]);
    const found = await mathAt("Quote!C1");
    expect(found.calls).toEqual([]);
    expect(found.followed.map(({ address }) => address)).toEqual(["Quote!B1"]);
    // By hand: 20 / 12 × 15 × 60 and 28 / 12 × 15 × 60.
    expect(found.refers).toEqual([
      { given: "A2:A3", address: "Quote!A2:A3", holds: "2 × 1 cells: 1500, 2100", ours: "Quote!A2" },
      { given: "A1", address: "Quote!A1", holds: "20", ours: undefined },
      { given: "B9", address: "Quote!B9", holds: "blank", ours: undefined },
    ]);
  });

  it("ends where references go round in a circle, or on without end", async () => {
    await write("Quote!A1:A2", [["=A2"], ["=A1"]]);
    expect((await mathAt("Quote!A1")).followed.map(({ address }) => address)).toEqual(["Quote!A2"]);
    const chain = Array.from({ length: 14 }, (_, i) => [`=D${i + 2}`]);
    await write("Quote!D1:D15", [...chain, ["=GRIT.SIZE(30)"]]);
    expect(await mathAt("Quote!D1")).toMatchObject({ calls: [], refers: [{ given: "D12" }] });
    expect((await mathAt("Quote!D5")).calls.map(({ id }) => id)).toEqual(["SIZE"]);
  });

  it("takes a handful of requests, however much the formula refers to", async () => {
    const cells = Array.from({ length: 40 }, (_, i) => `A${i + 1}`).join("+");
    await write("Quote!H5", [[`=GRIT.TOOLSUSED(${cells},4000)`]]);
    await select("Quote!H5");
    let requests = 0;
    const { host } = workbook;
    const process = host.process.bind(host);
    host.process = (body) => {
      requests++;
      return process(body);
    };
    expect((await readMath(CATALOGUE, FUNCTIONS)).calls[0]!.args[0]!.given).toBe(cells);
    expect(requests).toBeLessThanOrEqual(5);
  });

  it("is the function's own arithmetic, whichever the function", async () => {
    await write("Quote!A1", [[30]]);
    const { summary, source } = await shown("=GRIT.SIZE(A1)");
    expect({ summary, source }).toEqual({ summary: byId("SIZE").summary, source: byId("SIZE").source });
  });
});
