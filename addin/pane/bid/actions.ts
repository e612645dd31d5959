/** The commands of the Bid view; they run one at a time with the others. */
import { insertBid, insertExtrasList, insertProposal, readBid, updateBid } from "../../sheet";
import type { Pane } from "../commands";
import { done, problem } from "../messages";
import { reading } from "../reads";
import { choiceOf, problemsIn, takeRead } from "./choice";
import { BID, BID_COMMANDS } from "./texts";

export interface BidCommands {
  /** Reads the plans, and the bid where there is one. */
  look(): Promise<void>;
  write(): Promise<void>;
  writeProposal(): Promise<void>;
  /** Gives the owner a list of extras to keep. */
  keepList(): Promise<void>;
}

export function bidCommands(pane: Pane): BidCommands {
  const { store, run } = pane;
  const bid = store.part("bid");
  const read = async () => {
    const found = await readBid();
    bid.change((now) => takeRead(now, found));
  };
  return {
    look() {
      const { message } = store.state;
      return reading(store, "bid", () =>
        run(BID_COMMANDS.look, async () => {
          await read();
          return message;
        }),
      );
    },

    async write() {
      bid.change((now) => ({ ...now, asked: true }));
      const problems = problemsIn(bid.state);
      if (problems.length > 0) return pane.show(problem(BID.fix(problems)));
      await run(BID_COMMANDS.write, async () => {
        const isThere = bid.state.read?.bid !== undefined;
        const inserted = await (isThere ? updateBid : insertBid)(choiceOf(bid.state));
        bid.change((now) => ({ ...now, typed: {}, asked: false }));
        await read();
        return done(`${inserted.what}.`, inserted);
      });
    },

    writeProposal: () =>
      run(BID_COMMANDS.writeProposal, async (agreed) => {
        const inserted = await insertProposal(agreed);
        await read();
        return done(`${inserted.what}.`, inserted);
      }),

    keepList: () =>
      run(BID_COMMANDS.keepList, async () => {
        const { units = "us", sign = "" } = bid.state.read ?? {};
        const inserted = await insertExtrasList(units, sign);
        await read();
        return done(`${inserted.what}.`, inserted);
      }),
  };
}
