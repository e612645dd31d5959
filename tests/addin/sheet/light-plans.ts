/** Sheets that a bid takes for plans: the named cells and the stage table that it refers to, with figures as given. */
import { LIQUID_COLUMNS, type Liquid, TOOL_COLUMNS, type Tool } from "../../../functions/plan/shelf";
import { shelfRows } from "./agreement";
import { addTable } from "./workbook";

export interface LightPlan {
  readonly floor: string;
  readonly area: number;
  readonly hours: number;
  readonly waits: number;
  /** Of its stages, liquids in whole containers. */
  readonly stageCost: number;
  readonly crewCost: number;
  readonly uses: Readonly<Record<string, number>>;
  /** lb */
  readonly dust: number;
  readonly power: number;
  readonly units?: string;
  readonly sign?: string;
}

const HEADINGS = ["No.", "Work", "Tool", "Bond", "Grit", "Passes", "Hours", "Stage cost", "Crew cost", "Machine h"];
const MORE = ["Cut a pass µm", "Power there kW", "Done at work h", "Sets used", "Liquid gal"];
const SETUP = 1;

/** The first of its rows has all of the hours and costs. */
function stageRows({ uses, hours, waits, crewCost, stageCost, power }: LightPlan): unknown[][] {
  return Object.entries(uses).map(([name, used], i) => {
    const isTool = name.startsWith("Metal");
    const main = i === 0 ? [hours, stageCost, crewCost, hours] : [0, 0, 0, 0];
    const rest = ["", power || "", SETUP + hours + waits, isTool ? used : 0, isTool ? 0 : used];
    return [i + 1, isTool ? "grind" : "densify", name, "", "", 0, ...main, ...rest];
  });
}

/** All in one request; `before` is how many plans there are already, whose names are taken. */
export async function addLightPlans(plans: readonly LightPlan[], before = 0): Promise<void> {
  await Excel.run(async (context) => {
    plans.forEach((plan, i) => {
      const number = before + i === 0 ? "" : `_${before + i + 1}`;
      const { floor, area, hours, dust, units = "us", sign = "" } = plan;
      const sheet = context.workbook.worksheets.add(floor);
      const inputs: [string, unknown][] = [
        ["Floor_Units", units],
        ["Floor_Hardness", 5],
        ["Floor_Name", floor],
        ["Floor_Area", area],
        ["Floor_Finish", "polished"],
        ["Floor_LastGrit", 800],
        ["Floor_Depth", (dust * 304800) / 145 / area],
        ["Crew_Setup", SETUP],
      ];
      sheet.getRange(`D1:D${inputs.length}`).values = inputs.map(([, value]) => [value]);
      inputs.forEach(([name], row) => {
        sheet.names.add(name, sheet.getRange(`D${row + 1}`));
      });
      sheet.getRange("A9:D10").formulas = [
        ["Numbers up to date?", "", "", '="up to date"'],
        ["", "", "", hours],
      ];
      context.workbook.names.add(`Stages_Hours${number}`, sheet.getRange("D10"));
      const price = sheet.getRange("D11");
      price.numberFormat = [[sign ? `"${sign}"#,##0.00` : "#,##0.00"]];
      context.workbook.names.add(`Stages_Price${number}`, price);
      const rows = [[...HEADINGS, ...MORE], ...stageRows(plan)];
      const range = sheet.getRangeByIndexes(12, 0, rows.length, rows[0]!.length);
      range.values = rows;
      sheet.tables.add(range, true).name = `Light${number}`;
    });
    await context.sync();
  });
}

const METAL: Tool = {
  ...{ name: "Metal 30", bond: "metal", grit: 30, size: null, matrix: null, life: 4000, price: 500, passes: 1 },
  ...{ speedFactor: 1, onHand: 0.2, cut: null, wear: null, edgeLife: null, edgePrice: null, wetSpeed: null },
  ...{ wetLife: null, stripRate: null, scratch: null, segments: null, segmentArea: null },
};
const DENSIFIER: Liquid = {
  ...{ name: "Densifier", work: "densify", coverage: 200, coats: 1, waste: 0, container: 5, price: 200, rate: 2000 },
  ...{ wait: null, film: null, solids: null, fillRate: null, areaCost: null },
};
const GUARD: Liquid = { ...DENSIFIER, name: "Guard", work: "guard", container: 2, price: 90 };

/** One tool and two liquids. */
export async function addLightShelf(): Promise<void> {
  await addTable("Light_tools", "Shelf", "A1", shelfRows([METAL], TOOL_COLUMNS, "us"));
  await addTable("Light_liquids", "Shelf", "A5", shelfRows([DENSIFIER, GUARD], LIQUID_COLUMNS, "us"));
}
