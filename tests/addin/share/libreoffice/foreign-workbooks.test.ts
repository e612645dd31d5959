/** Workbooks that LibreOffice writes, made of those of other libraries: each copies clean, with its values. */
import { expect, it } from "vitest";
import { reportCompared } from "../../../run/compared";
import { comparedInCopies } from "../copy-checks";
import { corpus } from "../corpus";
import { excelizeCorpus } from "../corpus-excelize";
import { rewritten } from "./soffice";

/** Enough for every kind of part that LibreOffice keeps. */
const EVERY = 20;

let compared = 0;
reportCompared("workbooks that LibreOffice wrote", () => compared);

it("copies of what LibreOffice writes are clean, with its values", async () => {
  const { workbooks } = await corpus();
  const { workbooks: more } = await excelizeCorpus();
  const chosen = [...workbooks.filter((_, i) => i % EVERY === 0), ...more];
  const written = await rewritten(chosen.map(({ bytes }) => bytes));
  expect(written).toHaveLength(chosen.length);
  for (const bytes of written) compared += comparedInCopies(bytes);
}, 600_000);
