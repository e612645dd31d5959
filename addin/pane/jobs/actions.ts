/** The commands of the Jobs view; they run one at a time with the others, and the long ones can be canceled. */
import { type Audit, auditSteps } from "../../../functions/audit/audit";
import type { CheckedJobs, Job } from "../../../functions/audit/check";
import type { Mapping } from "../../../functions/audit/headings";
import {
  findJobList,
  findLastList,
  insertAudit,
  insertJobsTable,
  type JobSource,
  jobTables,
  type Means,
  Refusal,
  readJobs,
  readMapping,
  rememberMapping,
  stopIfAsked,
} from "../../sheet";
import { cancelable } from "../cancelable";
import type { Pane } from "../commands";
import { done, type Message, note } from "../messages";
import { reading } from "../reads";
import { checkDigest, takeCheck } from "./check";
import { takeSource } from "./list";
import { JOBS, JOBS_COMMANDS } from "./texts";

export interface JobsCommands {
  /** Looks for tables, and for the list that was used last time. */
  look(): Promise<void>;
  takeSelected(): Promise<void>;
  takeTable(name: string): Promise<void>;
  insertTable(): Promise<void>;
  check(): Promise<void>;
  writeAudit(): Promise<void>;
  cancel(): void;
}

/** Does without what is refused, and gives the reason to show; "" when nothing was refused. */
async function unlessRefused(work: Promise<unknown>): Promise<string> {
  try {
    await work;
    return "";
  } catch (error) {
    if (error instanceof Refusal) return error.message;
    throw error;
  }
}

/** The pane hears and shows something between the steps. */
async function workOut(jobs: readonly Job[], mapping: Mapping, means: Means): Promise<Audit> {
  const steps = auditSteps(jobs, mapping);
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done) return step.value;
    await means.progress(0, 1, JOBS.working);
    stopIfAsked(means);
  }
}

export function jobsCommands(pane: Pane): JobsCommands {
  const { store, run } = pane;
  const jobs = store.part("jobs");
  const long = cancelable((progress) => jobs.change((now) => ({ ...now, progress })));

  /** Takes a list that was found, with the headings of last time where they fit. */
  async function take(source: JobSource): Promise<Message> {
    let mapping: Mapping = {};
    const refused = await unlessRefused(readMapping().then((last) => (mapping = last?.mapping ?? {})));
    jobs.change((now) => takeSource(now, source, mapping));
    const text = JOBS.taken(source.name, source.headings.length, source.rows);
    return refused ? note(`${text} ${refused}`) : done(text);
  }

  /** Reads and checks the list as it is now, and remembers the headings that served. */
  async function check(means: Means): Promise<{ found: CheckedJobs; audit: Audit; refused: string }> {
    const { source, mapping } = jobs.state;
    const found = await readJobs(source!, mapping, means);
    const audit = await workOut(found.jobs, mapping, means);
    const refused = await unlessRefused(rememberMapping(source!, mapping));
    jobs.change((now) => takeCheck(now, { rows: found.rows, problems: found.problems, audit }));
    return { found, audit, refused };
  }

  return {
    look() {
      const { message } = store.state;
      return reading(store, "jobs", () =>
        run(JOBS_COMMANDS.look, async () => {
          const tables = await jobTables();
          jobs.change((now) => ({ ...now, tables }));
          const last = await readMapping();
          const source = last && (await findLastList(last.place));
          if (source) jobs.change((now) => takeSource(now, source, last.mapping));
          return message;
        }),
      );
    },

    takeSelected: () => run(JOBS_COMMANDS.takeSelected, async () => take(await findJobList())),

    takeTable: (table) => run(JOBS_COMMANDS.takeTable, async () => take(await findJobList({ table }))),

    insertTable: () =>
      run(JOBS_COMMANDS.insertTable, async () => {
        const inserted = await insertJobsTable(store.state.plan.inputs.units);
        const tables = await jobTables();
        // The new one first: it is what the user goes on with.
        const isOld = (table: string) => Number(jobs.state.tables.includes(table));
        jobs.change((now) => ({ ...now, tables: tables.sort((a, b) => isOld(a) - isOld(b)) }));
        return done(`${inserted.what}.`, inserted);
      }),

    check: () =>
      run(JOBS_COMMANDS.check, () =>
        long.run(async (means) => {
          const { refused } = await check(means);
          const text = `${checkDigest(jobs.state.checked!)}.`;
          return refused ? note(`${text} ${refused}`) : done(text);
        }),
      ),

    writeAudit: () =>
      run(JOBS_COMMANDS.writeAudit, () =>
        long.run(async (means) => {
          // The user may have fixed the list since it was checked.
          const { found, audit } = await check(means);
          const { source, mapping } = jobs.state;
          const sheet = await insertAudit(source!, mapping, audit, found.problems, means);
          jobs.change((now) => ({ ...now, written: { sheet, groups: audit.groups } }));
          return done(`${sheet.what}.`, sheet);
        }),
      ),

    cancel: long.cancel,
  };
}
