/** The loops that the benchmark holds the functions against give the same answers, or beating them would mean nothing. */
import { describe, expect, it } from "vitest";
import { CATALOGUE, isList } from "../catalogue";
import { expectClose } from "../helpers";
import { LOOPED, roomFor, rowsOf } from "./columns";
import { loopOf } from "./loops";

const ROWS = 2000;

describe("the bare loops", () => {
  it("are there for every function but some that read ranges as a whole", () => {
    const without = CATALOGUE.filter((entry) => !LOOPED.includes(entry));
    expect(without.map(({ id }) => id)).toEqual(expect.arrayContaining(["LADDER", "CHEAPESTSTEPS"]));
    for (const { id, params } of without) expect(params.some(isList), id).toBe(true);
    expect(LOOPED.length).toBeGreaterThanOrEqual(49);
  });

  // Those of functions that read ranges as a whole are written from the definitions: each is the other's check.
  it.each(LOOPED)("$id gives what the function gives, row by row", (entry) => {
    const { columns, args } = rowsOf(entry, ROWS);
    const answers = entry.shipped(...args);
    const out = roomFor(answers);
    loopOf(entry)(out, ...columns);
    expect(out.length).toBe(answers.length);
    for (const [i, line] of answers.entries()) {
      const answer = line.at(-1);
      if (typeof answer === "number") expectClose(out[i], answer, 1e-9);
      else expect(out[i], `row ${i + 1}`).toBe(answer);
    }
  });
});
