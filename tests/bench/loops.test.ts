/** The loops that the benchmark holds the functions against give the same answers, or beating them would mean nothing. */
import { describe, expect, it } from "vitest";
import { CATALOGUE } from "../catalogue";
import { expectClose } from "../helpers";
import { LOOPED, roomFor, rowsOf } from "./columns";
import { LOOPS, SEARCHES } from "./loops";

const ROWS = 2000;

describe("the bare loops", () => {
  it("are there for every function but the searches", () => {
    const others = CATALOGUE.map(({ id }) => id).filter((id) => !SEARCHES.includes(id));
    expect(Object.keys(LOOPS).sort()).toEqual(others.sort());
  });

  // The loops are written from the definitions, apart from the functions: each is the other's check.
  it.each(LOOPED)("$id gives what the function gives, row by row", (entry) => {
    const { columns, args } = rowsOf(entry, ROWS);
    const answers = entry.fn(...args);
    const out = roomFor(answers);
    LOOPS[entry.id]!(out, ...columns);
    expect(out.length).toBe(answers.length);
    for (const [i, line] of answers.entries()) {
      const answer = line.at(-1);
      if (typeof answer === "number") expectClose(out[i], answer, 1e-9);
      else expect(out[i], `row ${i + 1}`).toBe(answer);
    }
  });
});
