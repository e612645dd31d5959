/** The plan being worked on, kept over a reload of the pane. */
import * as z from "zod/mini";
import { type Field, field, KEYS, type Key } from "../../../functions/plan/fields";
import type { Inputs } from "../../../functions/plan/inputs";
import { WORKS } from "../../../functions/plan/stage";
import { SOURCES } from "./sequences";
import { PLACES, type PlanState, type Told } from "./state";
import { ENTRIES, type EntryKey } from "./strip";
import { PLAN } from "./texts";

function valueSchema(f: Field) {
  if (f.kind === "number") return z.nullable(z.number());
  if (f.kind === "text") return z.string();
  return z.enum(f.choices.map(([word]) => word) as [string, ...string[]]);
}

const KEY = z.enum(KEYS as [Key, ...Key[]]);
const CALIBRATION = z.object({
  label: z.string(),
  by: z.enum(["all", "bond", "hardness", "machine"]),
  value: z.string(),
  known: z.object({ factor: z.number(), spread: z.number(), jobs: z.number() }),
  estimated: z.string(),
  actual: z.string(),
  line: z.string(),
});
const STAGE = z.object({ work: z.enum(WORKS), tool: z.string(), machine: z.optional(z.string()) });

const ENTRY = z.enum(Object.keys(ENTRIES) as [EntryKey, ...EntryKey[]]);
const STRIP = z.object({ tool: z.string(), machine: z.string(), typed: z.partialRecord(ENTRY, z.string()) });

// What a number may be is the form's to say; a draft only has to be of the form that this version knows.
const DRAFT = z.object({
  version: z.literal(1),
  inputs: z.object(Object.fromEntries(KEYS.map((key) => [key, valueSchema(field(key))]))),
  links: z.partialRecord(KEY, z.string()),
  source: z.enum(SOURCES),
  ownStages: z.nullable(z.array(STAGE)),
  strip: STRIP,
  place: z.enum(PLACES),
  calibration: z.nullable(CALIBRATION),
});

export const draftOf = (plan: PlanState): string => {
  const { inputs, links, source, ownStages, strip, place, calibration } = plan;
  return JSON.stringify({ version: 1, inputs, links, source, ownStages, strip, place, calibration });
};

/** The plan with a stored draft in it; a draft that does not fit is left out, and the user told. */
export function withDraft(plan: PlanState, stored: string): Told {
  const parsed = DRAFT.safeParse(parseJson(stored));
  if (!parsed.success) return { plan, note: PLAN.draftUnfit };
  const { version: _, inputs, ...rest } = parsed.data;
  return { plan: { ...plan, ...rest, inputs: inputs as Inputs } };
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

// Storage may be switched off; the pane then works without it.
// A draft can point at cells of this workbook, so it lives no longer than the pane's session.
const DRAFT_KEY = "gritledger.draft";
const WELCOME_KEY = "gritledger.welcomed";

function attempt<T>(work: () => T): T | null {
  try {
    return work();
  } catch {
    return null;
  }
}

export const storedDraft = () => attempt(() => sessionStorage.getItem(DRAFT_KEY));
export const storeDraft = (plan: PlanState) => attempt(() => sessionStorage.setItem(DRAFT_KEY, draftOf(plan)));
export const wasWelcomed = () => attempt(() => localStorage.getItem(WELCOME_KEY)) !== null;
export function dismissWelcome(plan: PlanState): PlanState {
  attempt(() => localStorage.setItem(WELCOME_KEY, "yes"));
  return { ...plan, welcome: false };
}
