/** The commands of the Jobs view; they run one at a time with the others, and the long ones can be cancelled. */
import { type Audit, auditSteps } from "../../../functions/audit/audit";
import type { CheckedJobs, Job } from "../../../functions/audit/check";
import type { Mapping } from "../../../functions/audit/fields";
import {
  findJobList,
  findLastList,
  type Inserted,
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
import { cancellable } from "../cancellable";
import type { Message } from "../state";
import type { Store } from "../store";
import { checkDigest, type JobsState, plural, takeCheck, takeSource } from "./state";

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

type Run = (doing: string, work: () => Promise<Message | null>) => Promise<void>;

const done = (text: string, inserted?: Inserted): Message => ({ kind: "done", text, inserted });
const note = (text: string): Message => ({ kind: "note", text });

/** Does without what is refused, and gives the reason to tell; "" when nothing was refused. */
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
    await means.progress(0, 1, "Working out the figures");
    stopIfAsked(means);
  }
}

export function jobsCommandsOn(store: Store, run: Run): JobsCommands {
  const change = (next: (jobs: JobsState) => JobsState) =>
    store.change((state) => ({ ...state, jobs: next(state.jobs) }));

  const long = cancellable((progress) => change((jobs) => ({ ...jobs, progress })));

  /** Takes a list that was found, with the headings of last time where they fit. */
  async function take(source: JobSource): Promise<Message> {
    let mapping: Mapping = {};
    const refused = await unlessRefused(readMapping().then((last) => (mapping = last?.mapping ?? {})));
    change((jobs) => takeSource(jobs, source, mapping));
    const text = `${source.name}: ${source.headings.length} columns, ${plural(source.rows, "row")}.`;
    return refused ? note(`${text} ${refused}`) : done(text);
  }

  /** Reads and checks the list as it is now, and remembers the headings that served. */
  async function check(means: Means): Promise<{ found: CheckedJobs; audit: Audit; refused: string }> {
    const { source, mapping } = store.state.jobs;
    const found = await readJobs(source!, mapping, means);
    const audit = await workOut(found.jobs, mapping, means);
    const refused = await unlessRefused(rememberMapping(source!, mapping));
    change((jobs) => takeCheck(jobs, { rows: found.rows, problems: found.problems, audit }));
    return { found, audit, refused };
  }

  return {
    look() {
      const { message } = store.state;
      return run("Looking for your past jobs…", async () => {
        change((jobs) => ({ ...jobs, looked: true }));
        const tables = await jobTables();
        change((jobs) => ({ ...jobs, tables }));
        const last = await readMapping();
        const source = last && (await findLastList(last.place));
        if (source) change((jobs) => takeSource(jobs, source, last.mapping));
        return message;
      });
    },

    takeSelected: () => run("Reading the list at the selected cell…", async () => take(await findJobList())),

    takeTable: (table) => run("Reading the table…", async () => take(await findJobList({ table }))),

    insertTable: () =>
      run("Inserting a jobs table…", async () => {
        const inserted = await insertJobsTable(store.state.inputs.units);
        const tables = await jobTables();
        // The new one first: it is what the user goes on with.
        const isOld = (table: string) => Number(store.state.jobs.tables.includes(table));
        change((jobs) => ({ ...jobs, tables: tables.sort((a, b) => isOld(a) - isOld(b)) }));
        return done(`${inserted.what}.`, inserted);
      }),

    check: () =>
      run("Checking the list…", () =>
        long.run(async (means) => {
          const { refused } = await check(means);
          const text = `${checkDigest(store.state.jobs.checked!)}.`;
          return refused ? note(`${text} ${refused}`) : done(text);
        }),
      ),

    writeAudit: () =>
      run("Writing the audit sheet…", () =>
        long.run(async (means) => {
          // The user may have mended the list since it was checked.
          const { found, audit } = await check(means);
          const { source, mapping } = store.state.jobs;
          const sheet = await insertAudit(source!, mapping, audit, found.problems, means);
          change((jobs) => ({ ...jobs, written: { sheet, groups: audit.groups } }));
          return done(`${sheet.what}.`, sheet);
        }),
      ),

    cancel: long.cancel,
  };
}
