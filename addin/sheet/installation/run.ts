/** Tries in this Excel what the add-in relies on, one check after the other; nothing of it stays in the workbook. */
import { inWorkbook, refuseReadOnly, whyOf } from "../in-workbook";
import type { Means } from "../job-list";
import { refuse } from "../refusals";
import { CantTry, type Check, codeOf, type Outcome } from "./check";
import { type Found, lookAt, noTraces, Scratch, type Tools, type Traces, takeAway } from "./scratch";
import { INSTALLATION, refuseInstallation } from "./texts";

export interface Tried {
  readonly check: Check;
  readonly outcome: Outcome;
}

export interface Installation {
  readonly tried: readonly Tried[];
  /** Sheets that could not be taken away. */
  readonly left: readonly string[];
  /** Set by hand, formulas that were just entered may not have calculated. */
  readonly calculation: string;
}

const inAll = ({ expects }: Check): readonly string[] => (typeof expects === "string" ? [expects] : expects);

export async function checkInstallation(
  checks: readonly Check[],
  tools: Tools,
  { signal, progress }: Means,
): Promise<Installation> {
  const found = await lookFirst();
  const tried: Tried[] = [];
  let left: readonly string[] = [];
  for (const [i, check] of checks.entries()) {
    await progress(i, checks.length, INSTALLATION.trying);
    if (signal.aborted) throw refuseInstallation("canceled");
    if (left.length > 0) {
      tried.push({ check, outcome: { kind: "untried", why: INSTALLATION.stopped } });
      continue;
    }
    const traces = noTraces();
    const outcome = await outcomeOf(check, found, traces, tools);
    tried.push({ check, outcome });
    left = await clearUp(traces, found);
  }
  return { tried, left, calculation: found.calculation };
}

/** Refuses in words where no sheet can be added. */
async function lookFirst(): Promise<Found> {
  const traces = noTraces();
  const look = inWorkbook(async (context) => {
    const { protection } = context.workbook;
    protection.load("protected");
    await context.sync();
    refuseReadOnly(context);
    if (protection.protected) throw refuse("structureProtected");
    return await lookAt(context, traces);
  });
  let why = "";
  await look.catch(async (error) => {
    why = await whyOf(error);
  });
  const left = await clearUp(traces, { selected: undefined });
  if (left.length > 0) throw refuseInstallation("left", { why, sheets: left });
  return await look;
}

async function outcomeOf(check: Check, found: Found, traces: Traces, tools: Tools): Promise<Outcome> {
  let got: string;
  try {
    got = await Excel.run((context) => check.run(new Scratch(context, found, traces, tools)));
  } catch (error) {
    if (error instanceof CantTry) return { kind: "untried", why: error.message };
    got = codeOf(error);
  }
  return { kind: inAll(check).includes(got) ? "held" : "differs", got };
}

/** Ends with the sheets that are still there, or may be. */
async function clearUp(traces: Traces, found: Pick<Found, "selected">): Promise<readonly string[]> {
  if (traces.sheets.length === 0) return [];
  // A second try, since what made the first fail may be over.
  return takeAway(traces, found)
    .catch(() => takeAway(traces, found))
    .then(
      () => [],
      () => traces.sheets,
    );
}
