/** What may be typed into cells and how they look by what they hold, in the file. */
import type { ConditionalFormattingRule, DataValidation, Style, Worksheet } from "exceljs";
import { columnLetters } from "../../common/a1";
import { formatAddress, isWholeColumns, isWholeRows, type Rect } from "./a1";
import { notImplemented } from "./errors";
import type { ConditionalFormatData, SheetData, ValidationData } from "./model";
import type { Settings } from "./objects/record";
import { storedFormula } from "./xlsx-formula";
import { argb, solidFill } from "./xlsx-style";

type Rule = Readonly<Record<string, unknown>>;

/** By Office.js's words. Excel's own take no "To". */
const OPERATORS: Readonly<Record<string, string>> = {
  Between: "between",
  NotBetween: "notBetween",
  EqualTo: "equal",
  NotEqualTo: "notEqual",
  GreaterThan: "greaterThan",
  LessThan: "lessThan",
  GreaterThanOrEqualTo: "greaterThanOrEqual",
  GreaterThanOrEqual: "greaterThanOrEqual",
  LessThanOrEqualTo: "lessThanOrEqual",
  LessThanOrEqual: "lessThanOrEqual",
};
const VALIDATIONS: Readonly<Record<string, string>> = { wholeNumber: "whole" };

export function writeRules(data: SheetData, sheet: Worksheet, namespace: string) {
  const stored = (formula: unknown) => operand(formula, namespace);
  const { dataValidations } = sheet as unknown as {
    dataValidations: { add(address: string, rule: DataValidation): void };
  };
  for (const validation of data.validations) {
    dataValidations.add(cellsAddress(validation.rect), fileValidation(validation, stored));
  }
  data.conditionalFormats.forEach((format, priority) => {
    const rule = { ...fileFormat(format, stored), priority: priority + 1 } as ConditionalFormattingRule;
    sheet.addConditionalFormatting({ ref: format.rects.map(cellsAddress).join(" "), rules: [rule] });
  });
}

/** Always by its corners, whole columns too. */
function cellsAddress(rect: Rect): string {
  if (!isWholeColumns(rect) && !isWholeRows(rect)) return formatAddress(rect);
  const { row, column, rows, columns } = rect;
  return `${columnLetters(column)}${row + 1}:${columnLetters(column + columns - 1)}${row + rows}`;
}

/** A number, a formula or a text as a formula says it. */
function operand(value: unknown, namespace: string): string {
  const text = String(value);
  if (text.startsWith("=")) return storedFormula(text, { namespace, table: undefined });
  const isNumber = typeof value === "number" || (text.trim() !== "" && !Number.isNaN(Number(text)));
  return isNumber ? text : quoted(text);
}

const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;

function fileValidation({ settings }: ValidationData, stored: (formula: unknown) => string): DataValidation {
  const { rule = {}, errorAlert = {}, prompt = {} } = settings as Record<string, Rule>;
  const [kind] = Object.keys(rule);
  const given = (kind === undefined ? {} : rule[kind]) as Rule;
  const operands = kind === "list" ? [given.source] : [given.formula ?? given.formula1, given.formula2];
  const { message = "", title = "", style = "Stop", showAlert = true } = errorAlert as Rule;
  return {
    type: (kind === undefined ? "any" : (VALIDATIONS[kind] ?? kind)) as DataValidation["type"],
    operator: OPERATORS[String(given.operator)] as DataValidation["operator"],
    formulae: operands.filter((one) => one !== undefined).map(stored),
    allowBlank: true,
    showErrorMessage: Boolean(showAlert),
    errorStyle: String(style).toLowerCase(),
    errorTitle: String(title),
    error: String(message),
    showInputMessage: Boolean(prompt.showPrompt ?? true),
    promptTitle: String(prompt.title ?? ""),
    prompt: String(prompt.message ?? ""),
  };
}

function fileFormat({ type, rects, settings }: ConditionalFormatData, stored: (formula: unknown) => string): object {
  const own = settings as Record<string, Record<string, Rule> | undefined>;
  const first = formatAddress({ ...rects[0]!, rows: 1, columns: 1 });
  switch (type) {
    case "CellValue": {
      const { formula1, formula2, operator } = own.cellValue?.rule ?? {};
      const formulae = [formula1, formula2].filter((one) => one !== undefined && one !== null).map(stored);
      return { type: "cellIs", operator: OPERATORS[String(operator)], formulae, style: styleOf(own.cellValue) };
    }
    case "Custom":
      return { type: "expression", formulae: [stored(own.custom?.rule?.formula)], style: styleOf(own.custom) };
    case "ContainsText": {
      const { operator, text } = own.textComparison?.rule ?? {};
      const formula = textFormula(String(operator), quoted(String(text)), first);
      return { type: "expression", formulae: [formula], style: styleOf(own.textComparison) };
    }
    case "TopBottom": {
      const { rank, type: which } = own.topBottom?.rule ?? {};
      const percent = String(which).endsWith("Percent");
      return {
        type: "top10",
        rank,
        percent,
        bottom: String(which).startsWith("Bottom"),
        style: styleOf(own.topBottom),
      };
    }
    case "PresetCriteria": {
      const formula = PRESETS[String(own.preset?.rule?.criterion)]?.(first);
      if (!formula) throw notImplemented(`the conditional format "${own.preset?.rule?.criterion}" in a file`);
      return { type: "expression", formulae: [formula], style: styleOf(own.preset) };
    }
    case "ColorScale": {
      const { minimum, midpoint, maximum } = (own.colorScale?.criteria ?? {}) as Record<string, Rule | undefined>;
      const points = [minimum, midpoint, maximum].filter((point) => point !== undefined && point !== null);
      return {
        type: "colorScale",
        cfvo: points.map((point) => ({ type: SCALE_POINTS[String(point.type)], value: point.formula ?? undefined })),
        color: points.map((point) => argb(String(point.color ?? "#FFFFFF"))),
      };
    }
    default:
      throw notImplemented(`conditional formats of type "${type}" in a file`);
  }
}

const SCALE_POINTS: Readonly<Record<string, string>> = {
  LowestValue: "min",
  HighestValue: "max",
  Number: "num",
  Percent: "percent",
  Percentile: "percentile",
  Formula: "formula",
};

const PRESETS: Readonly<Record<string, (cell: string) => string>> = {
  Blanks: (cell) => `LEN(TRIM(${cell}))=0`,
  NonBlanks: (cell) => `LEN(TRIM(${cell}))>0`,
  Errors: (cell) => `ISERROR(${cell})`,
  NonErrors: (cell) => `NOT(ISERROR(${cell}))`,
};

function textFormula(operator: string, text: string, cell: string): string {
  switch (operator) {
    case "NotContains":
      return `ISERROR(SEARCH(${text},${cell}))`;
    case "BeginsWith":
      return `LEFT(${cell},LEN(${text}))=${text}`;
    case "EndsWith":
      return `RIGHT(${cell},LEN(${text}))=${text}`;
    default:
      return `NOT(ISERROR(SEARCH(${text},${cell})))`;
  }
}

function styleOf(part: Record<string, Rule> | undefined): Partial<Style> {
  const { font = {}, fill = {} } = (part?.format ?? {}) as Record<string, Settings>;
  const { bold, italic, strikethrough, color } = font;
  const style: Partial<Style> = {};
  const hasColor = typeof color === "string" && color !== "";
  if (bold || italic || strikethrough || hasColor) {
    style.font = {
      ...(bold ? { bold: true } : {}),
      ...(italic ? { italic: true } : {}),
      ...(strikethrough ? { strike: true } : {}),
      ...(hasColor ? { color: argb(color) } : {}),
    };
  }
  // Here it is the ground that the format shows, and not the pattern on it.
  if (typeof fill.color === "string" && fill.color !== "") {
    style.fill = { ...solidFill(fill.color), bgColor: argb(fill.color) } as Style["fill"];
  }
  return style;
}
