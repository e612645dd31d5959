/** The commands of Check and repair; both take a while in a large workbook, and can be canceled. */
import { later } from "../../sheet";
import { cancelable } from "../cancelable";
import type { Pane } from "../commands";
import { done, type Message, note } from "../messages";
import { entriesOr } from "./catalogue";
import type { RepairState } from "./state";
import { FUNCTIONS_COMMANDS, REPAIR } from "./texts";

export interface RepairCommands {
  check(): Promise<void>;
  repair(): Promise<void>;
  cancel(): void;
}

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
const outcome = (text: string, isWell: boolean): Message => (isWell ? done(text) : note(text));

export function repairCommands({ store, run }: Pane): RepairCommands {
  const functions = store.part("functions");
  const change = (repair: Partial<RepairState>) =>
    functions.change((now) => ({ ...now, repair: { ...now.repair, ...repair } }));
  const long = cancelable((progress) => change({ progress }));

  /** The names of all functions that this version has. */
  const known = async () => (await entriesOr(functions.state.catalogue, REPAIR.left)).map(({ id }) => id);

  return {
    check: () =>
      run(FUNCTIONS_COMMANDS.check, () =>
        long.run(async (means) => {
          const [{ checkWorkbook }, { foundIn }] = await parts();
          const found = foundIn(await checkWorkbook(await known(), means));
          change({ found });
          return outcome(`${found.digest}.`, found.findings.length === 0);
        }),
      ),

    repair: () =>
      run(FUNCTIONS_COMMANDS.repair, () =>
        long.run(async (means) => {
          const [{ repairWorkbook }, { foundIn, repairedDigest }] = await parts();
          const repaired = await repairWorkbook(await known(), means);
          change({ found: foundIn(repaired.checked, true) });
          return outcome(`${repairedDigest(repaired)}.`, repaired.entered > 0 && repaired.fixed === repaired.entered);
        }),
      ),

    cancel: long.cancel,
  };
}
