/** Defined names and tables: what formulas refer to by name, and their own formulas. */
import { PLACE } from "../copy-texts";
import { fateOf, isKept } from "./calculating-sheet";
import { type Formulas, type Names, shownFormula, spillKey, type Table } from "./formulas";
import type { Log } from "./log";
import type { Workbook } from "./workbook";
import { attribute, attributes, elements, escaped, first, Splices, textIn, written } from "./xml";

/** Everything in the workbook that has a name. */
export function namesOf({ parts, part, sheets }: Workbook): Names {
  const defined = new Map<string, string[]>();
  const xml = parts.text(part);
  for (const name of elements(xml, ["definedName"])) {
    const key = (attribute(name, "name") ?? "").toLowerCase();
    defined.set(key, [...(defined.get(key) ?? []), textIn(xml, name)]);
  }
  const tables = new Map(
    tableParts({ parts, part, sheets }).map((table) => [
      table.name.toLowerCase(),
      tableIn(parts.text(table.part), table),
    ]),
  );
  return { defined, tables, spills: spillsOf({ parts, part, sheets }) };
}

interface TablePart {
  readonly name: string;
  readonly part: string;
  readonly sheet: string;
}

function tableParts({ parts, sheets }: Workbook): TablePart[] {
  return sheets
    .filter(({ hasCells }) => hasCells)
    .flatMap((sheet) =>
      parts
        .relationships(sheet.part)
        .filter(({ type, target }) => type.endsWith("/table") && parts.has(target))
        .map(({ target }) => {
          const table = first(parts.text(target), "table");
          return { name: (table && attribute(table, "displayName")) ?? "", part: target, sheet: sheet.name };
        }),
    );
}

function tableIn(xml: string, { sheet }: TablePart): Table {
  const table = first(xml, "table");
  const { ref = "", headerRowCount = "1", totalsRowCount = "0" } = table ? Object.fromEntries(attributes(table)) : {};
  const columns = [...elements(xml, ["tableColumn"])].map((column) => (attribute(column, "name") ?? "").toLowerCase());
  return { sheet, ref, columns, headings: Number(headerRowCount), totals: Number(totalsRowCount) };
}

/** Array formulas with calls of ours; looked for only where something refers to a spill. */
function spillsOf({ parts, part, sheets }: Workbook): Map<string, string> {
  const spills = new Map<string, string>();
  const withCells = sheets.filter(({ hasCells }) => hasCells);
  const texts = [part, ...withCells.map((sheet) => sheet.part)].map((name) => parts.text(name));
  if (!texts.some((text) => /ANCHORARRAY|[A-Z]\$?\d+#/i.test(text))) return spills;
  for (const { name, part } of withCells) {
    const xml = parts.text(part);
    for (const f of elements(xml, ["f"])) {
      const { t, ref } = Object.fromEntries(attributes(f));
      if (t !== "array" || ref === undefined || !/GRIT[._]/i.test(textIn(xml, f))) continue;
      spills.set(spillKey(name, ref.split(":")[0]!), ref);
    }
  }
  return spills;
}

/** A name has no value to fall back on: one that cannot be made plain is #N/A, and what uses it keeps its value. */
export function calculatingNames({ parts, part, sheets }: Workbook, formulas: Formulas, log: Log): void {
  const xml = parts.text(part);
  if (!formulas.concern(xml)) return;
  const names = [...elements(xml, ["definedName"])];
  const keyOf = (at: number) => attribute(names[at]!, "name")!.toLowerCase();
  // A name may be lost only because another is: until no more are.
  for (let before = -1; before < formulas.lost.size; ) {
    before = formulas.lost.size;
    for (const [at, name] of names.entries()) {
      if (isKept(fateOf(textIn(xml, name), "", formulas))) formulas.lost.add(keyOf(at));
    }
  }
  const splices = new Splices(xml);
  for (const [at, name] of names.entries()) {
    const formula = textIn(xml, name);
    const { name: shown = "", localSheetId } = Object.fromEntries(attributes(name));
    const fate = fateOf(formula, "", formulas);
    // What Excel writes of a function that it did not know.
    if (/^_xldudf_GRIT_/i.test(shown)) splices.remove(name);
    else if (isKept(fate)) {
      const sheet = localSheetId === undefined ? "" : (sheets[Number(localSheetId)]?.name ?? "");
      log.kept({ sheet, place: PLACE.name(shown), formula: shownFormula(formula), reason: fate.reason });
      splices.replace(name.innerStart, name.innerEnd, "#N/A");
    } else if (fate && !formulas.lost.has(keyOf(at))) {
      splices.replace(name.innerStart, name.innerEnd, escaped(fate.formula));
      log.translated(fate.functions);
    }
  }
  if (splices.any) parts.write(part, splices.result());
}

/** The formulas with which a table fills a new row or its totals; the cells that it has are the sheet's own. */
export function calculatingTables(workbook: Workbook, formulas: Formulas, log: Log): void {
  for (const { part, name, sheet } of tableParts(workbook)) {
    const xml = workbook.parts.text(part);
    if (!formulas.concern(xml)) continue;
    const splices = new Splices(xml);
    for (const column of elements(xml, ["tableColumn"])) {
      for (const f of elements(
        xml,
        ["calculatedColumnFormula", "totalsRowFormula"],
        column.innerStart,
        column.innerEnd,
      )) {
        const formula = textIn(xml, f);
        const fate = fateOf(formula, sheet, formulas);
        if (isKept(fate)) {
          const place = PLACE.column(attribute(column, "name") ?? "", name);
          log.kept({ sheet, place, formula: shownFormula(formula), reason: fate.reason });
          splices.remove(f);
          if (f.name === "totalsRowFormula") splices.attribute(column, "totalsRowFunction");
        } else if (fate) {
          const tag = f.prefix + f.name;
          const kind = written({ array: fate.isArray ? "1" : attribute(f, "array") });
          // Not counted: its cells are, one by one, and so does the check of the workbook.
          splices.replace(f.start, f.end, `<${tag}${kind}>${escaped(fate.formula)}</${tag}>`);
        }
      }
    }
    if (splices.any) workbook.parts.write(part, splices.result());
  }
}
