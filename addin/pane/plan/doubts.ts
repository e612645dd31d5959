/** What is allowed in a field and yet most often a mistake, and what a blank field stands for. */
import type { Field, NumberField } from "../../../functions/plan/field";
import { FIELDS, field, KEYS, type Key } from "../../../functions/plan/fields";
import { applies, floorOf, type Inputs, minimumOf, unitOf } from "../../../functions/plan/inputs";
import { problemsOf } from "../../../functions/plan/problems";
import { usualDepth, usualLastGrit } from "../../../functions/plan/usual";
import { briefly, otherReading, typedAs, withUnit } from "../numbers";
import { type PlanState, readField, without } from "./state";
import { PLAN } from "./texts";

const isNumber = (f: Field): f is NumberField => f.kind === "number";

/** What a blank field stands for, worked out; empty where nothing can be said yet. */
export function blankValue({ inputs }: PlanState, key: Key): string {
  const f = field(key) as NumberField;
  const worked = (value: number) => (Number.isFinite(value) && value > 0 ? briefly(value, f) : "");
  if (key === "area") return worked(floorOf({ ...inputs, area: null }).area);
  if (key === "edgeLength") return worked(floorOf({ ...inputs, edgeLength: null }).edge);
  if (key === "machineArea") return worked(floorOf({ ...inputs, machineArea: null }).machineArea);
  if (key === "minimum") return blankMinimum(inputs);
  if (key === "depth") return worked(Math.round(usualDepth(inputs)));
  if (key !== "lastGrit" || inputs.finish === "by grit") return "";
  return inputs.finish === "coating" && problemsOf(inputs).film ? "" : worked(usualLastGrit(inputs));
}

function blankMinimum(inputs: Inputs): string {
  const { hoursADay, crew, rate, burden } = problemsOf(inputs);
  return hoursADay || crew || rate || burden ? "" : briefly(minimumOf({ ...inputs, minimum: null }), FIELDS.minimum);
}

/** Empty where there is no doubt. */
export const doubtAbout = (plan: PlanState, key: Key): string =>
  otherNotation(plan, key) ||
  changedBehindLink(plan, key) ||
  unusualSize(key, plan.inputs) ||
  (key === "area"
    ? otherRectangle(plan.inputs)
    : key === "edgeLength"
      ? otherEdge(plan)
      : fractionForPercent(plan, key));

/** Every doubt with its field's name, for where the field itself is out of sight. */
export const allDoubts = (plan: PlanState): string[] =>
  KEYS.filter((key) => applies(key, plan.inputs)).flatMap((key) => {
    const doubt = doubtAbout(plan, key);
    return doubt ? [PLAN.doubtOf(FIELDS[key].label, doubt)] : [];
  });

/** The field is left: what can be read is shown in its usual form from now on. */
export function settle(plan: PlanState, key: Key): PlanState {
  const text = plan.typed[key];
  if (text === undefined || readField(plan, key, text).problem) return plan;
  if (otherNotation(plan, key)) return plan; // what is doubted stays in sight
  return { ...plan, typed: without(plan.typed, key) };
}

/** More than jobs usually have, which is most often a digit or a unit too many. */
function unusualSize(key: Key, inputs: Inputs): string {
  const f = field(key);
  const value = inputs[key];
  if (!isNumber(f) || typeof value !== "number") return "";
  if (f.usualLeast !== undefined && value < f.usualLeast)
    return PLAN.unusuallyLittle(briefly(f.usualLeast, f), unitOf(key, inputs.units));
  const most = f.usualMost?.[inputs.units];
  if (most === undefined || value <= most) return "";
  return PLAN.unusual(briefly(most, f), unitOf(key, inputs.units));
}

/** A number that who writes decimals after a comma may have meant otherwise. */
function otherNotation({ decimalComma, typed }: PlanState, key: Key): string {
  const f = field(key);
  const text = typed[key];
  return decimalComma && text !== undefined && isNumber(f) ? otherReading(text, f.percent) : "";
}

/** Share by which an area may differ from length × width, which are measured to the nearest foot or so. */
const MEASURED_WITHIN = 0.01;

/** A floor need not be a rectangle, but then its edges may be others too. */
function otherRectangle({ area, length, width, edgeLength, units }: Inputs): string {
  if (area === null || length === null || width === null || !(length > 0 && width > 0)) return "";
  const rectangle = length * width;
  if (Math.abs(area - rectangle) <= MEASURED_WITHIN * rectangle) return "";
  const measured = withUnit(briefly(rectangle, FIELDS.area), unitOf("area", units));
  return edgeLength === null ? PLAN.otherRectangleAndEdges(measured) : PLAN.otherRectangle(measured);
}

/** The linked cell holds another number than it did. */
function changedBehindLink({ links, linkBefore, inputs }: PlanState, key: Key): string {
  const before = linkBefore[key];
  const now = inputs[key];
  const f = field(key);
  if (before === undefined || !links[key] || typeof now !== "number" || !isNumber(f)) return "";
  return PLAN.changedBehindLink(links[key], briefly(before, f), briefly(now, f));
}

/** The edge length was typed for another floor area. */
function otherEdge({ inputs, edgeFor }: PlanState): string {
  const { area } = floorOf(inputs);
  if (edgeFor === null || inputs.edgeLength === null || !(area > 0)) return "";
  if (Math.abs(area - edgeFor) <= MEASURED_WITHIN * edgeFor) return "";
  return PLAN.otherEdge(withUnit(briefly(edgeFor, FIELDS.area), unitOf("area", inputs.units)));
}

/** A percentage below 1% is allowed, yet most often a fraction typed by habit. */
function fractionForPercent(plan: PlanState, key: Key): string {
  const f = field(key);
  const value = plan.inputs[key];
  if (!isNumber(f) || !f.percent || plan.links[key]) return "";
  if (typeof value !== "number" || value <= 0 || value >= 0.01) return "";
  return PLAN.fractionForPercent(typedAs(value, f), typedAs(value * 100, f));
}
