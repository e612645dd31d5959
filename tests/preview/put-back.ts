/**
 * The workbook of a page that serves several tests: how it was, and how it is made so again. Both run in the pane, through
 * the real client library, so each stands alone.
 */

/** What a test could have changed; cells by sheet, each sheet's used range with its formulas. */
export interface Found {
  readonly active: string;
  readonly sheets: readonly { name: string; visible: string; used: string; formulas: any[][]; formats: any[][] }[];
  readonly tables: readonly string[];
  readonly names: readonly string[];
  readonly settings: readonly string[];
  readonly charts: readonly string[];
}

export async function find(context: Excel.RequestContext): Promise<Found> {
  const { worksheets, tables, names, settings } = context.workbook;
  const active = worksheets.getActiveWorksheet().load("name");
  worksheets.load("items/name,items/visibility");
  tables.load("items/name");
  names.load("items/name,items/formula");
  settings.load("items/key,items/value");
  await context.sync();
  const used = worksheets.items.map((sheet) => sheet.getUsedRange(true).load("address,formulas,numberFormat"));
  const charts = worksheets.items.map((sheet) => sheet.charts.load("items/name"));
  await context.sync();
  return {
    active: active.name,
    sheets: worksheets.items.map(({ name, visibility }, i) => {
      const { address, formulas, numberFormat } = used[i]!;
      return { name, visible: visibility, used: address, formulas, formats: numberFormat };
    }),
    tables: tables.items.map(({ name }) => name),
    names: names.items.map(({ name, formula }) => `${name}: ${formula}`),
    settings: settings.items.map(({ key, value }) => `${key}: ${JSON.stringify(value)}`),
    charts: charts.flatMap(({ items }, i) => items.map(({ name }) => `${worksheets.items[i]!.name}: ${name}`)),
  };
}

/** Takes out what was added and writes back the cells that differ. What is still not as it was, `find` shows. */
export async function putBack(context: Excel.RequestContext, before: Found): Promise<void> {
  const { worksheets, names, settings } = context.workbook;
  worksheets.load("items/name");
  settings.load("items/key");
  await context.sync();
  worksheets.getItem(before.active).activate();
  for (const sheet of worksheets.items) if (!before.sheets.some(({ name }) => name === sheet.name)) sheet.delete();
  for (const { key } of settings.items) {
    if (!before.settings.some((known) => known.startsWith(`${key}: `))) settings.getItem(key).delete();
  }
  await context.sync();
  names.load("items/name");
  const place = "formulas,rowIndex,columnIndex,rowCount,columnCount";
  const kept = before.sheets.map(({ name, used, formulas }) => {
    const sheet = worksheets.getItem(name);
    const was = sheet.getRange(used.slice(used.lastIndexOf("!") + 1)).load(place);
    return { sheet, formulas, was, now: sheet.getUsedRange(true).load(place) };
  });
  await context.sync();
  for (const { name } of names.items) {
    if (!before.names.some((known) => known.startsWith(`${name}: `))) names.getItem(name).delete();
  }
  for (const { sheet, formulas, was, now } of kept) {
    formulas.forEach((row, i) => {
      row.forEach((formula, j) => {
        if (was.formulas[i]![j] !== formula) was.getCell(i, j).formulas = [[formula]];
      });
    });
    now.formulas.forEach((row, i) => {
      row.forEach((formula, j) => {
        const [r, c] = [now.rowIndex + i - was.rowIndex, now.columnIndex + j - was.columnIndex];
        const isKept = r >= 0 && c >= 0 && r < was.rowCount && c < was.columnCount;
        if (formula !== "" && !isKept) now.getCell(i, j).clear();
      });
    });
    sheet.getRange("A1").select();
  }
  worksheets.getItem(before.active).activate();
  await context.sync();
}
