/** The commands of the Share view: what will happen, and then the copy. Nothing here changes the workbook. */
import { FIELDS } from "../../../functions/plan/fields";
import addInIds from "../../../manifest/ids.json";
import about from "../../../package.json";
import type { Copy } from "../../share/copies";
import {
  CAUTION,
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
import { cancelable } from "../cancelable";
import type { Pane } from "../commands";
import { entriesOr } from "../functions/catalogue";
import { done, note } from "../messages";
import { reading } from "../reads";
import { addRange, keepOf, shareTrouble, takeSheets } from "./choice";
import type * as Copier from "./copier";
import { doSame, isoDay, madeDigest, takeMade, worriesOf } from "./made";
import type { ShareState } from "./state";
import { SHARE, SHARE_COMMANDS } from "./texts";

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

/** Most days nobody makes a copy. */
const copier = (): Promise<typeof Copier> => later(import(/* webpackChunkName: "copier" */ "./copier"), "makes copies");

export function shareCommands(pane: Pane): ShareCommands {
  const { store, run } = pane;
  const share = store.part("share");
  const long = cancelable((progress) => share.change((now) => ({ ...now, progress })));

  const look = async () => {
    const sheets = await listSheets();
    share.change((now) => takeSheets(now, sheets));
  };

  /** The copy of the workbook as it is now. */
  async function make(choice: ShareState, means: Means): Promise<Copy> {
    await means.progress(0, 100, SHARE.percent);
    const [bytes, { makeCopy }] = [await documentBytes(), await copier()];
    if (choice.kind === "price") return makeCopy({ kind: "price", bytes, options: { keep: keepOf(choice) } }, means);
    const { units } = store.state.plan.inputs;
    const options = {
      functions: await entriesOr(store.state.functions.catalogue, SHARE.left),
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
    const trouble = shareTrouble(share.state);
    if (trouble) throw new Refusal(trouble);
    return share.state;
  }

  return {
    look() {
      const { message } = store.state;
      return reading(store, "share", () =>
        run(SHARE_COMMANDS.look, async () => {
          await look();
          return message;
        }),
      );
    },

    addSelected: () =>
      run(SHARE_COMMANDS.addSelected, async () => {
        const cells = await selectedCells();
        await look();
        share.change((now) => addRange(now, cells));
        return done(SHARE.added(`${cells.sheet}!${cells.range}`));
      }),

    see: () =>
      run(SHARE_COMMANDS.see, () =>
        long.run(async (means) => {
          const choice = await chosen();
          const { made } = await make(choice, means);
          share.change((now) => takeMade(now, choice, made));
          // It stands below the button; who cannot see it there is told.
          store.change((state) => ({ ...state, announcement: SHARE.noCopyOpen(madeDigest(made)) }));
          return null;
        }),
      ),

    open: () =>
      run(SHARE_COMMANDS.open, (agreed) =>
        long.run(async (means) => {
          const before = share.state.made;
          const choice = await chosen();
          const { bytes, made } = await make(choice, means);
          if (!before || !doSame(before, made)) {
            share.change((now) => takeMade(now, choice, made));
            return note(SHARE.changedMeanwhile(madeDigest(made)));
          }
          const worries = worriesOf(made);
          const asked = { kind: "copyWorries", facts: { worries } };
          if (worries.length > 0) needYes(agreed, new NeedsAnswer(worries.join(" "), SHARE.openAnyway, asked));
          await openAsNewWorkbook(bytes);
          store.change((state) => ({ ...state, announcement: "" }));
          return done(SHARE.opened(made.kind));
        }),
      ),

    cancel: long.cancel,
  };
}
