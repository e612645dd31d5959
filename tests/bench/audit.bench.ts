/**
 * The audit of a thousand to twenty thousand past jobs, twelve columns, over the headless host: the real client library, the
 * preview's engine, nothing drawn. "The check" reads the whole list and works its figures out; "the audit" is all that follows
 * until its sheet is written, calculated, and every figure read back; both together are what "Write the audit" does.
 */
import { expect, it } from "vitest";
import { findJobList, insertAudit, readJobs } from "../../addin/sheet";
import { auditOf } from "../../functions/audit/audit";
import { guessMapping } from "../../functions/audit/headings";
import { quietly, typeList } from "../addin/sheet/job-lists";
import { openGrit } from "../addin/sheet/workbook";
import { MANY_JOBS_HEADINGS, manyJobs } from "./many-jobs";
import { exponent, median, report, table } from "./measure";

const SIZES = [1000, 5000, 20_000];
const TURNS = 3;

interface Took {
  readonly wall: number;
  /** Processor time of all of this process's threads; garbage is cleared up on others. */
  readonly processor: number;
}

async function timed<Result>(work: () => Promise<Result>): Promise<[Result, Took]> {
  const before = process.cpuUsage();
  const start = performance.now();
  const result = await work();
  const wall = performance.now() - start;
  const { user, system } = process.cpuUsage(before);
  return [result, { wall, processor: (user + system) / 1000 }];
}

/** A list typed into a workbook of its own, checked and audited. */
async function turn(rows: number) {
  const workbook = await openGrit();
  await typeList("Old jobs", "A1", [MANY_JOBS_HEADINGS, ...manyJobs(rows)]);
  globalThis.gc?.();
  const source = await findJobList();
  const mapping = guessMapping(source.headings);
  const [checked, check] = await timed(async () => {
    const { jobs, problems } = await readJobs(source, mapping, quietly());
    return { audit: auditOf(jobs), problems };
  });
  const [, audit] = await timed(() => insertAudit(source, mapping, checked.audit, checked.problems, quietly()));
  expect(checked.audit.jobs + checked.problems.length).toBe(rows);
  await workbook.dispose();
  return { check, audit };
}

it("measures the audit of a thousand to twenty thousand jobs", async () => {
  await turn(SIZES[0]!);
  const lines: (readonly [number, number, number, number, number])[] = [];
  for (const rows of SIZES) {
    const turns: Awaited<ReturnType<typeof turn>>[] = [];
    for (let i = 0; i < TURNS; i++) turns.push(await turn(rows));
    const of = (part: "check" | "audit", what: keyof Took) => median(turns.map((taken) => taken[part][what]));
    lines.push([rows, of("check", "wall"), of("check", "processor"), of("audit", "wall"), of("audit", "processor")]);
  }
  const grows = ([1, 2, 3, 4] as const).map(
    (column) => `rows^${exponent(lines.map((line) => [line[0], line[column]] as const)).toFixed(2)}`,
  );
  const rows = lines.map(([count, ...times]) => [count.toLocaleString("en-US"), ...times]);
  const head = ["jobs", "check, ms", "its processor time", "audit, ms", "its processor time"];
  report(`The audit of past jobs, medians of ${TURNS}`, table(head, [...rows, ["grows as", ...grows]]));
});
