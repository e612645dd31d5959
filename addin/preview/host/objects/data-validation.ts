/** DataValidation: what may be typed into a block of cells. The host keeps the rules; the grid does not enforce them. */
import { intersection, type Rect, sameRect, subtract } from "../a1";
import { accessDenied, invalidArgument, notImplemented } from "../errors";
import type { SheetData, ValidationData } from "../model";
import { HostObject } from "./object";
import { Range } from "./range";

const TYPES: Readonly<Record<string, string>> = {
  list: "List",
  wholeNumber: "WholeNumber",
  decimal: "Decimal",
  date: "Date",
  time: "Time",
  textLength: "TextLength",
  custom: "Custom",
};

const OPERATORS = [
  "Between",
  "NotBetween",
  "EqualTo",
  "NotEqualTo",
  "GreaterThan",
  "LessThan",
  "GreaterThanOrEqualTo",
  "LessThanOrEqualTo",
];

const LONGEST_LIST = 255;
const DEFAULT_ALERT = { message: "", showAlert: true, style: "Stop", title: "" };
const DEFAULT_PROMPT = { message: "", showPrompt: true, title: "" };
const STYLES = ["Stop", "Warning", "Information"];

export class DataValidation extends HostObject {
  readonly typeName = "DataValidation";

  constructor(private readonly range: Range) {
    super(range.model);
  }

  get type(): string {
    const entries = this._entries();
    if (entries.length === 0) return "None";
    const types = new Set(entries.map(({ settings }) => typeOf(settings.rule)));
    if (types.size > 1) return "MixedCriteria";
    return this._covered() ? [...types][0]! : "Inconsistent";
  }

  get rule(): unknown {
    return this._shared("rule", {});
  }

  set rule(rule: unknown) {
    this._set("rule", checkedRule(rule));
  }

  get errorAlert(): unknown {
    return this._shared("errorAlert", DEFAULT_ALERT);
  }

  set errorAlert(alert: unknown) {
    const given = messageOf(alert, ["message", "showAlert", "style", "title"]);
    const style = given.style ?? DEFAULT_ALERT.style;
    if (!STYLES.includes(String(style))) throw invalidArgument();
    this._set("errorAlert", { ...DEFAULT_ALERT, ...given });
  }

  get prompt(): unknown {
    return this._shared("prompt", DEFAULT_PROMPT);
  }

  set prompt(prompt: unknown) {
    this._set("prompt", { ...DEFAULT_PROMPT, ...messageOf(prompt, ["message", "showPrompt", "title"]) });
  }

  clear() {
    this._guard();
    const data = this._data();
    data.validations = without(data.validations, this.range._rect());
  }

  private _data(): SheetData {
    return this.model.sheet(this.range._sheetId());
  }

  private _entries(): ValidationData[] {
    return this._data().validations.filter(({ rect }) => intersection(rect, this.range._rect()));
  }

  private _covered(): boolean {
    const covered = this._entries().map(({ rect }) => intersection(rect, this.range._rect())!);
    const cells = covered.reduce((sum, { rows, columns }) => sum + rows * columns, 0);
    return cells === this.range.rowCount * this.range.columnCount;
  }

  /** What all cells of the block share; null when they differ. */
  private _shared(name: string, initial: unknown): unknown {
    const entries = this._entries();
    if (entries.length === 0) return initial;
    const values = new Set(entries.map(({ settings }) => JSON.stringify(settings[name] ?? initial)));
    if (values.size > 1 || !this._covered()) return null;
    return JSON.parse([...values][0]!);
  }

  private _set(name: string, value: unknown) {
    this._guard();
    const data = this._data();
    const rect = this.range._rect();
    const known = data.validations.find((entry) => sameRect(entry.rect, rect));
    if (known) {
      known.settings[name] = value;
      return;
    }
    const inherited = name === "rule" ? {} : { ...this._entries()[0]?.settings };
    data.validations = [...without(data.validations, rect), { rect, settings: { ...inherited, [name]: value } }];
  }

  private _guard() {
    if (this._data().protection) throw accessDenied();
  }
}

function typeOf(rule: unknown): string {
  const [key] = Object.keys((rule ?? {}) as object);
  return key === undefined ? "None" : TYPES[key]!;
}

function messageOf(given: unknown, names: readonly string[]): Record<string, unknown> {
  if (typeof given !== "object" || given === null) throw invalidArgument();
  for (const name of Object.keys(given)) if (!names.includes(name)) throw invalidArgument();
  return given as Record<string, unknown>;
}

/** A rule as the host keeps it; throws where Excel would refuse it. */
function checkedRule(rule: unknown): unknown {
  if (typeof rule !== "object" || rule === null) throw invalidArgument();
  const kinds = Object.keys(rule);
  if (kinds.length !== 1 || !TYPES[kinds[0]!]) throw invalidArgument();
  const kind = kinds[0]!;
  const given = (rule as Record<string, Record<string, unknown>>)[kind]!;
  if (kind === "list")
    return { list: { inCellDropDown: given.inCellDropDown ?? true, source: listSource(given.source) } };
  if (kind === "custom") return { custom: { formula: operand(given.formula) } };
  if (kind === "date" || kind === "time") throw notImplemented(`a data validation of kind "${kind}"`);
  if (!OPERATORS.includes(String(given.operator))) throw invalidArgument();
  const two = given.operator === "Between" || given.operator === "NotBetween";
  const formula2 = two ? { formula2: operand(given.formula2) } : {};
  return { [kind]: { formula1: operand(given.formula1), ...formula2, operator: given.operator } };
}

function listSource(source: unknown): string {
  if (source instanceof Range) return `=${source.address}`;
  if (typeof source !== "string" || source === "") throw invalidArgument();
  if (!source.startsWith("=") && source.length > LONGEST_LIST) throw invalidArgument();
  return source;
}

function operand(value: unknown): unknown {
  if (value instanceof Range) return `=${value.address}`;
  if (typeof value === "number" || (typeof value === "string" && value !== "")) return value;
  throw invalidArgument();
}

/** The rules that are left when a block takes its own. */
function without(entries: readonly ValidationData[], hole: Rect): ValidationData[] {
  return entries.flatMap((entry) => subtract(entry.rect, hole).map((rect) => ({ ...entry, rect })));
}
