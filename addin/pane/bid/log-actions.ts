/** The commands of the log's card; they run one at a time with the others. */
import { dayOf } from "../../../functions/log/workday";
import { addLogLines, closeOut, insertLog, readForemansList, readLog } from "../../sheet";
import type { Pane } from "../commands";
import { done, problem } from "../messages";
import { readBilled, readEntry, startAnew, takeLogged } from "./log-entry";
import { LOG, LOG_COMMANDS } from "./log-texts";

export interface LogCommands {
  look(): Promise<void>;
  start(): Promise<void>;
  /** Adds the line as it is typed. */
  add(): Promise<void>;
  takeList(): Promise<void>;
  addList(): Promise<void>;
  closeOut(): Promise<void>;
}

export function logCommands(pane: Pane): LogCommands {
  const { store, run } = pane;
  const log = store.part("log");
  const today = () => dayOf(new Date());
  const readAgain = async () => {
    const logged = (await readLog()) ?? null;
    log.change((now) => startAnew(now, logged, today()));
  };

  return {
    look() {
      const { message } = store.state;
      return run(LOG_COMMANDS.look, async () => {
        const logged = (await readLog()) ?? null;
        log.change((now) => takeLogged(now, logged, today()));
        return message;
      });
    },

    start: () =>
      run(LOG_COMMANDS.start, async (agreed) => {
        const inserted = await insertLog(agreed);
        await readAgain();
        return done(`${inserted.what}.`, inserted);
      }),

    async add() {
      const { line } = readEntry(log.state);
      log.change((now) => ({ ...now, asked: true }));
      if (!line) return pane.show(problem(LOG.fixFields));
      await run(LOG_COMMANDS.add, async (agreed) => {
        const inserted = await addLogLines([line], today(), agreed);
        await readAgain();
        return done(`${inserted.what}.`, inserted);
      });
    },

    takeList: () =>
      run(LOG_COMMANDS.takeList, async () => {
        const list = await readForemansList();
        log.change((now) => ({ ...now, list }));
        return null;
      }),

    addList: () =>
      run(LOG_COMMANDS.addList, async (agreed) => {
        const inserted = await addLogLines(log.state.list!.lines, today(), agreed);
        log.change((now) => ({ ...now, list: null }));
        await readAgain();
        return done(`${inserted.what}.`, inserted);
      }),

    async closeOut() {
      const { value, problem: why } = readBilled(log.state);
      if (value === null) return pane.show(problem(why ?? LOG.priceMissing));
      await run(LOG_COMMANDS.closeOut, async (agreed) => {
        const inserted = await closeOut(value, agreed);
        return done(`${inserted.what}.`, inserted);
      });
    },
  };
}
