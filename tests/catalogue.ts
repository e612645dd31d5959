/** Every custom function with its catalogue entry, and random arguments made from what each argument is. */
import fc from "fast-check";
import type { CustomFunction, Declared } from "../functions/declare";
import { FUNCTIONS } from "../functions/topics";
import { type Entry, readCatalogue } from "../manifest/build/catalogue.mjs";
import { onEveryHost } from "./blanks";

type CataloguedParameter = Entry["params"][number];

/** A parameter of the catalogue beside its declaration. */
export interface Parameter extends CataloguedParameter {
  declared: Declared;
}

export interface Catalogued extends Omit<Entry, "params"> {
  params: Parameter[];
  /** As every host calls it; the three must agree. */
  fn: CustomFunction;
  /** As it is. */
  shipped: CustomFunction;
}

export const CATALOGUE: Catalogued[] = readCatalogue().map((entry) => {
  const shipped = FUNCTIONS[entry.id]!;
  const params = entry.params.map((parameter, i) => ({ ...parameter, declared: shipped.args[i]! }));
  return { ...entry, shipped, fn: onEveryHost(shipped), params };
});

export const byId = (id: string): Catalogued => {
  const found = CATALOGUE.find((entry) => entry.id === id);
  if (!found) throw new Error(`no function ${id}`);
  return found;
};

export const isUnits = ({ kind }: Parameter) => kind === "units";
export const isScale = ({ kind }: Parameter) => kind === "scale";
export const isForTheCall = ({ takes }: Parameter) => takes === "call";
export const isOneCell = ({ takes }: Parameter) => takes === "one";
/** A range that is one thing to the function. */
export const isList = ({ takes }: Parameter) => takes === "list" || takes === "one or list";
export const mayBeOneCell = ({ takes }: Parameter) => takes === "one or list";

/**
 * Numbers as people type them: nothing that is 0 but for its last bits, and no more than twelve digits, for a spreadsheet
 * takes two numbers for equal that differ from the sixteenth on.
 */
const between = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((x) => (Math.abs(x) < 1e-9 ? 0 : Number(x.toPrecision(12))));

/** As many cells as lists hold. */
const LISTED = 4;

/** A range of one column. */
const columnOf = (cell: fc.Arbitrary<unknown>, rows: number) =>
  fc.array(
    cell.map((value) => [value]),
    { minLength: rows, maxLength: rows },
  );

/** Grits of tools, all one step apart, so that random arguments often have a sequence. */
const SHELF_GRITS = [16, 30, 60, 120, 200];

/** A shelf of one bond. */
const shelf = fc
  .tuple(between(1, 50), between(100, 5000), between(1, 500))
  .map(([cut, life, price]) => SHELF_GRITS.map((grit) => [grit, "metal", "", cut, life, price]));

const anyGrit = fc.integer({ min: 16, max: 1000 });
/** A grit that a sequence is asked for: often one of the shelf's. */
const askedGrit = fc.oneof(
  { arbitrary: fc.constantFrom(...SHELF_GRITS.slice(1)), weight: 3 },
  { arbitrary: anyGrit, weight: 2 },
);

/** Numbers inside a domain; an end that it does not reach is kept at a distance. */
function numberIn({ bounds, isWhole, takes, declared: { isGrit, unit } }: Parameter): fc.Arbitrary<number> {
  if (isGrit) return takes === "one" ? askedGrit : anyGrit;
  if (unit === "soundLevel") return between(40, 140);
  // Depths that a search starts from; real ones are mostly next to nothing.
  if (unit === "micrometers" && takes === "one") return fc.integer({ min: 1, max: 700 });
  const lower = bounds.find(([operator]) => operator.startsWith(">"));
  const upper = bounds.find(([operator]) => operator.startsWith("<"));
  if (isWhole) return fc.integer({ min: lower![1], max: upper?.[1] ?? (lower![1] === 0 ? 12 : 40) });
  if (!lower) return upper ? between(upper[1] - 3, upper[1] - 0.1) : between(-500, 500);
  const [operator, least] = lower;
  const isOpen = operator === ">";
  if (!upper) {
    if (!isOpen) return fc.oneof(between(least, 500), fc.constant(least));
    return least === 0 ? between(0.01, 500) : between(least * 1.1, least * 6);
  }
  const width = upper[1] - least;
  const inside = between(
    isOpen ? least + width / 20 : least,
    upper[0] === "<" ? upper[1] - width / (isOpen ? 20 : 10) : upper[1],
  );
  // Limits inside such a domain are whole numbers.
  return width > 5 && !isOpen ? fc.oneof(inside, fc.integer({ min: least, max: upper[1] })) : inside;
}

/** A cell of a list: hours of a day share what there is of it. */
export function listed(parameter: Parameter, rows: number): fc.Arbitrary<number> {
  const { most } = parameter.declared;
  if (most !== undefined) return between(0, most / rows);
  return parameter.bounds.length === 1 ? between(5, 50) : numberIn(parameter);
}

/** Words as they may be typed: the usual ones, others for the same, and one in capitals. */
const wordsOf = ({ words, kind }: Parameter) =>
  fc.constantFrom(...words.flat(), ...(kind === "word" ? [words[0]![0]!.toUpperCase()] : []));

/** Values that a parameter takes. */
export function valid(parameter: Parameter): fc.Arbitrary<unknown> {
  if (parameter.words.length > 0) return wordsOf(parameter);
  if (parameter.kind === "yes or no") return fc.boolean();
  // Words beside a list of jobs.
  if (parameter.name === "groups") return columnOf(fc.constantFrom<unknown>("metal", " Metal", "resin", 3, ""), LISTED);
  // Of ranges that a function reads in its own way, one is needed and the other better left out.
  if (parameter.kind === "range") return parameter.optional ? columnOf(anyGrit, LISTED) : shelf;
  return isList(parameter) ? columnOf(listed(parameter, LISTED), LISTED) : numberIn(parameter);
}

/** One value for each parameter, each inside its own domain. */
export const validArguments = (entry: Catalogued): fc.Arbitrary<unknown[]> => fc.tuple(...entry.params.map(valid));

/** A value as the block of cells that the host passes; a range is one already. */
export const asBlock = (value: unknown): unknown[][] => (Array.isArray(value) ? value : [[value]]);

/** The host passes every argument as a block of cells, but the units word bare. */
export const asBlocks = (entry: Catalogued, values: unknown[]): unknown[] =>
  values.map((value, i) => (isUnits(entry.params[i]!) ? value : asBlock(value)));
