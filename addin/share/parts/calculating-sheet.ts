/** One sheet of the calculating copy: its cells and its rules. */
import { parseA1Range, translateFormulaToA1, translateFormulaToR1C1 } from "@borgar/fx";
import { cellAddress } from "../../common/a1";
import { type Effect, PLACE, type Worded, withEffects } from "../copy-texts";
import { Untranslatable, untranslatable } from "../refusals";
import type { Place } from "../spread";
import { type Formulas, type Plain, shownFormula } from "./formulas";
import type { Log } from "./log";
import { cellsOf, rowsOf } from "./sheet-cells";
import { attribute, attributes, type Element, elements, escaped, first, Splices, textIn, written } from "./xml";

/** Why a formula is a value, and whether formulas for each of its cells could do. */
interface Kept {
  readonly reason: Worded;
  readonly onlyCellByCell: boolean;
}

/** What becomes of one formula: its plain formula, or the reason why it is a value; nothing where it stays. */
type Fate = Plain | Kept | undefined;

/** What becomes of cells that share a formula: the first of them says it, and the others shift it. */
interface Group {
  readonly fate: NonNullable<Fate>;
  readonly relative: string;
}

export function fateOf(formula: string, sheet: string, formulas: Formulas, where?: "cell" | Place): Fate {
  try {
    const plain = formulas.plain(formula, sheet, where === "cell" ? undefined : where);
    if (where === undefined && plain?.isOwn) throw untranslatable("movingScale");
    return plain;
  } catch (error) {
    if (!(error instanceof Untranslatable)) throw error;
    return { reason: { ...error.reason, text: error.message }, onlyCellByCell: error.onlyCellByCell };
  }
}

export const isKept = (fate: Fate): fate is Kept => fate !== undefined && "reason" in fate;

/** `passed` hears up to where the text is done. */
export function calculatingSheet(
  xml: string,
  sheet: string,
  formulas: Formulas,
  log: Log,
  passed: (at: number) => void,
): string {
  if (!formulas.concern(xml)) return xml;
  const splices = new Splices(xml);
  const cells = new Cells(xml, sheet, formulas, log, splices);
  for (const row of rowsOf(xml)) {
    for (const cell of cellsOf(xml, row.element)) {
      cells.change({ element: cell.element, address: cellAddress(row.at, cell.at) });
    }
    passed(row.element.end);
  }
  changeRules(xml, sheet, formulas, log, splices);
  return splices.any ? splices.result() : xml;
}

interface Cell {
  readonly element: Element;
  readonly address: string;
}

class Cells {
  private readonly groups = new Map<string, Group | undefined>();
  /** Every cell by its address; made when a formula needs those that it fills. */
  private all: ReadonlyMap<string, Element> | undefined;

  constructor(
    private readonly xml: string,
    private readonly sheet: string,
    private readonly formulas: Formulas,
    private readonly log: Log,
    private readonly splices: Splices,
  ) {}

  change(cell: Cell): void {
    const f = first(this.xml, "f", cell.element);
    if (!f) return;
    const { t: kind = "normal", si } = Object.fromEntries(attributes(f));
    if (kind === "dataTable") return;
    const formula = textIn(this.xml, f);
    if (kind === "shared" && si !== undefined) this.changeShared(cell, f, si, formula);
    else this.meet(fateOf(formula, this.sheet, this.formulas, "cell"), cell, f, formula);
  }

  private meet(fate: Fate, cell: Cell, f: Element, formula: string): void {
    if (fate === undefined) return;
    if (isKept(fate) && fate.onlyCellByCell) this.putCellByCell(cell, f, formula, fate.reason);
    else if (isKept(fate)) this.keepValue(cell, f, formula, fate.reason);
    // A user's own formula that only referred to a spill of ours keeps its kind.
    else if (fate.functions.length === 0) this.splices.replace(f.innerStart, f.innerEnd, escaped(fate.formula));
    else this.putFormula(cell, f, fate, this.arrayArea(cell, f, fate, formula));
  }

  /** The cells of an array formula; nothing where an ordinary one gives the same. */
  private arrayArea(cell: Cell, f: Element, { isArray }: Plain, formula: string): string | undefined {
    const { t, ref = cell.address } = Object.fromEntries(attributes(f));
    if (t !== "array") return isArray ? cell.address : undefined;
    return ref.includes(":") || this.formulas.looksWide(formula) ? ref : undefined;
  }

  /** The first cell of a group has its formula, and the others shift it; so a plain one is shifted just as well. */
  private changeShared(cell: Cell, f: Element, si: string, formula: string): void {
    if (formula !== "") this.groups.set(si, this.groupOf(cell, formula));
    const group = this.groups.get(si);
    if (!group) return;
    if (!isKept(group.fate) && !group.fate.isArray && !group.fate.isOwn) {
      this.log.translated(group.fate.functions);
      if (formula !== "") this.splices.replace(f.innerStart, f.innerEnd, escaped(group.fate.formula));
      return;
    }
    const own = translateFormulaToA1(group.relative, cell.address);
    if (isKept(group.fate) && !group.fate.onlyCellByCell) this.keepValue(cell, f, own, group.fate.reason);
    // An array formula cannot be shared, nor one that holds in its cell only.
    else this.meet(fateOf(own, this.sheet, this.formulas, "cell"), cell, f, own);
  }

  private groupOf(cell: Cell, formula: string): Group | undefined {
    const fate = fateOf(formula, this.sheet, this.formulas, "cell");
    return fate && { fate, relative: translateFormulaToR1C1(formula, cell.address) };
  }

  private putFormula(cell: Cell, f: Element, plain: Plain, area: string | undefined): void {
    this.log.translated(plain.functions);
    const attributes = written(area === undefined ? {} : { t: "array", ref: area });
    const tag = `${f.prefix}f`;
    this.splices.replace(f.start, f.end, `<${tag}${attributes}>${escaped(plain.formula)}</${tag}>`);
    this.splices.attribute(cell.element, "cm");
  }

  /** A formula for each cell that the one fills; all of them or none. */
  private putCellByCell(cell: Cell, f: Element, formula: string, reason: Worded): void {
    const filled = this.filledBy(cell, f);
    const fates = filled.map(({ place }) => fateOf(formula, this.sheet, this.formulas, place));
    const lost = fates.find(isKept);
    const hasAll = filled.every(({ address }) => this.cells.has(address));
    if (lost) this.keepValue(cell, f, formula, lost.onlyCellByCell ? reason : lost.reason);
    else if (!hasAll) this.keepValue(cell, f, formula, reason, "cellMissing");
    else {
      this.log.translated((fates[0] as Plain).functions);
      for (const [i, { address }] of filled.entries()) this.putOne(cell, f, address, fates[i] as Plain);
    }
  }

  /** A formula of its own, in the cell that had the one for all or in another that it filled. */
  private putOne(cell: Cell, f: Element, address: string, { formula, isArray }: Plain): void {
    const kind = written(isArray ? { t: "array", ref: address } : {});
    const text = `<${f.prefix}f${kind}>${escaped(formula)}</${f.prefix}f>`;
    if (address === cell.address) {
      this.splices.replace(f.start, f.end, text);
      this.splices.attribute(cell.element, "cm");
    } else this.giveFormula(this.cells.get(address)!, text);
  }

  /** The cells that a formula fills, and their places among them. */
  private filledBy(cell: Cell, f: Element): { address: string; place: Place }[] {
    const { t, ref = cell.address } = Object.fromEntries(attributes(f));
    const area = parseA1Range(t === "array" ? ref : cell.address)!;
    const [top, left] = [area.top!, area.left!];
    const [height, width] = [area.bottom! - top + 1, area.right! - left + 1];
    return Array.from({ length: height * width }, (_, i) => {
      const [row, column] = [Math.floor(i / width), i % width];
      return {
        address: cellAddress(top + row, left + column),
        place: { row, column, from: { row: top, column: left } },
      };
    });
  }

  private get cells(): ReadonlyMap<string, Element> {
    this.all ??= new Map(
      [...rowsOf(this.xml)].flatMap((row) =>
        [...cellsOf(this.xml, row.element)].map(({ at, element }) => [cellAddress(row.at, at), element] as const),
      ),
    );
    return this.all;
  }

  /** Puts a formula into a cell that had only its value. */
  private giveFormula(cell: Element, formula: string): void {
    const { prefix, start, end, innerStart, innerEnd } = cell;
    const isEmpty = innerStart === end;
    if (isEmpty) {
      const tag = this.xml.slice(start, end).replace(/\s*\/>$/, ">");
      this.splices.replace(start, end, `${tag}${formula}</${prefix}c>`);
    } else if (["s", "inlineStr"].includes(attribute(cell, "t") ?? "")) {
      // A text that a formula gives is written otherwise; it is worked out on opening.
      this.splices.replace(innerStart, innerEnd, formula);
      this.splices.attribute(cell, "t");
    } else this.splices.replace(innerStart, innerStart, formula);
  }

  private keepValue(cell: Cell, f: Element, formula: string, reason: Worded, ...effects: Effect[]): void {
    const { t, ref = "" } = Object.fromEntries(attributes(f));
    const place = t === "array" && ref.includes(":") ? ref : cell.address;
    const kept =
      place === cell.address ? [cell.element] : this.filledBy(cell, f).map(({ address }) => this.cells.get(address));
    if (!first(this.xml, "v", cell.element)) effects.push("empty");
    this.log.kept({
      sheet: this.sheet,
      place,
      formula: shownFormula(formula),
      reason: withEffects(reason, ...effects),
    });
    this.splices.remove(f);
    this.splices.attribute(cell.element, "cm");
    for (const element of kept) if (element) this.standAlone(element);
  }

  /** A value without the formula that gave it: "str" is the text of a formula, and a text alone is written otherwise. */
  private standAlone(cell: Element): void {
    const kind = attribute(cell, "t");
    if (kind === "e") this.log.errors++;
    const v = first(this.xml, "v", cell);
    if (!v || kind !== "str") return;
    this.splices.attribute(cell, "t", ' t="inlineStr"');
    const { prefix } = v;
    const text = `<${prefix}t xml:space="preserve">${this.xml.slice(v.innerStart, v.innerEnd)}</${prefix}t>`;
    this.splices.replace(v.start, v.end, `<${prefix}is>${text}</${prefix}is>`);
  }
}

/** Where rules keep their formulas; "f" is the newer rules' own. */
const RULE_FORMULAS = ["formula", "formula1", "formula2", "f"];
const RULES = ["dataValidation", "cfRule"] as const;

/** A rule has no value to fall back on: one that cannot be made plain is left out. */
function changeRules(xml: string, sheet: string, formulas: Formulas, log: Log, splices: Splices): void {
  const behindCells = first(xml, "sheetData")?.end;
  for (const list of elements(xml, ["conditionalFormatting", "dataValidations"], behindCells)) {
    const rules = [...elements(xml, RULES, list.innerStart, list.innerEnd)];
    const lost: Element[] = [];
    for (const rule of rules) {
      const cells = attribute(rule, "sqref") ?? attribute(list, "sqref") ?? sqrefIn(xml, rule) ?? sqrefIn(xml, list);
      if (!changeRule(xml, rule, cells ?? "", sheet, formulas, log, splices)) lost.push(rule);
    }
    if (lost.length === 0) continue;
    if (lost.length === rules.length) splices.remove(list);
    else for (const rule of lost) splices.remove(rule);
    if (lost.length < rules.length) {
      splices.attribute(list, "count", ` count="${rules.length - lost.length}"`);
    }
  }
}

/** The newer rules say in an element where they hold. */
function sqrefIn(xml: string, inside: Element): string | undefined {
  const found = first(xml, "sqref", inside);
  return found && textIn(xml, found);
}

/** False where it has to go. */
function changeRule(
  xml: string,
  rule: Element,
  cells: string,
  sheet: string,
  formulas: Formulas,
  log: Log,
  splices: Splices,
): boolean {
  const changes: { at: Element; plain: Plain }[] = [];
  for (const outer of elements(xml, RULE_FORMULAS, rule.innerStart, rule.innerEnd)) {
    const at = first(xml, "f", outer) ?? outer;
    const formula = textIn(xml, at);
    const fate = fateOf(formula, sheet, formulas);
    if (isKept(fate)) {
      const place = PLACE[rule.name as (typeof RULES)[number]](cells);
      log.kept({ sheet, place, formula: shownFormula(formula), reason: withEffects(fate.reason, "ruleGone") });
      return false;
    }
    if (fate) changes.push({ at, plain: fate });
  }
  for (const { at, plain } of changes) {
    splices.replace(at.innerStart, at.innerEnd, escaped(plain.formula));
    log.translated(plain.functions);
  }
  return true;
}
