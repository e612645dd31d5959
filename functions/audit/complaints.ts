/** What is wrong with a cell of a job list, in words; and the number that a text was likely meant to be. */
import { isBlank, shown } from "../cell";
import type { JobField } from "./fields";

/** As the host hands over an error cell: "#N/A", "#DIV/0!", "#NAME?". */
const ERROR = /^#(?:N\/A|GETTING_DATA|[A-Z\d_/]+[!?])$/;

/** A number with a currency before or after it, or a unit after it. */
const DRESSED = /^(?:[A-Z]{3}|[A-Z]{0,3}\p{Sc})?\s*(\d(?:[\d.,'’\s]*\d)?)\s*(?:\p{Sc}|\p{L}{1,6}[²2]?\.?)?$/u;
const POINT_DECIMALS = /^(?:\d+|\d{1,3}(?:[,'’\s]\d{3})+)(?:\.(?!\d{3}$)\d+)?$/;
const COMMA_DECIMALS = /^(?:\d+|\d{1,3}(?:[.'’\s]\d{3})+),\d{1,2}$/;

/** 1200 for "$1,200"; nothing for "1.200", which is 1200 to one reader and 1.2 to another. */
function numberMeant(text: string): number | undefined {
  const digits = DRESSED.exec(text.trim())?.[1] ?? "";
  if (POINT_DECIMALS.test(digits)) return Number(digits.replace(/[^\d.]/g, ""));
  if (COMMA_DECIMALS.test(digits)) return Number(digits.replace(/[^\d,]/g, "").replace(",", "."));
  return undefined;
}

const allowed = ({ domain }: JobField) => domain?.words ?? "a name or a number";

export const isError = (cell: unknown) => typeof cell === "string" && cell.startsWith("#") && ERROR.test(cell);

function fits({ domain }: JobField, cell: unknown): boolean {
  if (domain) return typeof cell === "number" && cell >= domain.least && cell <= domain.most;
  return typeof cell === "number" || (typeof cell === "string" && !isError(cell));
}

/** As the spreadsheet's own TRIM, so that its formulas find the same words. */
export const trimmed = (text: string): string => text.replace(/ +/g, " ").replace(/^ | $/g, "");

/** Spaces count as nothing where a name belongs; in a column of numbers they are a text. */
export const isEmpty = ({ kind }: JobField, cell: unknown): boolean =>
  isBlank(cell) || (kind === "text" && typeof cell === "string" && trimmed(cell) === "");

export const missing = (field: JobField): string => `${field.label} is missing; it must be ${allowed(field)}`;

/** What is wrong with a cell that is not empty; undefined where nothing is. */
export function complaint(field: JobField, cell: unknown): string | undefined {
  if (fits(field, cell)) return undefined;
  const got = isError(cell) ? `the error ${cell}` : shown(cell);
  return `${field.label} must be ${allowed(field)}; got ${got}${advice(field, cell)}`;
}

/** In such a cell whatever is typed becomes a text again. */
const AS_TEXT = " (in a cell formatted as Text, choose General first)";

function advice(field: JobField, cell: unknown): string {
  if (typeof cell !== "string" || isError(cell)) return "";
  if (field.kind === "date") return ", type it again as a date";
  const meant = numberMeant(cell);
  return meant !== undefined && fits(field, meant) ? `, make it the number ${meant}${AS_TEXT}` : "";
}
