/** The unit of a quantity, in one system of units or in both. */
import type { Symbols } from "../../../functions/describe";
import type { System } from "../../../functions/units";

/** Empty where it has none: a count, a word, a fraction. */
export function unitOf(unit: Symbols | undefined, system: System | undefined): string {
  if (unit === undefined) return "";
  if (system !== undefined) return unit[system];
  return unit.us === unit.metric ? unit.us : `${unit.us} or ${unit.metric}`;
}
