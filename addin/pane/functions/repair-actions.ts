/** The commands of Check and repair; both take a while in a large workbook, and can be cancelled. */
import { later } from "../../sheet";
import { cancellable } from "../cancellable";
import type { Message } from "../state";
import type { Store } from "../store";
import { entriesOr } from "./catalogue";
import type { RepairState } from "./repair";

export interface RepairCommands {
  check(): Promise<void>;
  repair(): Promise<void>;
  cancel(): void;
}

type Run = (doing: string, work: () => Promise<Message | null>) => Promise<void>;

/** Most days nobody checks, so what that takes comes when it is needed. */
const parts = () =>
  later(
    Promise.all([
      import(/* webpackChunkName: "repair" */ "../../sheet/repair-cells"),
      import(/* webpackChunkName: "repair" */ "./repair-words"),
    ]),
    "checks workbooks",
  );

/** Good news only where nothing is left to look at. */
const told = (text: string, isWell: boolean): Message => ({ kind: isWell ? "done" : "note", text });

export function repairCommandsOn(store: Store, run: Run): RepairCommands {
  const change = (next: (repair: RepairState) => RepairState) =>
    store.change((state) => ({ ...state, repair: next(state.repair) }));
  const long = cancellable((progress) => change((repair) => ({ ...repair, progress })));

  /** The names of all functions that this version has. */
  const known = async () => (await entriesOr(store.state.catalogue, "Nothing was checked")).map(({ id }) => id);

  return {
    check: () =>
      run("Checking the workbook…", () =>
        long.run(async (means) => {
          const [{ checkWorkbook }, { foundIn }] = await parts();
          const found = foundIn(await checkWorkbook(await known(), means));
          change((repair) => ({ ...repair, found }));
          return told(`${found.digest}.`, found.findings.length === 0);
        }),
      ),

    repair: () =>
      run("Entering formulas again…", () =>
        long.run(async (means) => {
          const [{ repairWorkbook }, { foundIn, repairedDigest }] = await parts();
          const repaired = await repairWorkbook(await known(), means);
          change((repair) => ({ ...repair, found: foundIn(repaired.checked, true) }));
          return told(`${repairedDigest(repaired)}.`, repaired.entered > 0 && repaired.mended === repaired.entered);
        }),
      ),

    cancel: long.cancel,
  };
}
