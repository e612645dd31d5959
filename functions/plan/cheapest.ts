/** The sequence of least cost from the shelf, each stage on the machine that does it for least, however coarse its start. */
import { machinesFor } from "./estimate";
import { type Inputs, orStart } from "./inputs";
import { candidatesOf, endsOn, lastTool, notesOn, onceStripped, type Proposal, troubles, withOthers } from "./proposal";
import { type Candidate, depthOf, optionsOf, search } from "./search";
import type { Shelf } from "./shelf";

export function cheapest(inputs: Inputs, shelf: Shelf): Proposal {
  const notes = notesOn(inputs);
  const candidates = candidatesOf(inputs, shelf, notes);
  const last = lastTool(candidates, inputs);
  if (typeof last === "string") return { stages: [], notes: [...notes, last] };

  const machines = machinesFor(inputs, shelf);
  const floor = onceStripped(inputs, shelf);
  const isMeasured = (candidate: Candidate) =>
    optionsOf([candidate], machines, inputs).every(({ cut }) => cut !== undefined);
  const measured = candidates.filter(isMeasured);
  const left = candidates.filter((candidate) => !measured.includes(candidate)).map(({ tool }) => tool.name);
  if (left.length > 0) notes.push(`Left out (no measured cut per pass): ${left.join(", ")}.`);

  const none = (why: string): Proposal => ({
    stages: [],
    notes: [...notes, `The shelf has no workable sequence: ${why}.`],
  });
  const found = search(measured, { machines, startsAsUsual: false, isLast: endsOn(last, inputs) }, floor);
  if (!found) return none(`no measured tool of grit ${last.tool.grit}`);
  const has = (fault: (typeof found.faults)[number][number]) => found.faults.some((faults) => faults.includes(fault));
  if (has("order"))
    return none(
      `no steps of at most ${orStart(inputs, "maxRatio")} lead from ${Math.round(depthOf(floor))} µm to grit ${last.tool.grit}`,
    );
  if (has("short")) return none("the listed passes don't remove this depth and each scratch after it");
  notes.push(...troubles(found, inputs));
  const [start, ...rest] = withOthers(found.path, inputs, shelf, notes);
  const reason = `Cheapest start for removing ${Math.round(depthOf(floor))} µm.`;
  return { stages: [{ ...start!, reason }, ...rest], notes };
}
