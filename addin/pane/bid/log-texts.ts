/** Every text of the log's card. The log's fields and what their check says stand in `functions/log/`. */
import { counted } from "../../common/count";
import { doing } from "../texts";

export const LOG_COMMANDS = {
  look: doing("reading the log", "read the log"),
  start: doing("writing the log", "write the log"),
  add: doing("adding to the log", "add to the log"),
  takeList: doing("reading the list at the selected cell", "read the list at the selected cell"),
  addList: doing("adding the list to the log", "add the list to the log"),
  closeOut: doing("closing out the job", "close out the job"),
};

export const LOG = {
  title: "Log and forecast",
  digest: "Days worked, beside what was quoted",
  noPlans: "Insert a stage plan first: the log is held against its stages.",
  noLog: "No log yet. It gets a sheet of its own, with a forecast of the plans' stages beside it.",
  start: "Write a log",
  another: "Write another log",
  anotherNote: "After a plan's stages have changed: the new log reads the old one's lines in as a list.",
  partNotLoaded: "Couldn't load the log. Check the connection, then open this again.",

  entryTitle: "Today's line",
  add: "Add to the log",
  enterAdds: "Enter adds the line.",
  choose: "Choose…",
  fixFields: "Fix the highlighted fields.",
  notAStage: (stage: string) => `${stage} (not in the plans)`,

  forecastTitle: "Forecast",
  done: (share: string, worked: string, earned: string) => `${share} done: ${worked} h worked for ${earned} h quoted.`,
  atPace: (hours: string, quoted: string, cost: string, quotedCost: string) =>
    `At this pace the job takes ${hours} h (${quoted} quoted) and costs ${cost} (${quotedCost} quoted).`,
  asQuoted: (hours: string, cost: string) => `With the rest as quoted: ${hours} h and ${cost}.`,
  daysLeft: (days: string) => `${days} days left.`,
  needs: (words: string) => `For the quoted hours to hold: ${words}.`,
  stage: (floor: string, stage: string) => `${floor}, ${stage}:`,
  wornOut: (words: string, day: string) => `tools ${words}, worn out on ${day}`,
  otherHours: (hours: string) => `${hours} h are on no stage of the plans, and in no forecast.`,
  badLines: (count: number) => `${counted(count, "line")} of the log can't be read:`,

  listTitle: "Lines kept elsewhere",
  listNote: "A foreman's list: paste it on any sheet, with its headings, and select one of its cells.",
  takeList: "Read the list at the selected cell",
  listFound: (name: string, lines: number, already: number, bad: number) =>
    `${name}: ${counted(lines, "line")} to add, ${already} in the log already, ${counted(bad, "row")} to fix.`,
  addList: (lines: number) => `Add ${counted(lines, "line")} to the log`,
  row: (row: number) => `row ${row}`,

  closeTitle: "Close out",
  closeNote: "Takes the job into your list of past jobs, under your own headings.",
  priceMissing: "Enter the actual price first.",
  close: "Close out the job",
} as const;
