/** Defined names, of the workbook and of single sheets. */
import { formatAddress, looksLikeReference, parseAddress, quoteSheet, splitSheet } from "../a1";
import { isCellError } from "../entry";
import { invalidArgument, itemAlreadyExists, notImplemented } from "../errors";
import { isBalanced } from "../formula";
import type { Model } from "../model";
import type { NameModel } from "../names";
import { HostCollection, HostObject, NULL_OBJECT, type OrNull, present } from "./object";
import { Range } from "./range";
import { Worksheet } from "./worksheet";

const LONGEST_NAME = 255;

/** Letters, digits, "_", "." and "\"; nothing that reads as a cell. */
export function checkName(name: unknown): string {
  if (typeof name !== "string" || name.length > LONGEST_NAME) throw invalidArgument();
  if (!/^[\p{L}_\\][\p{L}\p{N}_.\\?]*$/u.test(name) || looksLikeReference(name)) throw invalidArgument();
  return name;
}

function formulaOf(model: Model, reference: unknown): string {
  if (reference instanceof Range) {
    const sheet = quoteSheet(model.engine.sheetName(reference._sheetId()));
    return `=${sheet}!${formatAddress(reference._rect(), true)}`;
  }
  if (typeof reference === "number" || typeof reference === "boolean") return `=${String(reference).toUpperCase()}`;
  if (typeof reference !== "string" || reference === "") throw invalidArgument();
  if (!reference.startsWith("=")) return `="${reference.replaceAll('"', '""')}"`;
  if (!isBalanced(reference)) throw invalidArgument();
  return reference;
}

export class NamedItemCollection extends HostCollection<NamedItem> {
  readonly typeName = "NamedItemCollection";

  constructor(
    model: Model,
    private readonly sheetId: string | undefined,
  ) {
    super(model);
  }

  _items(): NamedItem[] {
    const { names } = this.model.engine.book;
    return names.filter(({ sheetId }) => sheetId === this.sheetId).map((name) => new NamedItem(this.model, name));
  }

  add(name: unknown, reference: unknown, comment: unknown = ""): NamedItem {
    const { book } = this.model.engine;
    const checked = checkName(name);
    if (book.nameIn(checked, this.sheetId)) throw itemAlreadyExists();
    // guess(name-of-table): a table's name is taken for the workbook's names; a sheet's own may repeat it.
    if (this.sheetId === undefined && book.findTable(checked)) throw itemAlreadyExists();
    const text = typeof comment === "string" ? comment : "";
    return new NamedItem(this.model, book.addName(checked, formulaOf(this.model, reference), this.sheetId, text));
  }
}

export class NamedItem extends HostObject {
  readonly typeName = "NamedItem";

  constructor(
    model: Model,
    private readonly name_: NameModel,
  ) {
    super(model);
    this.key = name_.name;
  }

  get name(): string {
    return this.name_.name;
  }

  get formula(): string {
    return this.name_.formula;
  }

  set formula(formula: unknown) {
    if (typeof formula !== "string") throw invalidArgument();
    this.name_.formula = formulaOf(this.model, formula);
    this.model.engine.book.nameChanged(this.name_);
  }

  get comment(): string {
    return this.name_.comment;
  }

  set comment(comment: unknown) {
    if (typeof comment !== "string" || comment.length > LONGEST_NAME) throw invalidArgument();
    this.name_.comment = comment;
  }

  get visible(): boolean {
    return this.name_.visible;
  }

  set visible(visible: unknown) {
    if (typeof visible !== "boolean") throw invalidArgument();
    this.name_.visible = visible;
  }

  get scope(): string {
    return this.name_.sheetId === undefined ? "Workbook" : "Worksheet";
  }

  get type(): string {
    if (this._range() !== NULL_OBJECT) return "Range";
    const { value } = this;
    if (isCellError(value)) return "Error";
    return { number: "Double", string: "String", boolean: "Boolean" }[typeof value as "number" | "string" | "boolean"];
  }

  get value(): unknown {
    const text = this.name_.formula.replace(/^=/, "");
    if (this._range() !== NULL_OBJECT) return text;
    if (/^"(?:[^"]|"")*"$/.test(text)) return text.slice(1, -1).replaceAll('""', '"');
    if (/^(?:TRUE|FALSE)$/i.test(text)) return text.toUpperCase() === "TRUE";
    if (text.trim() !== "" && Number.isFinite(Number(text))) return Number(text);
    if (isCellError(text)) return text;
    throw notImplemented("NamedItem.value of a name that is a calculation");
  }

  get worksheet(): Worksheet {
    if (this.name_.sheetId === undefined) throw invalidArgument();
    return new Worksheet(this.model, this.name_.sheetId);
  }

  get worksheetOrNullObject(): OrNull<Worksheet> {
    return this.name_.sheetId === undefined ? NULL_OBJECT : new Worksheet(this.model, this.name_.sheetId);
  }

  getRangeOrNullObject(): OrNull<Range> {
    return this._range();
  }

  getRange(): Range {
    return present(this._range());
  }

  delete() {
    this.model.engine.book.removeName(this.name_);
  }

  private _range(): OrNull<Range> {
    const { sheet, address } = splitSheet(this.name_.formula.replace(/^=/, ""));
    const rect = parseAddress(address);
    const sheetId = sheet === undefined ? this.name_.sheetId : this.model.engine.sheetIdOf(sheet);
    return rect && sheetId ? new Range(this.model, sheetId, rect) : NULL_OBJECT;
  }
}
