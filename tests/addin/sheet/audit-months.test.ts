/** The audit by time: months, their limits worked by hand, and what follows when the list changes. */
import { expect, it, vi } from "vitest";
import { close } from "./agreement";
import { auditCells, auditList, rowsUnder, typeList } from "./job-lists";
import { openGritForEach, write } from "./workbook";

vi.setConfig({ testTimeout: 30_000 });
openGritForEach();

const HEADINGS = ["Job", "Finished", "Machine", "Quoted price", "Actual price", "Quoted cost", "Actual cost"];
/** December 30, 1899 is day 0. */
const day = (year: number, month: number, date: number) => Date.UTC(year, month - 1, date) / 86_400_000 + 25_569;

/** Twelve months from May 2025 on: fades of 5% and 6% in turn, and 30% in the last. */
const FADES = [...Array.from({ length: 11 }, (_, i) => (i % 2 === 0 ? 0.05 : 0.06)), 0.3];
const job = (name: string, finished: unknown, fade: number, machine = "Wide") => [
  ...[name, finished, machine, 1000, 1000, 600, 600 + 1000 * fade],
];
// Newest first, as some keep their lists.
const LIST = FADES.map((fade, i) => job(`J${i}`, day(2025, 5 + i, 15), fade, i < 6 ? "Wide" : "Narrow")).reverse();

const months = async () =>
  rowsUnder(
    await auditCells(),
    ["Month", "Jobs", "Fade, money", "Fade", "Change", "Center", "Low", "High", "Outside?"],
    "Margin fade by month",
  );

it("shows each month beside its limits, and which is outside", async () => {
  await typeList("Past", "A1", [HEADINGS, ...LIST, job("Undated", "May", 0.5)]);
  await auditList();
  const rows = await months();
  const dated = rows.slice(0, 12);
  expect(dated.map(({ Month }) => Month)).toEqual(FADES.map((_, i) => day(2025, 5 + i, 1)));
  dated.forEach(({ Jobs, Fade, ...row }, i) => {
    expect(Jobs).toBe(1);
    close(Fade, FADES[i]!);
    close(row["Fade, money"], 1000 * FADES[i]!);
    // Six of 5%, five of 6%, one of 30%. Ten changes of 1% and one of 25%: 0.35 / 11. Limits as in NIST 6.3.2.2.
    close(row.Center, 0.9 / 12);
    close(row.High, 0.9 / 12 + ((3 / 1.128) * 0.35) / 11);
    close(row.Low, 0.9 / 12 - ((3 / 1.128) * 0.35) / 11);
    expect(row["Outside?"]).toBe(i === 11 ? "outside" : "");
  });
  expect(dated[0]!.Change).toBe("");
  close(dated[11]!.Change, 0.25);
  expect([rows[12]!.Month, rows[12]!.Jobs]).toEqual(["other or no date", 1]);
});

it("follows a corrected job, and leaves out a month that has lost its jobs", async () => {
  await typeList("Past", "A1", [HEADINGS, ...LIST]);
  await auditList();
  await write("Past!G2", [[650]]);
  expect((await months()).slice(0, 12).every((row) => row["Outside?"] === "")).toBe(true);
  await write("Past!B3", [["moved"]]);
  const rows = await months();
  expect([rows[10]!.Jobs, rows[10]!.Fade, rows[10]!.Change, rows[11]!.Change]).toEqual([0, "", "", ""]);
  expect(rows[12]!.Jobs).toBe(1);
  // Six of 5% as before, the last of 5% now, without one: 5 × 5% + 5 × 6% + 5% over 11.
  close(rows[0]!.Center, 0.6 / 11);
});

it("adds up the fade by machine", async () => {
  await typeList("Past", "A1", [HEADINGS, ...LIST]);
  await auditList();
  const rows = rowsUnder(await auditCells(), ["Machine", "Jobs", "Fade, money", "Fade"], "Margin fade by machine");
  // Wide: three of 5% and three of 6%. Narrow: three of 5%, two of 6% and one of 30%.
  expect(rows.map(({ Machine, Jobs }) => [Machine, Jobs])).toEqual([
    ["Narrow", 6],
    ["Wide", 6],
    ["other or blank", 0],
  ]);
  close(rows[0]!["Fade, money"], 570);
  close(rows[1]!["Fade, money"], 330);
  close(rows[0]!.Fade, 0.095);
});

it("has no months where the list says none", async () => {
  const without = [HEADINGS, ...LIST].map(([name, , ...rest]) => [name!, ...rest]);
  await typeList("Past", "A1", without);
  await auditList();
  expect((await auditCells()).flat()).not.toContain("Margin fade by month");
});
