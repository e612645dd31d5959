/** Every text on the Log sheet, its table's headings aside (functions/log/fields.ts). */
import { questionsOf, refusalsOf } from "../common/refusal";

export const LOG_SHEET = {
  title: "Log",
  note: "One line per day and stage, each pass counted.",
  /** Between the share done, hours worked, earned, at this pace and quoted, and days left. */
  summary: ["% done: ", " h worked for ", " h quoted; at this pace ", " h of ", " quoted, ", " more days."],
  caution: "A forecast is only as good as its log: log every stage, every day, and look at the floor.",
  stagesChanged:
    "OUT OF DATE: a plan has more or fewer stages than this forecast. Write another log, then read these lines into it.",
  /** Before and after a number of cells, or lines. */
  badCells: ["FIX THE LOG: ", " cells aren't a date or a number they can be. They count in no forecast."],
  unknownLines: ["CHECK THE LOG: ", " lines are on no stage of the plans. Their hours are in no forecast."],
  changedAt: "Change a set at segment height",
  changedAtUnit: "mm, yours to set",
  forecast: "Forecast",
  tools: "Tools on the machine",
  math: "Worked out",
  allFloors: "All floors",
  allStages: "all stages",
  byDay: "Hours by date",
  lastDate: "Last",
  passedOver: "Days passed over",
  earnedByStage: "Earned h by stage",
  mustBe: (label: string, allowed: string) => `${label} must be ${allowed}.`,
  pickFloor: "Pick a floor that the forecast lists.",
  pickStage: "Pick a stage that the forecast lists.",
} as const;

export const LOG_CHART = {
  title: "Hours earned and worked",
  earned: "Earned h",
  /** On all lines, those on no stage too. */
  worked: "Worked h",
  axis: "Hours so far",
} as const;

export const logWritten = (sheet: string, stages: number) =>
  `Log with a forecast of ${stages === 1 ? "1 stage" : `${stages} stages`} written to the new sheet “${sheet}”`;

const quoted = (names: readonly string[]) => names.map((name) => `“${name}”`).join(" and ");

export const refuseLog = refusalsOf({
  noPlans: () => "This workbook has no stage plan to log against. Insert one in the Plan view first.",
  sameFloor: ({ floor, sheets }: { floor: string; sheets: readonly string[] }) =>
    `The plans on ${quoted(sheets)} are both called “${floor}”. Give each its own floor name.`,
  noLog: () => "This workbook has no log yet. Write one first.",
  logGone: () => "The log is no longer in this workbook. Write a new one.",
  logHidden: ({ table }: { table: string }) =>
    `Rows of the table ${table} are hidden, by a filter or by hand. Show them all, then add to the log.`,
  emptySheet: () => "This sheet is empty. Select a cell in the list of lines.",
  noHeadings: () =>
    "No headings found above the selected cell. Select a cell in the list; its first row must name the columns.",
  noRows: () => "The list has no rows below its headings.",
  noHeading: ({ list, missing }: { list: string; missing: readonly string[] }) =>
    `${list} has no column that reads as ${quoted(missing)}. Name its columns like the log's.`,
  emptyLog: ({ table }: { table: string }) => `The table ${table} has no line yet. Log the days, then close out.`,
  listHidden: ({ list }: { list: string }) =>
    `Rows of ${list} are hidden, by a filter or by hand. Show them all, then close out.`,
  ownLog: () => "That's the log itself. Select a cell in another list.",
});

export const askLog = questionsOf({
  another: ({ sheet }: { sheet: string }) => [
    `There's a log on “${sheet}” already. Its lines stay there; the other log can read them in as a list.`,
    "Write another one?",
  ],
  noJobs: () => [
    "No list of past jobs is known in this workbook. If you keep one here, check it in the Jobs view first.",
    "Insert a jobs table, with this job in it?",
  ],
  jobThere: ({ job, at, list }: { job: string; at: string; list: string }) => [
    `“${job}” is in ${list} already, in ${at}.`,
    "Add it all the same?",
  ],
  doubts: ({ words, more }: { words: readonly string[]; more: number }) => [
    [...words, ...(more > 0 ? [`And ${more} more.`] : [])].join(" "),
    "Add it all the same?",
  ],
});

/** Where a job went; a formula that adds up the rows above it may not have it in its reach. */
export const jobClosed = (job: string, where: string, beforeTotal = false) =>
  `${job} added to ${where}${beforeTotal ? ", above the total row (check that it adds the new row up)" : ""}`;
export const ALREADY_LOGGED = "The same line is in the log already.";
/** Before what is doubtful of one of several lines. */
export const ofLine = (day: string, stage: string, words: string) => `${day}, ${stage}: ${words}`;
export const lineAdded = (day: string, floor: string, stage: string) => `Logged ${day}, ${floor}, ${stage}`;
export const linesAdded = (lines: number, table: string) => `${lines} lines added to the table ${table}`;
