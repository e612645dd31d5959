/** Writes many plans, each on a sheet of its own, in one command: all of them or none. */
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { fillSheet, insertShelf, layouts, listsOf, planSheetName, refuseStructure, watchedIn } from "./insert";
import { allOrNothing, type Inserted } from "./ledger";
import { freePlanNames } from "./names";
import { askRowCounts } from "./past-jobs";
import type { Plan, PlanNames } from "./plan";
import { askNames, refuseDuplicates, shelfNames } from "./shelf";
import { lookAround } from "./surroundings";

/** Plans sent in one request: one is about 270 KB, and Excel on the web takes 5 MB. */
const SENT_AT_ONCE = 10;

/** What is told of them. */
const plansWritten = (sheets: readonly string[]) =>
  sheets.length === 1
    ? `1 stage plan written to the new sheet “${sheets[0]}”`
    : `${sheets.length} stage plans written to new sheets, “${sheets[0]}” to “${sheets.at(-1)}”`;

export function insertPlans(given: readonly Plan[]): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const around = await lookAround(context);
    const { planSheet } = await layouts();
    refuseReadOnly(context);
    const { shelf } = around;
    const onShelf = shelf && askNames(shelf);
    const withRowCounts = given.map(({ pastJobs }) => askRowCounts(context, around, pastJobs));
    await context.sync();
    if (onShelf) refuseDuplicates(onShelf);
    refuseStructure(context);
    const named = namesOf(given, around.names, shelf && shelfNames(shelf));
    const ours = named.flatMap((names) => Object.values(names));
    return allOrNothing(context, async (ledger) => {
      ledger.takeOverNames(around.broken.filter(({ name }) => ours.includes(name)));
      const lists = onShelf ? listsOf(onShelf) : await insertShelf(ledger, given[0]!, named[0]!, around.sheets);
      const taken = [...around.sheets];
      const plans = given.map((plan, i) => {
        const name = planSheetName(plan, taken);
        taken.push(name);
        return { name, ...planSheet({ ...plan, pastJobs: withRowCounts[i]!() }, named[i]!, lists) };
      });
      const sheets = await ledger.addSheets(plans.map(({ name, block }) => ({ name, watched: watchedIn(block) })));
      for (const [i, made] of plans.entries()) {
        if (i > 0 && i % SENT_AT_ONCE === 0) await context.sync();
        await fillSheet(ledger, sheets[i]!, made, i === 0);
      }
      return { ...(await ledger.close()), what: plansWritten(plans.map(({ name }) => name)) };
    });
  });
}

const shelfPart = ({ tooling, liquids, machines, ...names }: PlanNames) => {
  const { toolingLacks, liquidsLacks, machinesLack, shelfUnits } = names;
  return { tooling, liquids, machines, toolingLacks, liquidsLacks, machinesLack, shelfUnits };
};

/** Each plan's names beside those of the plans before it; the shelf of the first is the others', too. */
function namesOf(
  plans: readonly Plan[],
  taken: readonly string[],
  shelf: Parameters<typeof freePlanNames>[1],
): PlanNames[] {
  const names = [...taken];
  let kept = shelf;
  return plans.map(() => {
    const own = freePlanNames({ sheets: [], names }, kept);
    kept ??= shelfPart(own);
    names.push(...Object.values(own).filter((name) => typeof name === "string"));
    return own;
  });
}
