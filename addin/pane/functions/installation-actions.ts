/** The check of this installation, and its report. Few ever press it, so all of it comes when it is needed. */
import { later } from "../../sheet";
import { cancelable } from "../cancelable";
import type { Pane } from "../commands";
import { done, note, problem } from "../messages";
import { loadedLibrary } from "./library";
import type { InstallationState } from "./state";
import { FUNCTIONS_COMMANDS, INSTALLATION } from "./texts";

export interface InstallationCommands {
  check(): Promise<void>;
  copy(): Promise<void>;
  download(): void;
  cancel(): void;
}

const part = () => later(import(/* webpackChunkName: "installation" */ "./installation"), "checks installations");

export function installationCommands({ store, run }: Pane): InstallationCommands {
  const functions = store.part("functions");
  const change = (installation: Partial<InstallationState>) =>
    functions.change((now) => ({ ...now, installation: { ...now.installation, ...installation } }));
  const long = cancelable((progress) => change({ progress }));
  const text = () => functions.state.installation.report?.text ?? "";

  return {
    check: () =>
      run(FUNCTIONS_COMMANDS.installation, () =>
        long.run(async (means) => {
          const { reportOf } = await part();
          const report = await reportOf(loadedLibrary(), means);
          change({ report });
          return (report.isWell ? done : note)(`${report.digest}.`);
        }),
      ),

    copy: () =>
      run(FUNCTIONS_COMMANDS.copyReport, async () => {
        try {
          // A frame may not be allowed to, and an older page has no clipboard.
          await navigator.clipboard.writeText(text());
          return done(INSTALLATION.copied);
        } catch {
          return problem(INSTALLATION.notCopied);
        }
      }),

    download() {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([text()], { type: "text/plain" }));
      link.download = INSTALLATION.file;
      link.click();
      URL.revokeObjectURL(link.href);
    },

    cancel: long.cancel,
  };
}
