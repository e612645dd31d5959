/** What a cell of a job list holds: nothing, an error, a value its field takes, or text that likely means a number. */
import { isBlank } from "../cell";
import { isWithin } from "../domain";
import type { JobField } from "./fields";

/** What a cell is checked by. */
type Checked = Pick<JobField, "kind" | "domain">;

/** As the host hands over an error cell: "#N/A", "#DIV/0!", "#NAME?". */
const ERROR = /^#(?:N\/A|GETTING_DATA|[A-Z\d_/]+[!?])$/;

/** A number with a currency before or after it, or a unit after it. */
const DRESSED = /^(?:[A-Z]{3}|[A-Z]{0,3}\p{Sc})?\s*(\d(?:[\d.,'’\s]*\d)?)\s*(?:\p{Sc}|\p{L}{1,6}[²2]?\.?)?$/u;
const POINT_DECIMALS = /^(?:\d+|\d{1,3}(?:[,'’\s]\d{3})+)(?:\.(?!\d{3}$)\d+)?$/;
const COMMA_DECIMALS = /^(?:\d+|\d{1,3}(?:[.'’\s]\d{3})+),\d{1,2}$/;

/** 1200 for "$1,200"; nothing for "1.200", which is 1200 to one reader and 1.2 to another. */
function readNumber(text: string): number | undefined {
  const digits = DRESSED.exec(text.trim())?.[1] ?? "";
  if (POINT_DECIMALS.test(digits)) return Number(digits.replace(/[^\d.]/g, ""));
  if (COMMA_DECIMALS.test(digits)) return Number(digits.replace(/[^\d,]/g, "").replace(",", "."));
  return undefined;
}

export const isError = (cell: unknown): cell is string =>
  typeof cell === "string" && cell.startsWith("#") && ERROR.test(cell);

/** Whether a cell that isn't empty holds what its field takes. */
export function fits({ domain }: Checked, cell: unknown): boolean {
  if (domain) return typeof cell === "number" && isWithin(cell, domain);
  return typeof cell === "number" || (typeof cell === "string" && !isError(cell));
}

/** As the spreadsheet's own TRIM, so that its formulas find the same words. */
export const trimmed = (text: string): string => text.replace(/ +/g, " ").replace(/^ | $/g, "");

/** Spaces count as nothing where a name belongs; in a column of numbers they are a text. */
export const isEmpty = ({ kind }: Checked, cell: unknown): boolean =>
  isBlank(cell) || (kind === "text" && typeof cell === "string" && trimmed(cell) === "");

/** The number that a text was likely meant to be, if its field takes it. */
export function numberMeant(field: Checked, cell: unknown): number | undefined {
  if (field.kind !== "number" || typeof cell !== "string" || isError(cell)) return undefined;
  const meant = readNumber(cell);
  return meant !== undefined && fits(field, meant) ? meant : undefined;
}
