/**
 * The fields of a stage plan: what each is called, its unit, what it may be and where it starts.
 * The pane's fields, their checks and the sheet's inputs block all come from this one list.
 */
import type { Field } from "./field";
import { EXPOSURE_FIELDS } from "./fields/exposure";
import { FLOOR_FIELDS } from "./fields/floor";
import { PLANNING_FIELDS } from "./fields/planning";
import { PRICE_FIELDS } from "./fields/price";
import { WORK_FIELDS } from "./fields/work";

export const FIELDS = {
  ...FLOOR_FIELDS,
  ...WORK_FIELDS,
  ...EXPOSURE_FIELDS,
  ...PRICE_FIELDS,
  ...PLANNING_FIELDS,
} as const satisfies Record<string, Field>;

export type Key = keyof typeof FIELDS;
export const KEYS = Object.keys(FIELDS) as Key[];
/** The field without its literal type, for code that treats all fields alike. */
export const field = (key: Key): Field => FIELDS[key];
