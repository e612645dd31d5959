/** The commands of the Share view: what will happen, and then the copy. Nothing here changes the workbook. */

import { FIELDS } from "../../../functions/plan/fields";
import addInIds from "../../../manifest/ids.json";
import about from "../../../package.json";
import type { Copy } from "../../share/copies";
import {
  CAUTION,
  type Consent,
  documentBytes,
  later,
  listSheets,
  type Means,
  NeedsAnswer,
  needYes,
  openAsNewWorkbook,
  Refusal,
  selectedCells,
} from "../../sheet";
import { cancellable } from "../cancellable";
import { entriesOr } from "../functions/catalogue";
import type { Message } from "../state";
import type { Store } from "../store";
import type * as Copier from "./copier";
import {
  addRange,
  doSame,
  isoDay,
  keepOf,
  madeDigest,
  openedWords,
  type ShareState,
  shareTrouble,
  takeMade,
  takeSheets,
  worriesOf,
} from "./state";

export interface ShareCommands {
  /** Lists the workbook's sheets. */
  look(): Promise<void>;
  addSelected(): Promise<void>;
  /** Makes the copy in memory, and shows what is in it. */
  see(): Promise<void>;
  /** Opens the copy, if it still is what was shown. */
  open(): Promise<void>;
  /** Stops the making of a copy. */
  cancel(): void;
}

type Run = (doing: string, work: (agreed: Consent) => Promise<Message | null>) => Promise<void>;

/** Most days nobody makes a copy. */
const copier = (): Promise<typeof Copier> => later(import(/* webpackChunkName: "copier" */ "./copier"), "makes copies");

export function shareCommandsOn(store: Store, run: Run): ShareCommands {
  const change = (next: (share: ShareState) => ShareState) =>
    store.change((state) => ({ ...state, share: next(state.share) }));
  const long = cancellable((progress) => change((share) => ({ ...share, progress })));

  const look = async () => {
    const sheets = await listSheets();
    change((share) => takeSheets(share, sheets));
  };

  /** The copy of the workbook as it is now. */
  async function make(share: ShareState, means: Means): Promise<Copy> {
    await means.progress(0, 100, "Per cent of the copy");
    const [bytes, { makeCopy }] = [await documentBytes(), await copier()];
    if (share.kind === "price") return makeCopy({ kind: "price", bytes, options: { keep: keepOf(share) } }, means);
    const { units } = store.state.inputs;
    const options = {
      functions: await entriesOr(store.state.catalogue, "No copy was made"),
      version: about.version,
      date: isoDay(new Date()),
      units: FIELDS.units.choices.find(([word]) => word === units)![1],
      cautions: [CAUTION],
      addInIds: Object.values(addInIds),
    };
    return makeCopy({ kind: "calculating", bytes, options }, means);
  }

  /** The choice as the workbook still allows it. */
  async function chosen(): Promise<ShareState> {
    await look();
    const { share } = store.state;
    const trouble = shareTrouble(share);
    if (trouble) throw new Refusal(trouble);
    return share;
  }

  return {
    look() {
      const { message } = store.state;
      return run("Looking at the sheets…", async () => {
        // Once only, even if it fails: the commands look again, and tell.
        change((share) => ({ ...share, looked: true }));
        await look();
        return message;
      });
    },

    addSelected: () =>
      run("Reading the selection…", async () => {
        const cells = await selectedCells();
        await look();
        change((share) => addRange(share, cells));
        return { kind: "done", text: `${cells.sheet}!${cells.range} will be in the copy.` };
      }),

    see: () =>
      run("Making the copy, to see what will happen…", () =>
        long.run(async (means) => {
          const share = await chosen();
          const { made } = await make(share, means);
          change((now) => takeMade(now, share, made));
          // It stands below the button; who cannot see it there is told.
          store.change((state) => ({ ...state, announcement: `${madeDigest(made)}. No copy is open yet.` }));
          return null;
        }),
      ),

    open: () =>
      run("Making the copy…", (agreed) =>
        long.run(async (means) => {
          const before = store.state.share.made;
          const share = await chosen();
          const { bytes, made } = await make(share, means);
          if (!before || !doSame(before, made)) {
            change((now) => takeMade(now, share, made));
            const text = `The workbook has changed since, so the copy was not opened. What will happen now: ${madeDigest(made)}. If that is as you want it, open the copy.`;
            return { kind: "note", text };
          }
          const worries = worriesOf(made);
          const worry = worries.join(" ");
          const asked = { kind: "copyWorries", facts: { worries } };
          if (worry) needYes(agreed, new NeedsAnswer(worry, "Open the copy all the same?", asked));
          await openAsNewWorkbook(bytes);
          store.change((state) => ({ ...state, announcement: "" }));
          return { kind: "done", text: openedWords(made.kind) };
        }),
      ),

    cancel: long.cancel,
  };
}
