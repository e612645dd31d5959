/** The unit that a doc comment gives a quantity, in one system of units or in both. */
import type { System } from "../../../functions/units";

/** Phrases that are a unit, as the doc comments have them; a longer one before one that it begins with. */
const UNITS = [
  "mm³ of floor per kJ of load × sliding distance",
  "mm per 1000 ft²",
  "mm per 100 m²",
  "revolutions per minute",
  "money per unit of the quantity",
  "money per the same unit",
  "money per that unit",
  "money per hour",
  "money",
  "Money",
  "ft²/gal",
  "m²/L",
  "ft²/h",
  "m²/h",
  "ft/min",
  "m/min",
  "m/s²",
  "m/s",
  "µg/m³",
  "m³/h",
  "cfm",
  "dBA",
  "dB",
  "%",
  "ft/h",
  "m/h",
  "ft²",
  "m²",
  "in²",
  "mm²",
  "psi",
  "kPa",
  "lbf",
  "kgf",
  "gal",
  "mil",
  "mm",
  "µm",
  "ft",
  "in",
  "m",
  "L",
  "h",
  "s",
];

const PAIR = new RegExp(`^(${UNITS.join("|")})(?: \\| (${UNITS.join("|")}))?(?=$|\\.| \\(| as | of single pass)`, "u");

/** Empty where it has none: a count, a word, a fraction. */
export function unitOf(text: string, system: System | undefined): string {
  const parts = text.split(";")[0]!.split(/, /);
  const found = parts.map((part) => PAIR.exec(part.trim())).filter((match) => match !== null);
  const [, us, metric] = found.at(-1) ?? [];
  if (us === undefined) return "";
  if (metric === undefined) return us === "Money" ? "money" : us;
  if (system === undefined) return `${us} or ${metric}`;
  return system === "us" ? us : metric;
}

/** A share of one, of which people speak in percent. */
export const isFraction = (text: string) => /\bfraction\b/.test(text);
