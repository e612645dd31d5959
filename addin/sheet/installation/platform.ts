/** Events, what the workbook remembers, and what only a person can bring about. */
import { type Check, shown, untriable } from "./check";

const EVENTS = ["changed", "calculated", "deleted"];
const PATIENCE = 20;

export const PLATFORM: readonly Check[] = [
  {
    id: "events",
    words: "The pane is told when cells change or calculate, and when a sheet is deleted",
    expects: EVENTS.join(", "),
    async run(scratch) {
      const { worksheets } = scratch.context.workbook;
      const heard = new Set<string>();
      const own: string[] = [];
      const hear = (event: string) => async (args: { worksheetId: string }) => {
        if (own.includes(args.worksheetId)) heard.add(event);
      };
      const handlers = [
        worksheets.onChanged.add(hear("changed")),
        worksheets.onCalculated.add(hear("calculated")),
        worksheets.onDeleted.add(hear("deleted")),
      ];
      const other = scratch.addSheet().load("id");
      scratch.sheet.load("id");
      await scratch.sync();
      own.push(scratch.sheet.id, other.id);
      await scratch.enter("A1:B1", [[1, "=A1*2"]]);
      await scratch.enter("A1", [[2]]);
      other.delete();
      await scratch.sync();
      for (let tries = 0; heard.size < EVENTS.length && tries < PATIENCE; tries++) await scratch.tools.pause();
      for (const handler of handlers) handler.remove();
      await scratch.sync();
      return EVENTS.filter((event) => heard.has(event)).join(", ") || "nothing";
    },
  },
  {
    id: "settings",
    words: "The workbook remembers what the add-in stores in it",
    expects: '{"headings":["Job",1]}',
    async run(scratch) {
      const { settings } = scratch.context.workbook;
      const key = scratch.setting();
      settings.add(key, { headings: ["Job", 1] });
      await scratch.sync();
      const setting = settings.getItem(key).load("value");
      await scratch.sync();
      return shown(setting.value);
    },
  },
  untriable(
    "view-only",
    "A view-only workbook refuses changes",
    "AccessDenied",
    "it needs a workbook opened for viewing; press any Insert button there and send the message",
  ),
  untriable(
    "chart-sheet-active",
    "The selection is refused while a chart sheet is in front",
    "InvalidSelection",
    "it needs a chart sheet, which only a person can add",
  ),
];
