/** What the check of an installation says, apart from the words of each check. */
import { refusalsOf } from "../../common/refusal";

const quoted = (sheets: readonly string[]) => sheets.map((name) => `“${name}”`).join(" and ");

export const INSTALLATION = {
  trying: "Trying",
  stopped: "stopped because the check's own sheet couldn't be removed",
  left: (sheets: readonly string[]) => `Couldn't remove ${quoted(sheets)}. Delete it, then check again.`,
} as const;

export const REPORT = {
  title: "Gritledger: check of an installation",
  unknown: "unknown",
  host: (host: string, platform: string, version: string) => `${host}, platform ${platform}, version ${version}`,
  sets: (sets: readonly string[]) => `API sets: ${sets.length === 0 ? "none" : sets.join(", ")}`,
  calculation: (mode: string) => `Calculation: ${mode}`,
  counts: ({ held, differs, untried }: { held: number; differs: number; untried: number }) =>
    `${held} held, ${differs} differ, ${untried} can't be tried here`,
  differs: "Differs",
  untried: "Can't be tried here",
  held: "Held",
  unseen: "never seen before",
  or: " or ",
  expected: (expected: string, got: string) => `expected ${expected}, got ${got}`,
} as const;

export const refuseInstallation = refusalsOf({
  canceled: () => "Canceled. The check's own sheets are gone again.",
  left: ({ why, sheets }: { why: string; sheets: readonly string[] }) =>
    `The check stopped${why === "" ? "" : ` (${why})`}, and couldn't remove its own sheet. Delete ${quoted(sheets)}, then check again.`,
});
