/** The report of a check, as text to copy or send. Nothing of the user's workbook is in it. */
import type { Check } from "./check";
import type { Installation, Tried } from "./run";
import { INSTALLATION, REPORT } from "./texts";

/** Sets whose newest version says how young an Excel is, and up to which version to ask. */
const API_SETS: Readonly<Record<string, readonly number[]>> = {
  ExcelApi: [1, 25],
  ExcelApiDesktop: [1, 9],
  ExcelApiOnline: [1, 1],
  CustomFunctionsRuntime: [1, 9],
  SharedRuntime: [1, 9],
  CompressedFile: [1, 1],
  DialogApi: [1, 9],
  RibbonApi: [1, 9],
};

export interface HostFacts {
  readonly host: string;
  readonly platform: string;
  readonly version: string;
  readonly sets: readonly string[];
}

/** What runs here. */
export function hostFacts(): HostFacts {
  const { diagnostics, requirements } = Office.context;
  const newest = ([name, [from, to]]: [string, readonly number[]]) => {
    for (let minor = to!; minor >= from!; minor--) {
      if (requirements.isSetSupported(name, `1.${minor}`)) return [`${name} 1.${minor}`];
    }
    return [];
  };
  const { host, platform, version } = diagnostics ?? {};
  const known = (word: unknown) => (word === undefined || word === null ? REPORT.unknown : String(word));
  return {
    host: known(host),
    platform: known(platform),
    version: known(version),
    sets: Object.entries(API_SETS).flatMap(newest),
  };
}

export type Counts = Readonly<Record<"held" | "differs" | "untried", number>>;

export function countsOf({ tried }: Installation): Counts {
  const count = (kind: keyof Counts) => tried.filter(({ outcome }) => outcome.kind === kind).length;
  return { held: count("held"), differs: count("differs"), untried: count("untried") };
}

const expectedOf = ({ expects }: Check) => (typeof expects === "string" ? expects : expects.join(REPORT.or));

function lineOf({ check, outcome }: Tried): string {
  const about = `${check.words} (${check.id}${check.isGuess ? `, ${REPORT.unseen}` : ""})`;
  if (outcome.kind === "untried") return `${about}: ${outcome.why}`;
  if (outcome.kind === "held") return `${about}: ${outcome.got}`;
  return `${about}: ${REPORT.expected(expectedOf(check), outcome.got)}`;
}

/** What differs comes first. */
export function reportText(installation: Installation, facts: HostFacts): string {
  const part = (title: string, kind: keyof Counts) => {
    const lines = installation.tried.filter(({ outcome }) => outcome.kind === kind).map(lineOf);
    return lines.length === 0 ? [] : ["", title, ...lines.map((line) => `- ${line}`)];
  };
  const { host, platform, version, sets } = facts;
  return [
    REPORT.title,
    REPORT.host(host, platform, version),
    REPORT.sets(sets),
    REPORT.calculation(installation.calculation),
    REPORT.counts(countsOf(installation)),
    ...(installation.left.length > 0 ? [INSTALLATION.left(installation.left)] : []),
    ...part(REPORT.differs, "differs"),
    ...part(REPORT.untried, "untried"),
    ...part(REPORT.held, "held"),
    "",
  ].join("\n");
}
