/** The test strip: what a measured strip, or a worn set, teaches about a tool. Without a DOM and without a workbook. */
import { CellFailure } from "../../../functions/answer";
import { cutPerCoefficient, meanSlideSpeed } from "../../../functions/cutting";
import { ABOVE_0, ANY_NUMBER, FROM_0, isWithin, WHOLE_FROM_1 } from "../../../functions/domain";
import { estimate, machinesFor, speedShare } from "../../../functions/plan/estimate";
import { type NumberField, upTo } from "../../../functions/plan/field";
import { FIELDS, KEYS } from "../../../functions/plan/fields";
import { type Inputs, sizeOrFailure, unitOf } from "../../../functions/plan/inputs";
import { problemsOf } from "../../../functions/plan/problems";
import type { Shelf, Tool } from "../../../functions/plan/shelf";
import { type PlannedStage, toolSize } from "../../../functions/plan/stage";
import { type KnownCut, knownCut, nearestStrips, type Strip } from "../../../functions/plan/strips";
import { floorLeft, wearOf } from "../../../functions/tooling";
import { type System, symbol } from "../../../functions/units";
import type { Measured } from "../../sheet";
import { briefly, readTyped, withUnit } from "../numbers";
import { ENTRY_QUANTITIES, type EntryKey, type StripState } from "./strip-state";
import { STRIP } from "./strip-texts";

type Entry = Pick<NumberField, "label" | "note" | "domain" | "unit">;

/** What is measured, in the order it is asked for. */
export const ENTRIES = {
  cut: { ...STRIP.cut, domain: upTo(10_000), unit: "µm" },
  passes: { ...STRIP.passes, domain: WHOLE_FROM_1 },
  slideSpeed: { ...STRIP.slideSpeed, domain: ABOVE_0 },
  headRadius: { ...STRIP.headRadius, domain: FROM_0 },
  toolRadius: { ...STRIP.toolRadius, domain: ABOVE_0 },
  headSpeed: { ...STRIP.headSpeed, domain: ANY_NUMBER, unit: "rpm" },
  carrierSpeed: { ...STRIP.carrierSpeed, domain: ANY_NUMBER, unit: "rpm" },
  heightBefore: { ...STRIP.heightBefore, domain: upTo(1000), unit: "mm" },
  heightAfter: { ...STRIP.heightAfter, domain: FROM_0, unit: "mm" },
  wornArea: { ...STRIP.wornArea, domain: ABOVE_0 },
  wornPasses: { ...STRIP.wornPasses, domain: ABOVE_0 },
  newHeight: { ...STRIP.newHeight, domain: ABOVE_0, unit: "mm" },
  wornOut: { ...STRIP.wornOut, domain: FROM_0, unit: "mm" },
} as const satisfies Record<EntryKey, Entry>;

const HEAD_ENTRIES = ["headRadius", "toolRadius", "headSpeed", "carrierSpeed"] as const;
export const CUT_ENTRIES = ["cut", "passes", "slideSpeed", ...HEAD_ENTRIES] as const;
export const WEAR_ENTRIES = ["heightBefore", "heightAfter", "wornArea", "wornPasses", "newHeight", "wornOut"] as const;
export const entry = (key: EntryKey): Entry => ENTRIES[key];

export const typeEntry = (strip: StripState, key: EntryKey, text: string): StripState => ({
  ...strip,
  typed: { ...strip.typed, [key]: text },
});

export const entryUnit = (key: EntryKey, units: System): string => {
  const { unit = "" } = entry(key);
  const quantity = ENTRY_QUANTITIES[key];
  return quantity ? symbol(quantity, units) : unit;
};

/** What an entry's text stands for, and what is wrong with it. */
export function readEntry({ typed }: StripState, key: EntryKey): { value: number | null; problem?: string } {
  const { label, domain } = entry(key);
  const found = readTyped(typed[key] ?? "", { label });
  const { value } = found;
  if (value === null || isWithin(value, domain)) return found;
  return { value: null, problem: STRIP.outside(label, domain.words, value) };
}

const read = (strip: StripState, key: EntryKey) => readEntry(strip, key).value;

/** Sliding speed by the heads' geometry, ft/min | m/s; null until it is known and they turn. */
function speedOfHeads(strip: StripState, units: System): number | null {
  const [toHead, toTool, head, carrier] = HEAD_ENTRIES.map((key) => read(strip, key));
  if (toTool == null || head == null) return null;
  const speed = meanSlideSpeed({ toHead: toHead ?? 0, toTool, head, carrier: carrier ?? 0 }, units);
  return speed > 0 ? Number(speed.toPrecision(4)) : null;
}

/** What a blank sliding speed stands for. */
export function blankSpeed(strip: StripState, { units, slideSpeed }: Inputs, { machines }: Shelf): number | null {
  const machine = machines.find(({ name }) => name === strip.machine);
  return speedOfHeads(strip, units) ?? machine?.slideSpeed ?? slideSpeed;
}

const markedIn = (strip: StripState, keys: readonly EntryKey[]) =>
  keys.some((key) => readEntry(strip, key).problem) && STRIP.fixFields;

function missingIn(strip: StripState, keys: readonly EntryKey[]): string {
  const missing = keys.filter((key) => read(strip, key) === null).map((key) => entry(key).label.toLowerCase());
  return missing.length > 0 ? STRIP.needed(missing) : "";
}

export interface MeasuredCut {
  readonly tool: Tool;
  /** Depth of the strip and of one of its passes, µm. */
  readonly depth: number;
  readonly cut: number;
  readonly passes: number;
  readonly size: number;
  /** ft/min | m/s. */
  readonly slideSpeed: number;
  /** mm³/kJ. */
  readonly coefficient: number;
  /** What it is worked out with: the speed is the tool's own, the overlap a fraction. */
  readonly ran: { readonly speed: number; readonly load: number; readonly width: number; readonly overlap: number };
}

/** What a cutting coefficient is worked out with, in words. */
export function ranWords({ ran: { speed, load, width, overlap } }: MeasuredCut, units: System): string {
  const shown = (key: "speed" | "load" | "machineWidth", value: number) =>
    withUnit(briefly(value, FIELDS[key]), unitOf(key, units));
  return STRIP.ran(
    shown("speed", speed),
    shown("load", load),
    shown("machineWidth", width),
    briefly(overlap, FIELDS.overlap),
  );
}

/** What the strip shows of the tool's cut, or what is still needed for it. */
export function cutOnStrip(strip: StripState, inputs: Inputs, shelf: Shelf): MeasuredCut | string {
  const tool = shelf.tools.find(({ name }) => name === strip.tool);
  if (!tool) return STRIP.chooseTool;
  const stopped = markedIn(strip, CUT_ENTRIES) || missingIn(strip, ["cut"]);
  if (stopped) return stopped;
  const depth = read(strip, "cut")!;
  const passes = read(strip, "passes") ?? 1;
  const cut = depth / passes;
  const slideSpeed = read(strip, "slideSpeed") ?? blankSpeed(strip, inputs, shelf);
  if (slideSpeed === null) return STRIP.speedNeeded;
  const problems = problemsOf(inputs);
  if (KEYS.some((key) => problems[key] && FIELDS[key].group === "machine")) return STRIP.fixMachine;
  const machine = machinesFor(inputs, shelf).find(({ name }) => name === strip.machine);
  if (!machine) return STRIP.machineGone(strip.machine);
  const size = sizeOrFailure(() => toolSize(tool, inputs));
  if (size instanceof CellFailure) return `${tool.name}: ${size.message}.`;
  const { load, width } = machine;
  const ran = { speed: machine.speed * speedShare(tool, inputs), load, width, overlap: inputs.overlap ?? 0 };
  const coefficient = fourDigitsUp(cut / cutPerCoefficient({ ...ran, slideSpeed }, inputs.units));
  return { tool, depth, cut, passes, size, slideSpeed, coefficient, ran };
}

/** Up, so that the strip's own tool never seems to need a pass more than by the cut that was measured. */
function fourDigitsUp(x: number): number {
  const step = 10 ** (Math.floor(Math.log10(x)) - 3);
  return Number((Math.ceil(Number((x / step).toPrecision(9))) * step).toPrecision(4));
}

export interface MeasuredWear {
  readonly tool: Tool;
  /** mm per 1000 ft² | mm per 100 m². */
  readonly wear: number;
  /** Floor that a new set works in one pass, ft² | m². */
  readonly life: number;
}

/** Three digits: a caliper gives no more, and a shelf is kept in round numbers. */
const rounded = (x: number) => Number(x.toPrecision(3));

/** What the heights show of the tool's wear, or what is still needed for it. */
export function wearOfSet(strip: StripState, { units }: Inputs, shelf: Shelf): MeasuredWear | string {
  const tool = shelf.tools.find(({ name }) => name === strip.tool);
  if (!tool) return STRIP.chooseTool;
  const needed = WEAR_ENTRIES.filter((key) => key !== "wornPasses");
  const stopped = markedIn(strip, WEAR_ENTRIES) || missingIn(strip, needed);
  if (stopped) return stopped;
  const given = (key: (typeof needed)[number]) => read(strip, key)!;
  const [before, after, area] = [given("heightBefore"), given("heightAfter"), given("wornArea")] as const;
  const [fresh, least] = [given("newHeight"), given("wornOut")] as const;
  if (after > before) return STRIP.afterAboveBefore(before, after);
  if (after === before) return STRIP.noWear;
  if (before > fresh) return STRIP.beforeAboveNew(before, fresh);
  if (least >= fresh) return STRIP.wornAboveNew(fresh, least);
  const wear = wearOf(before, after, area, read(strip, "wornPasses") ?? 1, units);
  return { tool, wear: rounded(wear), life: rounded(floorLeft(fresh, least, wear, units)) };
}

/** What goes into the tool's row of the tooling table. */
export function measuredOf(found: MeasuredCut | MeasuredWear): Measured {
  // A third of a depth has no end; nobody measures more digits.
  return "cut" in found ? { cut: Number(found.cut.toPrecision(5)) } : { wear: found.wear, life: found.life };
}

/** The strip as the workbook remembers it. */
export function rememberedAs(
  { tool, size, depth, passes, slideSpeed, ran }: MeasuredCut,
  { machine }: StripState,
  { jobName, floor, hardness }: Inputs,
  date: Date,
): Strip {
  // Days since 1899-12-30, by the calendar here.
  const day = Date.UTC(date.getFullYear(), date.getMonth(), date.getDate()) / 86_400_000 + 25_569;
  const slab = {
    date: day,
    slab: [jobName, floor].filter((name) => name !== "").join(", ") || null,
    hardness: hardness ?? FIELDS.hardness.start.us,
  };
  return { ...slab, machine: machine || null, tool: tool.name, size, cut: depth, passes, slideSpeed, ...ran };
}

/** What a plan may take from remembered strips. */
export interface RememberedCut extends Pick<MeasuredCut, "tool" | "size" | "slideSpeed" | "coefficient"> {
  readonly known: KnownCut;
  /** Of the slabs, Mohs. */
  readonly hardness: readonly number[];
}

/** The nearest strips of the chosen tool; undefined where the workbook remembers none. */
export function rememberedCut({ tool: name }: StripState, inputs: Inputs, shelf: Shelf): RememberedCut | undefined {
  const tool = shelf.tools.find((t) => t.name === name);
  const near = tool ? nearestStrips(shelf.strips ?? [], name, inputs.hardness ?? FIELDS.hardness.start.us) : [];
  if (!tool || near.length === 0) return undefined;
  const size = sizeOrFailure(() => toolSize(tool, inputs));
  if (size instanceof CellFailure) return undefined;
  const known = knownCut(near, inputs.units);
  // A coefficient needs no machine; a plan without a sliding speed takes the strips' own.
  const slideSpeed = inputs.slideSpeed ?? near[0]!.slideSpeed;
  const hardness = near.map((strip) => strip.hardness);
  return { tool, size, slideSpeed, coefficient: fourDigitsUp(known.coefficient), known, hardness };
}

export interface CutRange {
  readonly passes: readonly [number, number];
  readonly hours: readonly [number, number];
  readonly price: readonly [number, number];
}

/** What a plan comes to where the cut varies as it did from strip to strip; undefined where it has no price. */
export function rangeOf(
  { known, size, slideSpeed }: RememberedCut,
  inputs: Inputs,
  shelf: Shelf,
  stages: readonly PlannedStage[],
): CutRange | undefined {
  const at = (cutCoefficient: number) => {
    const given: Inputs = { ...inputs, cutCoefficient, stripSize: size, slideSpeed, passesFrom: "scratch" };
    const { rows, hours, price } = estimate(given, shelf, stages);
    return { hours, price, passes: rows.reduce((sum, row) => sum + (row.grit === null ? 0 : row.passes), 0) };
  };
  try {
    const [fast, slow] = [at(known.high), at(known.low)];
    return { passes: [fast.passes, slow.passes], hours: [fast.hours, slow.hours], price: [fast.price, slow.price] };
  } catch (failure) {
    if (failure instanceof CellFailure) return undefined;
    throw failure;
  }
}
