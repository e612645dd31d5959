/** Functions and operators that go row by row, over long columns: the engine's own wherever something is less plain. */
import type {
  ArrayValueObject,
  BaseReferenceObject,
  BaseValueObject,
  IFunctionService,
} from "@univerjs/engine-formula";
import { columnsOf, type Plain, withoutFormat } from "./columns";
import type { UniverModules } from "./modules";

type Fast = (...args: BaseValueObject[]) => BaseValueObject | undefined;

const isError = (plain: Plain): plain is BaseValueObject =>
  typeof plain === "object" && plain !== null && plain.isError();

const isNumber = (cell: Plain): cell is number => typeof cell === "number";

/** A cell as text is joined with it; undefined for what only the engine knows to write. */
function textOf(cell: Plain): string | undefined {
  if (typeof cell === "string") return cell;
  if (typeof cell === "number") return String(cell);
  return cell === null ? "" : undefined;
}

/** What TRIM takes out, or puts in another's place. */
const UNEVEN_SPACE = /^\s|\s$|\s\s|[^\S ]/;

export function calculateByColumn(modules: UniverModules, functions: IFunctionService) {
  const { PlainColumn, readColumn, plainColumn, stepOf, unwrap } = columnsOf(modules);
  const { BooleanValueObject, NumberValueObject } = modules;

  /** Puts a quicker way before a function's own; undefined leaves the call to that. */
  const replace = (name: string, fast: Fast) => {
    const executor = functions.getExecutor(name as never)!;
    const slow = executor.calculate.bind(executor);
    executor.calculate = (...args) => fast(...(args as BaseValueObject[])) ?? slow(...args);
  };

  const columnAt = (reference: BaseValueObject | undefined) =>
    reference?.isReferenceObject() ? readColumn(reference as unknown as BaseReferenceObject) : undefined;

  /** The value of an argument that is one cell. */
  const oneValue = (object: BaseValueObject): Plain | undefined => {
    const given = object.isReferenceObject() ? (object as unknown as BaseReferenceObject).toArrayValueObject() : object;
    if (!given.isArray()) return unwrap(given);
    const array = given as ArrayValueObject;
    return array.getRowCount() === 1 && array.getColumnCount() === 1 ? unwrap(array.get(0, 0)!) : undefined;
  };

  /** What an argument gives in each row: the same, or that of a column as long as the others. */
  const inEachRow = (object: BaseValueObject, rows: number) => {
    const plain = plainColumn(object);
    if (plain) return plain.length === rows ? (row: number) => plain[row]! : undefined;
    const one = oneValue(object);
    return one === undefined ? undefined : () => one;
  };

  /** The rows in which every column meets its criterion. */
  function rowsMatching(pairs: readonly BaseValueObject[], rows: number): readonly boolean[] | undefined {
    let all: readonly boolean[] | undefined;
    for (let i = 0; i + 1 < pairs.length; i += 2) {
      const criterion = oneValue(pairs[i + 1]!);
      const mask = criterion === undefined ? undefined : columnAt(pairs[i])?.matching(withoutFormat(criterion));
      if (mask?.length !== rows) return undefined;
      all = all ? all.map((matches, row) => matches && mask[row]!) : mask;
    }
    return all;
  }

  function totalOf(summed: BaseValueObject, pairs: readonly BaseValueObject[]) {
    const values = columnAt(summed);
    const mask = values?.plain && rowsMatching(pairs, values.plain.length);
    return mask && values.pick(new PlainColumn([...mask])).sum();
  }

  const countOf: Fast = (...pairs) => {
    const mask = rowsMatching(pairs, columnAt(pairs[0])?.plain?.length ?? 0);
    return mask && NumberValueObject.create(mask.filter(Boolean).length);
  };

  /** The largest or smallest number of the rows that match; 0 where there is none. */
  const extremeOf =
    (pick: (a: number, b: number) => number): Fast =>
    (given, ...pairs) => {
      const cells = columnAt(given)?.plain?.map(withoutFormat);
      const mask = cells?.some(isError) ? undefined : cells && rowsMatching(pairs, cells.length);
      if (!cells || !mask) return undefined;
      const numbers = cells.filter((cell, row): cell is number => mask[row]! && isNumber(cell));
      return NumberValueObject.create(numbers.length > 0 ? numbers.reduce((a, b) => pick(a, b)) : 0);
    };

  for (const [name, pick] of [
    ["MAXIFS", Math.max],
    ["MINIFS", Math.min],
  ] as const) {
    // The engine gives an array without a number where no row matches.
    const executor = functions.getExecutor(name as never)!;
    const own = executor.calculate.bind(executor);
    executor.calculate = (...args) => {
      const found = own(...args) as BaseValueObject;
      return found.isArray() && oneValue(found) !== undefined ? NumberValueObject.create(0) : found;
    };
    replace(name, extremeOf(pick));
  }
  replace("COUNTIF", countOf);
  replace("COUNTIFS", countOf);
  replace("SUMIF", (range, criterion, summed = range) => totalOf(summed!, [range!, criterion!]));
  replace("SUMIFS", (summed, ...pairs) => totalOf(summed!, pairs));

  /** A function that says something of each cell by itself. */
  const each = (name: string, of: (cell: Plain) => Plain | undefined) =>
    replace(name, (given) => {
      const plain = plainColumn(given!);
      if (!plain) return undefined;
      const result: Plain[] = new Array(plain.length);
      for (let row = 0; row < plain.length; row++) {
        const said = of(plain[row]!);
        if (said === undefined) return undefined;
        result[row] = said;
      }
      return new PlainColumn(result);
    });

  const isObject = (cell: Plain): cell is BaseValueObject => typeof cell === "object" && cell !== null;
  each("ISNUMBER", (cell) => (isObject(cell) ? cell.isNumber() : typeof cell === "number"));
  each("ISTEXT", (cell) => (isObject(cell) ? cell.isString() : typeof cell === "string"));
  each("ISERROR", isError);
  each("TRIM", (cell) => {
    if (isError(cell)) return cell;
    const text = textOf(cell);
    return text === undefined || UNEVEN_SPACE.test(text) ? undefined : text;
  });
  each("LOWER", (cell) => (isError(cell) ? cell : textOf(cell)?.toLocaleLowerCase()));

  replace("ROW", (cells) => {
    const plain = cells && plainColumn(cells);
    return plain && new PlainColumn(plain.map((_, row) => (cells as ArrayValueObject).getCurrentRow() + row + 1));
  });

  // This is also what & does.
  replace("CONCATENATE", (...parts) => {
    const rows = parts.map(plainColumn).find(Boolean)?.length;
    if (rows === undefined) return undefined;
    const inRows = parts.map((part) => inEachRow(part, rows));
    const result: Plain[] = new Array(rows);
    for (let row = 0; row < rows; row++) {
      let joined: Plain = "";
      for (const part of inRows) {
        const cell = part?.(row);
        const text = cell === undefined ? undefined : textOf(cell);
        if (cell !== undefined && isError(cell)) joined = cell;
        else if (text === undefined) return undefined;
        if (typeof joined !== "string") break;
        joined += text;
      }
      result[row] = joined;
    }
    return new PlainColumn(result);
  });

  const notFound = modules.ErrorValueObject.create("#VALUE!" as never);
  replace("FIND", (wanted, within, start) => {
    const words = plainColumn(wanted!);
    const text = start || !words ? undefined : oneValue(within!);
    if (typeof text !== "string" || text === "" || !words?.every((word) => typeof word === "string")) return undefined;
    return new PlainColumn(words.map((word) => text.indexOf(word as string) + 1 || notFound));
  });

  const notThere = modules.ErrorValueObject.create("#N/A" as never);
  replace("MATCH", (wanted, among, kind) => {
    const sought = plainColumn(wanted!);
    const searched = sought && kind && oneValue(kind) === 0 ? plainColumn(among!) : undefined;
    if (!sought?.every(isNumber) || !searched?.every((cell) => !isObject(cell))) return undefined;
    const places = new Map<Plain, number>();
    for (const [at, cell] of searched.entries()) if (!places.has(cell)) places.set(cell, at + 1);
    return new PlainColumn(sought.map((number) => places.get(number) ?? notThere));
  });

  replace("IF", (test, yes, no = BooleanValueObject.create(false)) => {
    const tests = plainColumn(test!);
    const onYes = tests && inEachRow(yes!, tests.length);
    const onNo = tests && inEachRow(no, tests.length);
    if (!onYes || !onNo) return undefined;
    const chosen = (value: Plain, row: number) => {
      if (isError(value)) return value;
      return withoutFormat(value) ? onYes(row) : onNo(row);
    };
    return new PlainColumn(tests.map(chosen));
  });

  replace("IFERROR", (value, otherwise) => {
    const plain = plainColumn(value!);
    const onError = plain && inEachRow(otherwise!, plain.length);
    return onError && new PlainColumn(plain.map((cell, row) => (isError(cell) ? onError(row) : cell)));
  });

  // A range has its size without any of its cells being read.
  for (const [name, side] of [
    ["ROWS", "Row"],
    ["COLUMNS", "Column"],
  ] as const) {
    functions.getExecutor(name as never)!.needsReferenceObject = true;
    replace(name, (given) => {
      if (!given?.isReferenceObject()) return undefined;
      const position = (given as unknown as BaseReferenceObject).getRangePosition();
      return NumberValueObject.create(position[`end${side}`] - position[`start${side}`] + 1);
    });
  }

  // With a column on the left the column itself calculates.
  for (const name of ["plus", "minus", "multiply", "divided"] as const) {
    const step = stepOf(name);
    replace(name.toUpperCase(), (left, right) => {
      const plain = plainColumn(right!);
      const one = plain && !plainColumn(left!) ? oneValue(left!) : undefined;
      return plain && one !== undefined ? new PlainColumn(plain.map((value) => step(one, value))) : undefined;
    });
  }
}
