/** Every text of the test strip's card and of the scratch test, which come when they are opened. */
import { grouped } from "../../../functions/plan/field";

export const SCRATCH = {
  label: "Softest pick that scratches the slab",
  note: "Fills in the hardness midway to the pick before",
  choose: "Choose…",
  pick: (name: string, mohs: number, hardness: number) => `${name} (${mohs}): hardness ${hardness}`,
  none: (hardness: number) => `none of them: hardness ${hardness}`,
} as const;

export const STRIP = {
  tool: { label: "Tool", note: "The one you measured" },
  machine: { label: "Machine", note: "The one that ran the strip" },
  choose: "Choose…",
  cutTitle: "Cut of one pass",
  cut: { label: "Depth removed", note: "Average of several points; 0.001 in is 25.4 µm" },
  passes: { label: "Passes over the strip", note: "Blank is 1" },
  slideSpeed: { label: "Sliding speed", note: "Blank: from the heads below, else the plan's" },
  headRadius: { label: "Machine axis to head axis", note: "0 or blank if the machine has one head" },
  toolRadius: { label: "Head axis to tool", note: "To the middle of the segments" },
  headSpeed: { label: "Head speed", note: "Relative to the carrier; negative if it turns opposite" },
  carrierSpeed: { label: "Carrier speed", note: "0 or blank if it doesn't turn" },
  overlap: "Overlap the lanes on the strip as on the job.",
  wearTitle: "Segment wear",
  heightBefore: { label: "Segment height before", note: "Set average in mm; 1 in is 25.4 mm" },
  heightAfter: { label: "Segment height after", note: "At the same points" },
  wornArea: { label: "Area ground between measurements", note: "Ground with this set" },
  wornPasses: { label: "Passes over that area", note: "Blank is 1" },
  newHeight: { label: "Height when new", note: "New segment, above its holder" },
  wornOut: { label: "Height when worn out", note: "Where you change the set" },
  oneSet: "For one set on the machine entered above.",
  coefficient: "Cutting coefficient",
  wear: "Wear",
  life: "Life of a set, one pass",
  use: "Use in this plan",
  restore: "Restore previous values",
  remember: "Add to the workbook's test strips",
  remembered: "Test strips of this tool",
  rememberedWords: (strips: number, hardness: string, coefficient: string, low: string, high: string) =>
    strips === 1
      ? `1 strip at Mohs ${hardness}: ${coefficient} mm³/kJ.`
      : `${strips} strips at Mohs ${hardness}: ${coefficient} mm³/kJ, ${low} to ${high}.`,
  useRemembered: "Use these strips in this plan",
  range: (passes: string, hours: string, price: string) =>
    `With them, two jobs in three take ${passes} passes, ${hours} h and ${price}.`,
  to: (low: string, high: string) => (low === high ? low : `${low} to ${high}`),
  writeCut: "Write the cut per pass to the tooling table",
  writeWear: "Write wear and life to the tooling table",
  outside: (label: string, domain: string, value: number) => `${label} must be ${domain}; got ${grouped(value)}`,
  fixFields: "Fix the highlighted fields.",
  fixMachine: "Fix the Machine section first.",
  chooseTool: "Choose the tool you measured.",
  needed: (labels: readonly string[]) => `Still needed: ${labels.join(", ")}.`,
  speedNeeded: "Still needed: the sliding speed, or the heads and their speeds.",
  machineGone: (name: string) => `The machines table has no ${name}. Choose another.`,
  toolTrouble: (tool: string, why: string) => `${tool}: ${why}.`,
  afterAboveBefore: (before: number, after: number) =>
    `Height after must be at most the height before (${before} mm); got ${after} mm.`,
  noWear: "No measurable wear yet: grind more floor, then measure again.",
  beforeAboveNew: (before: number, fresh: number) =>
    `Height when new must be at least the height before (${before} mm); got ${fresh} mm.`,
  wornAboveNew: (fresh: number, least: number) =>
    `A worn-out set must be lower than a new one (${fresh} mm); got ${least} mm.`,
  ran: (speed: string, load: string, width: string, overlap: string) =>
    `At ${speed} (including the tool's speed factor), ${load}, ${width}, ${overlap}% overlap.`,
} as const;
