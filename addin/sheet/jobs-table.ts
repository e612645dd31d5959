/** An empty table for past jobs on a sheet of its own, for those who keep no list yet. */
import { JOB_KEYS, jobField } from "../../functions/audit/fields";
import { type System, symbol } from "../../functions/units";
import { type Block, emptyBlock, type SheetSetup, tableSetup } from "./block";
import { inWorkbook } from "./in-workbook";
import { insertSheet } from "./insert";
import { JOBS_TABLE, tableWritten } from "./job-texts";
import { allOrNothing, type Inserted } from "./ledger";
import { freeSheetName, freeTogether } from "./names";
import { lookAround } from "./surroundings";

const TOP = 4;
export const FIRST_JOB_ROW = TOP + 1;

export function insertJobsTable(units: System): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const { names, sheets } = await lookAround(context);
    const { jobs } = freeTogether({ jobs: "Jobs" }, names);
    const sheet = freeSheetName("Jobs", sheets);
    return allOrNothing(context, async (ledger) => {
      await insertSheet(ledger, sheet, jobsSheet(units, jobs), true);
      const inserted = await ledger.close();
      return { ...inserted, what: tableWritten(sheet) };
    });
  });
}

export function jobsSheet(units: System, table: string): { block: Block; setup: SheetSetup } {
  const block = emptyBlock();
  const put = block.cells.push.bind(block.cells);
  put({ row: 0, column: 0, content: JOBS_TABLE.title, style: "title" });
  put({
    row: 1,
    column: 0,
    content: JOBS_TABLE.note,
    style: "caution",
  });
  JOB_KEYS.forEach((key, column) => {
    const field = jobField(key);
    const unit = field.quantity ? symbol(field.quantity, units) : (field.unit ?? "");
    put({ row: TOP - 1, column, content: field.money && !unit ? JOBS_TABLE.money : unit, style: "unit" });
    put({ row: TOP, column, content: field.label, style: "tableHeader" });
    put({ row: FIRST_JOB_ROW, column, content: "", style: "tableInput", format: formatOf(key) });
    const { domain } = field;
    if (domain) {
      const { least, most, whole = false } = domain;
      const message = JOBS_TABLE.mustBe(field.label, domain.words);
      block.rules.push({ row: FIRST_JOB_ROW, column, rows: 1, rule: { least, most, whole }, message });
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
