/** An empty table for past jobs on a sheet of its own, for who keeps no list yet. */
import { JOB_KEYS, jobField } from "../../functions/audit/fields";
import { type System, symbol } from "../../functions/units";
import { type Block, emptyBlock, type SheetSetup, tableSetup } from "./block";
import { inWorkbook } from "./in-workbook";
import { insertSheet } from "./insert";
import { freeSheetName, freeTogether, takenNames } from "./names";
import { allOrNothing, type Inserted } from "./undo";

const TOP = 4;

export function insertJobsTable(units: System): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const taken = await takenNames(context);
    const { jobs } = freeTogether({ jobs: "Jobs" }, taken.names);
    const sheet = freeSheetName("Jobs", taken.sheets);
    return allOrNothing(context, async (ledger) => {
      await insertSheet(ledger, sheet, jobsSheet(units, jobs), true);
      const inserted = await ledger.close();
      return { ...inserted, what: `An empty jobs table was written to the new sheet “${sheet}”` };
    });
  });
}

export function jobsSheet(units: System, table: string): { block: Block; setup: SheetSetup } {
  const block = emptyBlock();
  const put = block.cells.push.bind(block.cells);
  put({ row: 0, column: 0, content: "Past jobs", style: "title" });
  put({
    row: 1,
    column: 0,
    content: "One row a finished job, numbers as numbers. A job counts once it has its prices and costs.",
    style: "caution",
  });
  JOB_KEYS.forEach((key, column) => {
    const field = jobField(key);
    const unit = field.quantity ? symbol(field.quantity, units) : (field.unit ?? "");
    put({ row: TOP - 1, column, content: field.money && !unit ? "money" : unit, style: "unit" });
    put({ row: TOP, column, content: field.label, style: "tableHeader" });
    put({ row: TOP + 1, column, content: "", style: "tableInput", format: formatOf(key) });
    const { domain } = field;
    if (domain) {
      const { least, most, whole = false } = domain;
      const message = `${field.label} must be ${domain.words}.`;
      block.rules.push({ row: TOP + 1, column, rows: 1, rule: { least, most, whole }, message });
    }
  });
  block.tables.push({ name: table, row: TOP, column: 0, rows: 2, columns: JOB_KEYS.length });
  return {
    block,
    setup: tableSetup(
      TOP,
      JOB_KEYS.map(() => 76),
      1,
    ),
  };
}

function formatOf(key: (typeof JOB_KEYS)[number]) {
  const field = jobField(key);
  if (field.kind === "date") return "date";
  return field.money ? "moneyInput" : undefined;
}
