/** The commands of Check and repair; both take a while in a large workbook, and can be cancelled. */
import { checkWorkbook, Refusal, repairWorkbook } from "../sheet";
import { cancellable } from "./cancellable";
import { readCatalogue } from "./catalogue";
import { checkedDigest, type RepairState, repairedDigest, takeChecked, takeRepaired } from "./repair";
import type { Message } from "./state";
import type { Store } from "./store";

export interface RepairCommands {
  check(): Promise<void>;
  repair(): Promise<void>;
  cancel(): void;
}

type Run = (doing: string, work: () => Promise<Message | null>) => Promise<void>;

const done = (text: string): Message => ({ kind: "done", text });

export function repairCommandsOn(store: Store, run: Run): RepairCommands {
  const change = (next: (repair: RepairState) => RepairState) =>
    store.change((state) => ({ ...state, repair: next(state.repair) }));
  const long = cancellable((progress) => change((repair) => ({ ...repair, progress })));

  /** The names of all functions that this version has. */
  async function known(): Promise<string[]> {
    const read = store.state.catalogue;
    const catalogue = typeof read === "string" ? await readCatalogue() : read;
    if ("trouble" in catalogue) throw new Refusal(`Nothing was checked. ${catalogue.trouble}`);
    return catalogue.entries.map(({ id }) => id);
  }

  return {
    check: () =>
      run("Checking the workbook…", () =>
        long.run(async (means) => {
          const found = await checkWorkbook(await known(), means);
          change((repair) => takeChecked(repair, found));
          return done(`${checkedDigest(found)}.`);
        }),
      ),

    repair: () =>
      run("Entering formulas again…", () =>
        long.run(async (means) => {
          const repaired = await repairWorkbook(await known(), means);
          change((repair) => takeRepaired(repair, repaired));
          return done(`${repairedDigest(repaired)}.`);
        }),
      ),

    cancel: long.cancel,
  };
}
