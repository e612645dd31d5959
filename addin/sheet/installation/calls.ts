/** Calls of our functions: what they are given, and what becomes of what they give. */
import { inNamespace } from "../write";
import { CantTry, type Check, shown } from "./check";

declare const CustomFunctions: { readonly Error: new (code: string) => Error };

const NOT_CALLED = "the function wasn't called";

/** One cell of an argument, of which a function is given a block. */
const cellIn = (argument: unknown, row = 0): unknown => (argument as unknown[][] | null)?.[row]?.[0];

/** An error cell as a function is given it. */
const errorCode = (cell: unknown) =>
  typeof cell === "object" && cell !== null && "code" in cell ? `an error ${String(cell.code)}` : shown(cell);

const failing = (code: string) => () => {
  throw new CustomFunctions.Error(code);
};

export const CALLS: readonly Check[] = [
  {
    id: "formula-reads-back",
    words: "One of our formulas reads back as it was entered, and calculates",
    expects: "=GRIT.SIZE(30) gives [[600]]",
    isGuess: true,
    async run(scratch) {
      await scratch.enter("A1", [[inNamespace("=GRIT.SIZE(30)")]]);
      const cell = scratch.range("A1").load("formulas");
      const values = await scratch.values("A1");
      const formula = String(cell.formulas[0]![0]).replace(inNamespace("GRIT."), "GRIT.");
      return `${formula} gives ${shown(values)}`;
    },
  },
  {
    id: "call-follows",
    words: "One of our formulas recalculates when a cell it uses changes",
    expects: "[[300]]",
    async run(scratch) {
      await scratch.enter("A1", [[30]]);
      await scratch.enter("B1", [[inNamespace("=GRIT.SIZE(A1)")]]);
      await scratch.values("B1");
      await scratch.enter("A1", [[50]]);
      return shown(await scratch.values("B1"));
    },
  },
  {
    id: "blank-cell",
    words: "A blank cell as an argument is null, an empty text or 0",
    expects: ["null", '""', "0"],
    async run(scratch) {
      const heard = await scratch.call("A1", ",B1");
      return heard ? shown(cellIn(heard[0])) : NOT_CALLED;
    },
  },
  {
    id: "blank-in-range",
    words: "A blank cell of a range is null, an empty text or 0",
    expects: ["5, null", '5, ""', "5, 0"],
    async run(scratch) {
      await scratch.enter("B1", [[5]]);
      const heard = await scratch.call("A1", ",B1:B2");
      return heard ? `${shown(cellIn(heard[0]))}, ${shown(cellIn(heard[0], 1))}` : NOT_CALLED;
    },
  },
  {
    id: "omitted-argument",
    words: "An argument left out is null, and the call's own object is last",
    expects: "null, then an object",
    async run(scratch) {
      const heard = await scratch.call("A1", "");
      if (!heard) return NOT_CALLED;
      const [omitted, last] = heard;
      return `${shown(omitted)}, then ${typeof last === "object" && last !== null ? "an object" : shown(last)}`;
    },
  },
  {
    id: "kinds-of-values",
    words: "Numbers, text, TRUE and FALSE reach a function unchanged",
    expects: '[[5],["a"],[true]]',
    async run(scratch) {
      await scratch.enter("B1:B3", [[5], ["a"], [true]]);
      const heard = await scratch.call("A1", ",B1:B3");
      return heard ? shown(heard[0]) : NOT_CALLED;
    },
  },
  {
    id: "array-constant",
    words: "A list typed into the formula reaches a function as a column",
    expects: "[[30],[60]]",
    async run(scratch) {
      const heard = await scratch.call("A1", ",{30;60}");
      return heard ? shown(heard[0]) : NOT_CALLED;
    },
  },
  {
    id: "error-argument",
    words: "An error as an argument reaches a function, with its code",
    expects: "an error #N/A",
    async run(scratch) {
      await scratch.enter("B1", [["=NA()"]]);
      const heard = await scratch.call("A1", ",B1");
      return heard ? errorCode(cellIn(heard[0])) : NOT_CALLED;
    },
  },
  {
    id: "error-in-range",
    words: "An error in a range reaches a function beside the other cells",
    expects: "5, an error #DIV/0!",
    async run(scratch) {
      await scratch.enter("B1:B2", [[5], ["=1/0"]]);
      const heard = await scratch.call("A1", ",B1:B2");
      return heard ? `${shown(cellIn(heard[0]))}, ${errorCode(cellIn(heard[0], 1))}` : NOT_CALLED;
    },
  },
  {
    id: "error-in-answer",
    words: "An error in a list that a function gives is shown in its cell alone",
    expects: '[[1,"#N/A"],["a",true]]',
    async run(scratch) {
      const error = () => new CustomFunctions.Error("#N/A");
      const heard = await scratch.call("A1", "", () => [
        [1, error()],
        ["a", true],
      ]);
      return heard ? shown(await scratch.values("A1:B2")) : NOT_CALLED;
    },
  },
  {
    id: "empty-text-in-answer",
    words: "An empty text that a function gives is shown as nothing",
    expects: '[[""],[1]]',
    async run(scratch) {
      const heard = await scratch.call("A1", "", () => [[""], [1]]);
      return heard ? shown(await scratch.values("A1:A2")) : NOT_CALLED;
    },
  },
  {
    id: "thrown-errors",
    words: "An error that a function throws is shown with its own code",
    expects: '[["#N/A","#VALUE!","#DIV/0!","#NUM!"]]',
    async run(scratch) {
      for (const [i, code] of ["#N/A", "#VALUE!", "#DIV/0!", "#NUM!"].entries()) {
        if (!(await scratch.call(`${"ABCD"[i]}1`, "", failing(code)))) throw new CantTry(NOT_CALLED);
      }
      return shown(await scratch.values("A1:D1"));
    },
  },
];
