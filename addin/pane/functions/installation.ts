/** The report of a check of this installation, with what only a page can try: storage, and the worker that makes copies. */
import { type Library, type Means, Refusal } from "../../sheet";
import { CantTry, type Check } from "../../sheet/installation/check";
import { CHECKS } from "../../sheet/installation/checks";
import { countsOf, hostFacts, reportText } from "../../sheet/installation/report";
import { checkInstallation } from "../../sheet/installation/run";
import { pause } from "../../sheet/installation/scratch";
import { REPORT } from "../../sheet/installation/texts";
import { makeCopy } from "../share/copier";
import type { InstallationState } from "./state";

const KEY = "gritledger-check";

export const PAGE_CHECKS: readonly Check[] = [
  {
    id: "storage",
    words: "The pane remembers what it stores",
    expects: "stored",
    async run() {
      localStorage.setItem(KEY, "stored");
      const stored = localStorage.getItem(KEY);
      localStorage.removeItem(KEY);
      return String(stored);
    },
  },
  {
    id: "worker",
    words: "The worker that makes copies runs",
    expects: "an answer",
    async run() {
      if (typeof Worker === "undefined") throw new CantTry("there are no workers here");
      const quiet = { signal: new AbortController().signal, progress: () => undefined };
      // What is no workbook is refused by the worker itself, with a reason.
      return makeCopy({ kind: "price", bytes: new Uint8Array([0]), options: { keep: [] } }, quiet).then(
        () => "a copy",
        (error) => (error instanceof Refusal && error.reason ? "an answer" : "no answer"),
      );
    },
  },
];

export async function reportOf(library: Library, means: Means): Promise<NonNullable<InstallationState["report"]>> {
  const installation = await checkInstallation([...CHECKS, ...PAGE_CHECKS], { library, pause }, means);
  const counts = countsOf(installation);
  const isWell = counts.differs === 0 && installation.left.length === 0;
  return { digest: REPORT.counts(counts), isWell, text: reportText(installation, hostFacts()) };
}
