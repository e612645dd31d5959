/** The commands of the Jobs view; they run one at a time with the others, and the long ones can be cancelled. */
import { auditOf } from "../../functions/audit/audit";
import type { CheckedJobs } from "../../functions/audit/check";
import {
  findJobList,
  findLastList,
  type Inserted,
  insertAudit,
  insertJobsTable,
  type JobSource,
  jobTables,
  type Means,
  readJobs,
  readMapping,
  rememberMapping,
} from "../sheet";
import { checkDigest, type JobsState, takeCheck, takeSource } from "./jobs";
import type { Message } from "./state";
import type { Store } from "./store";

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

export function jobsCommandsOn(store: Store, run: Run): JobsCommands {
  let cancelling = new AbortController();

  const change = (next: (jobs: JobsState) => JobsState) =>
    store.change((state) => ({ ...state, jobs: next(state.jobs) }));

  /** Work that shows how far it is, and stops on `cancel`. */
  async function cancellable(work: (means: Means) => Promise<Message>): Promise<Message> {
    cancelling = new AbortController();
    const { signal } = cancelling;
    try {
      return await work({
        signal,
        progress: (done, of, doing) => change((jobs) => ({ ...jobs, progress: { done, of, doing } })),
      });
    } catch (error) {
      if (signal.aborted) return { kind: "note", text: "Cancelled; nothing was written." };
      throw error;
    } finally {
      change((jobs) => ({ ...jobs, progress: null }));
    }
  }

  /** Takes a list that was found, with the headings of last time where they fit. */
  async function take(source: JobSource): Promise<Message> {
    const last = await readMapping();
    change((jobs) => takeSource(jobs, source, last?.mapping ?? {}));
    return done(`${source.name}: ${source.headings.length} columns, ${source.rows} rows.`);
  }

  /** Reads and checks the list as it is now; headings that served are remembered. */
  async function check(means: Means): Promise<CheckedJobs> {
    const { source, mapping } = store.state.jobs;
    const found = await readJobs(source!, mapping, means);
    await rememberMapping(source!, mapping);
    change((jobs) => takeCheck(jobs, { ...found, audit: auditOf(found.jobs) }));
    return found;
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
        return done(`${inserted.what}.`, inserted);
      }),

    check: () =>
      run("Checking the list…", () =>
        cancellable(async (means) => {
          await check(means);
          return done(`${checkDigest(store.state.jobs.checked!)}.`);
        }),
      ),

    writeAudit: () =>
      run("Writing the audit sheet…", () =>
        cancellable(async (means) => {
          // The user may have mended the list since it was checked.
          const { problems } = await check(means);
          const { source, mapping, checked } = store.state.jobs;
          const written = await insertAudit(source!, mapping, checked!.audit, problems, means);
          change((jobs) => ({ ...jobs, written }));
          return done(`${written.what}.`, written);
        }),
      ),

    cancel: () => cancelling.abort(),
  };
}
