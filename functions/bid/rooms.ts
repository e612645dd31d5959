/**
 * A list of rooms in somebody's own quote, read by its headings: each row becomes the inputs of a plan, beside what the
 * form of the Plan view says for all of them. Every row that can't be used is listed, and none is read as what it is not.
 */
import { isTotalName } from "../audit/totals";
import { isBlank, shown } from "../cell";
import { type Headings, headingGuesser } from "../headings";
import { FIELDS, type Key } from "../plan/fields";
import { floorOf, type Inputs } from "../plan/inputs";
import { problemsOf } from "../plan/problems";
import { convert, type Quantity, type System } from "../units";

interface RoomField {
  readonly label: string;
  readonly required?: true;
  /** Filled with a number in this quantity's unit, or in one that its text names. */
  readonly quantity?: Quantity;
  readonly words: readonly string[];
}

export const ROOM_FIELDS = {
  floor: { label: "Room", required: true, words: ["room", "room name", "name"] },
  area: { label: FIELDS.area.label, quantity: "floorArea", words: ["area", "room area"] },
  length: { label: "Length", quantity: "length", words: ["length", "room length"] },
  width: { label: "Width", quantity: "length", words: ["width", "room width"] },
  edgeLength: { label: FIELDS.edgeLength.label, quantity: "length", words: ["edge", "edge length", "perimeter"] },
  obstacles: { label: FIELDS.obstacles.label, quantity: "floorArea", words: ["obstacles", "obstacles area"] },
  jointLength: { label: FIELDS.jointLength.label, quantity: "length", words: ["joints", "joints length"] },
  hardness: { label: FIELDS.hardness.label, words: ["hardness", "slab hardness"] },
  surface: { label: FIELDS.surface.label, words: ["surface", "starting surface"] },
  finish: { label: "Finish", words: ["finish", "target finish", "finish level", "level"] },
  exposure: { label: FIELDS.exposure.label, words: ["exposure", "aggregate exposure", "aggregate"] },
  film: { label: FIELDS.film.label, quantity: "filmThickness", words: ["thickness", "coating thickness"] },
} as const satisfies Partial<Record<Key, RoomField>>;
export type RoomKey = keyof typeof ROOM_FIELDS;
export const ROOM_KEYS = Object.keys(ROOM_FIELDS) as RoomKey[];
export const roomField = (key: RoomKey): RoomField => ROOM_FIELDS[key];

/** A main word, and what else people write for it. */
const SYNONYMS: Readonly<Record<string, string>> = {
  room: "rooms space spaces zone bay floor location",
  name: "names description",
  area: "sf sqft ft2 sqm m2 footage size",
  length: "long len lf l ft feet m",
  width: "wide w",
  edge: "edges edging",
  obstacles: "obstacle columns pits deduct deduction",
  joints: "joint",
  hardness: "mohs hard",
  slab: "concrete",
  surface: "condition existing",
  starting: "start current",
  finish: "finishes",
  target: "wanted final",
  exposure: "class",
  thickness: "mil mils film",
};

/** Which heading of the list holds which field, as far as the headings say so beyond doubt. */
export const guessRoomHeadings: (headings: readonly string[]) => Headings<RoomKey> = headingGuesser(ROOM_FIELDS, {
  synonyms: SYNONYMS,
});

interface Room {
  /** Row below the headings, from 0. */
  readonly row: number;
  readonly inputs: Inputs;
}
export interface BadRoom {
  readonly row: number;
  /** In which of the list's columns; undefined where it is the row as a whole. */
  readonly key?: RoomKey;
  readonly words: string;
}
export interface ReadRooms {
  readonly rooms: readonly Room[];
  readonly bad: readonly BadRoom[];
  /** Rows that add up others. */
  readonly totals: number;
}

/** More sheets than this in one go are hardly meant. */
export const MOST_ROOMS = 200;

const ROOM_WORDS = {
  noName: "has no name",
  twice: (name: string) => `“${name}” is in the list twice. Give each room its own name`,
  noNumber: (label: string, cell: string) => `${label} must be a number; got ${cell}`,
  otherUnit: (label: string, unit: string) => `${label} is in ${unit}, which doesn't measure it`,
  finish: (cell: string) => `can't tell the finish ${cell}. Type level 3, polished, 800 grit or epoxy 12 mil`,
  surface: (cell: string) => `can't tell the starting surface ${cell}. Type bare, coated or ground`,
  exposure: (cell: string) => `aggregate exposure must be A, B or C; got ${cell}`,
  differ: (label: string) => `${label} isn't the same in all of them, so they can't be one plan`,
} as const;

/** Units that a text may name behind its number, and what they measure in which system. */
const UNITS: readonly (readonly [RegExp, Quantity, System])[] = [
  [/^(?:'|ft|feet|foot|lf)$/, "length", "us"],
  [/^(?:m|met(?:er|re)s?)$/, "length", "metric"],
  [/^(?:sf|sq\.? ?ft\.?|ft2|ft²|square feet)$/, "floorArea", "us"],
  [/^(?:sq\.? ?m\.?|m2|m²|square meters?)$/, "floorArea", "metric"],
  [/^mils?$/, "filmThickness", "us"],
  [/^(?:µm|um|microns?)$/, "filmThickness", "metric"],
];
const NUMBER = /^(\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d*\.?\d+)\s*(.*)$/;

type Read = Partial<Inputs> | string;

function numberIn(cell: unknown, key: RoomKey, units: System): number | string {
  const { label, quantity } = roomField(key);
  if (typeof cell === "number") return cell;
  const [, digits = "", unit = ""] = NUMBER.exec(String(cell).trim()) ?? [];
  if (digits === "") return ROOM_WORDS.noNumber(label, shown(cell));
  const number = Number(digits.replaceAll(",", ""));
  if (unit === "") return number;
  const known = UNITS.find(([names]) => names.test(unit.trim().toLowerCase()));
  if (!known) return ROOM_WORDS.noNumber(label, shown(cell));
  const [, of, system] = known;
  return of === quantity ? convert(number, of, system, units) : ROOM_WORDS.otherUnit(label, unit);
}

/** "Level 3", "honed", "polished, class B", "800 grit", "epoxy, 12 mil". */
function finishIn(cell: unknown, units: System): Read {
  const text = String(cell).trim().toLowerCase();
  const [, exposure] = /\bclass\s*([abc])\b/.exec(text) ?? [];
  const of = (rest: Partial<Inputs>): Partial<Inputs> => ({
    ...rest,
    ...(exposure && { exposure: exposure.toUpperCase() as Inputs["exposure"] }),
  });
  const levels = ["flat", "satin", "polished", "highly polished"] as const;
  const [, level] = /^(?:appearance\s*)?(?:level|lvl)?\s*([1-4])\b/.exec(text) ?? [];
  if (level) return of({ finish: levels[Number(level) - 1]!, lastGrit: null });
  const [, grit] = /(\d{2,4})\s*(?:grit|#)/.exec(text) ?? [];
  if (grit) return of({ finish: "by grit", lastGrit: Number(grit) });
  if (/coat|epoxy|urethane|paint|sealer|profile|\bcsp\b/.test(text)) {
    const [, film, unit] = /(\d+(?:\.\d+)?)\s*(mils?|µm|um|microns?)/.exec(text) ?? [];
    if (film === undefined) return { finish: "coating", lastGrit: null };
    const given = convert(Number(film), "filmThickness", unit!.startsWith("mil") ? "us" : "metric", units);
    return { finish: "coating", lastGrit: null, film: given };
  }
  if (/highly|high[\s-]*gloss|mirror/.test(text)) return of({ finish: "highly polished", lastGrit: null });
  if (/polish/.test(text)) return of({ finish: "polished", lastGrit: null });
  if (/satin|hone/.test(text)) return of({ finish: "satin", lastGrit: null });
  if (/flat|ground|grind/.test(text)) return of({ finish: "flat", lastGrit: null });
  return ROOM_WORDS.finish(shown(cell));
}

function surfaceIn(cell: unknown): Read {
  const text = String(cell).trim().toLowerCase();
  if (/coat|adhesive|glue|mastic|paint|epoxy|tile|carpet/.test(text)) return { surface: "coated" };
  if (/ground|polish|honed/.test(text)) return { surface: "ground" };
  if (/bare|trowel|new|raw/.test(text)) return { surface: "bare" };
  return ROOM_WORDS.surface(shown(cell));
}

function exposureIn(cell: unknown): Read {
  const [, letter] = /^(?:class\s*)?([abc])$/i.exec(String(cell).trim()) ?? [];
  return letter ? { exposure: letter.toUpperCase() as Inputs["exposure"] } : ROOM_WORDS.exposure(shown(cell));
}

function cellIn(key: RoomKey, cell: unknown, units: System): Read {
  if (key === "floor") return { floor: String(cell).trim() };
  if (key === "finish") return finishIn(cell, units);
  if (key === "surface") return surfaceIn(cell);
  if (key === "exposure") return exposureIn(cell);
  const number = numberIn(cell, key, units);
  return typeof number === "string" ? number : { [key]: number };
}

/** What of the form is one floor's own, and so not of every room. */
const OWN = {
  ...{ floor: "", length: null, width: null, area: null, edgeLength: null, machineArea: null },
  ...{ obstacles: 0, jointLength: null, crackLength: null },
} as const satisfies Partial<Inputs>;

/** Where a room is made otherwise than the form says, these are worked out anew. */
const FOLLOWS_FINISH: readonly RoomKey[] = ["finish", "surface", "exposure"];

export function readRooms(
  headings: readonly string[],
  mapping: Headings<RoomKey>,
  rows: readonly (readonly unknown[])[],
  form: Inputs,
): ReadRooms {
  const columns = ROOM_KEYS.flatMap((key) => {
    const heading = mapping[key];
    return heading === undefined ? [] : [[key, headings.indexOf(heading)] as const];
  });
  const nameColumn = columns.find(([key]) => key === "floor")?.[1] ?? -1;
  const rooms: Room[] = [];
  const bad: BadRoom[] = [];
  const names = new Set<string>();
  let totals = 0;
  for (const [row, cells] of rows.entries()) {
    if (columns.every(([, column]) => isBlank(cells[column]))) continue;
    const name = String(cells[nameColumn] ?? "").trim();
    if (isTotalName(name)) {
      totals++;
      continue;
    }
    const unfit = name === "" ? ROOM_WORDS.noName : names.has(name.toLowerCase()) ? ROOM_WORDS.twice(name) : undefined;
    names.add(name.toLowerCase());
    const read = unfit === undefined ? inputsIn(cells, columns, form) : [{ key: "floor" as const, words: unfit }];
    if (Array.isArray(read)) bad.push(...read.map((one) => ({ row, ...one })));
    else rooms.push({ row, inputs: read });
  }
  return { rooms, bad, totals };
}

/** A row's inputs, or what is wrong with it. */
function inputsIn(
  cells: readonly unknown[],
  columns: readonly (readonly [RoomKey, number])[],
  form: Inputs,
): Inputs | Omit<BadRoom, "row">[] {
  let inputs: Inputs = { ...form, ...OWN };
  const wrong: Omit<BadRoom, "row">[] = [];
  for (const [key, column] of columns) {
    const cell = cells[column];
    if (isBlank(cell)) continue;
    const read = cellIn(key, cell, form.units);
    if (typeof read === "string") wrong.push({ key, words: read });
    else inputs = { ...inputs, ...read };
  }
  if (wrong.length > 0) return wrong;
  if (FOLLOWS_FINISH.some((key) => inputs[key] !== form[key])) inputs = { ...inputs, depth: null };
  const others = Object.entries(problemsOf(inputs));
  return others.length > 0 ? others.map(([key, words]) => ({ ...keyed(key), words })) : inputs;
}

const keyed = (key: string) => (ROOM_KEYS.includes(key as RoomKey) ? { key: key as RoomKey } : {});

/** What must be the same in rooms that become one plan. */
const SHARED: readonly RoomKey[] = ["finish", "hardness", "surface", "exposure", "film"];

/** One plan of them all, whose floor is their sum; or why they can't be one. */
export function summed(rooms: readonly Room[], name: string): Inputs | string {
  const [first] = rooms;
  const other = SHARED.find((key) => rooms.some(({ inputs }) => inputs[key] !== first!.inputs[key]));
  if (other) return ROOM_WORDS.differ(roomField(other).label);
  if (rooms.some(({ inputs }) => inputs.lastGrit !== first!.inputs.lastGrit)) return ROOM_WORDS.differ("Last grit");
  const sum = (of: (inputs: Inputs) => number) => rooms.reduce((all, { inputs }) => all + of(inputs), 0);
  const joints = sum(({ jointLength }) => jointLength ?? 0);
  return {
    ...first!.inputs,
    ...OWN,
    floor: name,
    area: sum((inputs) => floorOf(inputs).area),
    edgeLength: sum((inputs) => floorOf(inputs).edge),
    obstacles: sum(({ obstacles }) => obstacles ?? 0),
    jointLength: joints > 0 ? joints : null,
  };
}
