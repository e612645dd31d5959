/** The commands of the Functions view. */
import { insertFunction, Refusal, readMath } from "../../sheet";
import type { Pane } from "../commands";
import { done } from "../messages";
import { reading } from "../reads";
import { readCatalogue } from "./catalogue";
import { type InstallationCommands, installationCommands } from "./installation-actions";
import { loadedLibrary } from "./library";
import { headline } from "./math";
import { type RepairCommands, repairCommands } from "./repair-actions";
import { FUNCTIONS, FUNCTIONS_COMMANDS } from "./texts";

export interface FunctionsCommands {
  loadCatalogue(): Promise<void>;
  insertCall(call: string): Promise<void>;
  /** How the selected cell's number is worked out. */
  showMath(): Promise<void>;
  readonly repair: RepairCommands;
  readonly installation: InstallationCommands;
}

export function functionsCommands(pane: Pane): FunctionsCommands {
  const { store, run } = pane;
  const functions = store.part("functions");
  return {
    loadCatalogue: () =>
      reading(store, "functions", async () => {
        const catalogue = await readCatalogue();
        functions.change((now) => ({ ...now, catalogue }));
      }),

    insertCall: (call) =>
      run(FUNCTIONS_COMMANDS.insertCall, async () => {
        const inserted = await insertFunction(call);
        return done(`${inserted.what}.`, inserted);
      }),

    showMath: () =>
      run(FUNCTIONS_COMMANDS.showMath, async () => {
        const { catalogue } = functions.state;
        if (!catalogue || "trouble" in catalogue) throw new Refusal(FUNCTIONS.listNotHereYet);
        const math = await readMath(catalogue.entries, loadedLibrary());
        store.change((state) => ({
          ...state,
          functions: { ...state.functions, math },
          announcement: headline(math),
        }));
        return null;
      }),

    repair: repairCommands(pane),
    installation: installationCommands(pane),
  };
}
