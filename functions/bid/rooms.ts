/**
 * A list of rooms in somebody's own quote, read by its headings: each row becomes the inputs of a plan, beside what the
 * form of the Plan view says for all of them. Every row that can't be used is listed, and none is read as what it is not.
 */
import { isError, trimmed } from "../audit/job-cells";
import { isTotalName } from "../audit/totals";
import { isBlank, shown } from "../cell";
import { type Headings, headingGuesser } from "../headings";
import { FIELDS, type Key } from "../plan/fields";
import { floorOf, type Inputs } from "../plan/inputs";
import { problemsOf } from "../plan/problems";
import type { Quantity, System } from "../units";
import { amountIn, unitCalled, unitInHeading } from "./room-units";
import { exposureIn, finishIn, surfaceIn } from "./room-words";

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
  width: { label: "Width", quantity: "length", words: ["width", "room width", "width length"] },
  edgeLength: { label: FIELDS.edgeLength.label, quantity: "length", words: ["edge", "edge length"] },
  obstacles: { label: FIELDS.obstacles.label, quantity: "floorArea", words: ["obstacles", "obstacles area"] },
  jointLength: { label: FIELDS.jointLength.label, quantity: "length", words: ["joints", "joints length"] },
  hardness: { label: FIELDS.hardness.label, words: ["hardness", "slab hardness"] },
  surface: { label: FIELDS.surface.label, words: ["surface", "starting surface"] },
  finish: { label: "Finish", words: ["finish", "target finish", "finish level", "room finish", "level"] },
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
  area: "sf sqft ft2 sqm m2 sy footage size",
  length: "long len lf l ft feet m",
  width: "wide w",
  edge: "edges edging perimeter",
  obstacles: "obstacle columns pits deduct deduction",
  joints: "joint",
  hardness: "mohs hard",
  slab: "concrete",
  surface: "condition existing",
  starting: "start current",
  finish: "finishes",
  target: "wanted final",
  exposure: "class",
  thickness: "mil mils film μm um microns",
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
  error: (code: string) => `shows the error ${code}. Fix its formula`,
  twice: (name: string) => `“${name}” is in the list twice. Give each room its own name`,
  noNumber: (label: string, cell: string) => `${label} must be a number; got ${cell}`,
  otherUnit: (label: string, unit: string) => `${label} is in ${unit}, which doesn't measure it`,
  finish: (cell: string) => `can't tell the finish ${cell}. Type level 3, polished, 800 grit or epoxy 12 mil`,
  surface: (cell: string) => `can't tell the starting surface ${cell}. Type bare, coated or ground`,
  exposure: (cell: string) => `aggregate exposure must be A, B or C; got ${cell}`,
  differ: (label: string) => `${label} isn't the same in all of them, so they can't be one plan`,
} as const;

type Read = Partial<Inputs> | string;

function numberIn(cell: unknown, key: RoomKey, units: System, heading: string): number | string {
  const { label, quantity } = roomField(key);
  const typed = typeof cell === "number" ? { number: cell, unit: "" } : amountIn(cell);
  if (!typed) return ROOM_WORDS.noNumber(label, shown(cell));
  if (!quantity) return typed.unit === "" ? typed.number : ROOM_WORDS.noNumber(label, shown(cell));
  if (typed.unit === "") {
    const said = unitInHeading(heading, quantity);
    return said ? said.of(typed.number, units) : typed.number;
  }
  const unit = unitCalled(typed.unit);
  if (!unit) return ROOM_WORDS.noNumber(label, shown(cell));
  return unit.quantity === quantity ? unit.of(typed.number, units) : ROOM_WORDS.otherUnit(label, typed.unit);
}

function cellIn(key: RoomKey, cell: unknown, units: System, heading: string): Read {
  if (isError(cell)) return ROOM_WORDS.error(cell);
  if (key === "floor") return { floor: trimmed(String(cell)) };
  if (key === "finish") return finishIn(cell, units) ?? ROOM_WORDS.finish(shown(cell));
  if (key === "surface") return surfaceIn(cell) ?? ROOM_WORDS.surface(shown(cell));
  if (key === "exposure") return exposureIn(cell) ?? ROOM_WORDS.exposure(shown(cell));
  const number = numberIn(cell, key, units, heading);
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
    const read =
      unfit === undefined ? inputsIn(cells, columns, headings, form) : [{ key: "floor" as const, words: unfit }];
    if (Array.isArray(read)) bad.push(...read.map((one) => ({ row, ...one })));
    else rooms.push({ row, inputs: read });
  }
  return { rooms, bad, totals };
}

/** A row's inputs, or what is wrong with it. */
function inputsIn(
  cells: readonly unknown[],
  columns: readonly (readonly [RoomKey, number])[],
  headings: readonly string[],
  form: Inputs,
): Inputs | Omit<BadRoom, "row">[] {
  let inputs: Inputs = { ...form, ...OWN };
  const wrong: Omit<BadRoom, "row">[] = [];
  for (const [key, column] of columns) {
    const cell = cells[column];
    if (isBlank(cell)) continue;
    const read = cellIn(key, cell, form.units, headings[column]!);
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
