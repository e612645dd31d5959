/**
 * The columns of the sheet with a row for each job: a spilled formula a column, over the user's own columns. What isn't
 * counted, and why, follows the rules of functions/audit/check.ts.
 */
import { CAUSES, type Cause, hasCause } from "../../functions/audit/audit";
import { HARDNESS_CLASSES } from "../../functions/audit/classes";
import { type JobKey, jobField, PAIRS, type PairKey } from "../../functions/audit/fields";
import type { Mapping } from "../../functions/audit/headings";
import { CELL } from "./audit-texts";
import type { NumberFormat } from "./styles";

const JOB_COLUMNS = [
  "job",
  "counted",
  "quotedMargin",
  "actualMargin",
  "fade",
  "fadeMoney",
  "rate",
  "hours",
  "toolUse",
  "toolPrice",
  "liquids",
  "other",
  "standsOut",
  "bond",
  "hardness",
  "machine",
  "estimated",
  "taken",
  "floor",
  "floorTimed",
  "hoursTimed",
  "floorWorn",
  "setsWorn",
  "logRatio",
  "logSquare",
  "month",
] as const;
export type JobColumnKey = (typeof JOB_COLUMNS)[number];

export interface JobColumn {
  readonly key: JobColumnKey;
  readonly title: string;
  readonly formula: string;
  readonly format?: NumberFormat;
}

/** The columns that the audit of such a list has: none of zeros for what the list does not have. */
export const columnsFor = (mapping: Mapping): JobColumnKey[] =>
  JOB_COLUMNS.filter((key) => {
    if (key in CAUSES) return hasCause(mapping, key as Cause);
    if (key === "month") return mapping.date !== undefined;
    return !(key === "floorWorn" || key === "setsWorn") || PAIRS.sets.every((half) => mapping[half] !== undefined);
  });

/** Parts the names of rows that are no jobs. */
export const NAME_BAR = "|";

/** What the formulas refer to. */
export interface JobRanges {
  /** The cell with the names of rows that add others up, in small letters, a bar before and after each. */
  readonly totals: string;
  /** Cells with the sheet's row numbers of rows that are others over again; undefined where there are none. */
  readonly repeats: string | undefined;
  /** The user's cells of a field; undefined where the list does not have it. */
  field(key: JobKey): string | undefined;
  readonly keys: readonly JobColumnKey[];
  /** The cells of a column of this part; 0 where the list does not have what would be in it. */
  column(key: JobColumnKey): string;
}

/** The columns that are written, in order. */
export function jobColumns({ totals, repeats, field, keys, column }: JobRanges): JobColumn[] {
  /** 1 where the cell may be counted on, else 0; an error cell is 0 as well. */
  const good = (key: JobKey): string => {
    const cells = field(key);
    if (cells === undefined) return "0";
    const { least, most } = jobField(key).domain!;
    const from = least > 0 && least < 1e-9 ? `${cells}>0` : `${cells}>=${least}`;
    const tests = most < 1e9 ? `(${from})*(${cells}<=${most})` : `IF(${from},1,0)`;
    return `IF(ISNUMBER(${cells}),${tests},0)`;
  };
  const both = (pair: PairKey) => PAIRS[pair].map(good).join("*");
  const isMapped = (pair: PairKey) => PAIRS[pair].every((key) => field(key) !== undefined);
  const of = (key: JobKey) => field(key) ?? '""';

  const counted = (value: string, otherwise = '""') => `IF(${column("counted")}="${CELL.yes}",${value},${otherwise})`;
  /** A word or a number as a word; nothing for an error, TRUE or FALSE. */
  const word = (key: JobKey) =>
    field(key) === undefined ? '""' : `IF(ISTEXT(${of(key)})+ISNUMBER(${of(key)}),TRIM(${of(key)}),"")`;
  /** What a column of this part has already tested is not tested again: a list may have many rows. */
  const known = (pair: PairKey) => (pair === "hours" ? `(${column("taken")}>0)` : both(pair));
  /** A cause's money to the cent; a word where it is not recorded, which sums pass over. */
  const money = (pairs: readonly PairKey[], amount: string) =>
    counted(`IF(${pairs.map(known).join("*")},ROUND(IF(${amount}="",0,${amount}),2),"${CELL.notKnown}")`);
  const ofPair = (pair: PairKey, side: 0 | 1) => of(PAIRS[pair][side]);
  const amount = (wanted: string, value: string) => counted(`IF(${wanted},${value},0)`, "0");

  // FIND, for in MATCH and SEARCH a name with * or ? would be found in others.
  const isTotal = `ISNUMBER(FIND("${NAME_BAR} "&LOWER(${column("job")})&" ${NAME_BAR}",${totals}))`;
  const isRepeat = repeats && `ISNUMBER(MATCH(ROW(${of("job")}),${repeats},0))`;
  const isNoJob = [`(${column("job")}="")`, isTotal, ...(isRepeat ? [isRepeat] : [])].join("+");
  const isJob = `IF(${isNoJob},0,1)`;
  const required = [isJob, both("price"), both("cost")].join("*");
  const whole = `${ofPair("price", 0)}-${ofPair("cost", 0)}-(${ofPair("price", 1)}-${ofPair("cost", 1)})`;
  const causes = (["rate", "hours", "toolUse", "toolPrice", "liquids"] as const)
    .filter((cause) => keys.includes(cause))
    .map((cause) => `-IF(ISNUMBER(${column(cause)}),${column(cause)},0)`)
    .join("");
  /** One pass where none is recorded; passes that cannot be counted on leave the floor unknown. */
  const orOnePass = (known: string) =>
    field("passes") === undefined ? "1" : `IF(ISERROR(${of("passes")}),0,IF(${of("passes")}="",1,${known}))`;
  const floorKnown = `${good("area")}*${orOnePass(good("passes"))}`;
  const floor = `${of("area")}*${orOnePass(of("passes"))}`;
  const hardness = `IF(${of("hardness")}<4,"${HARDNESS_CLASSES[0]}",IF(${of("hardness")}<=6,"${HARDNESS_CLASSES[1]}","${HARDNESS_CLASSES[2]}"))`;

  const columns: Record<JobColumnKey, Omit<JobColumn, "key">> = {
    job: { title: "Job", formula: word("job") },
    counted: { title: "Counted", formula: `IF(${required},"${CELL.yes}","${CELL.no}")` },
    quotedMargin: {
      title: "Quoted margin",
      formula: counted(`GRIT.MARGIN(${ofPair("price", 0)},${ofPair("cost", 0)})`),
      format: "percentFine",
    },
    actualMargin: {
      title: "Actual margin",
      formula: counted(`GRIT.MARGIN(${ofPair("price", 1)},${ofPair("cost", 1)})`),
      format: "percentFine",
    },
    fade: {
      title: "Margin fade",
      formula: counted(
        `GRIT.MARGINSLIP(${ofPair("price", 0)},${ofPair("cost", 0)},${ofPair("price", 1)},${ofPair("cost", 1)})`,
      ),
      format: "percentFine",
    },
    fadeMoney: { title: "Fade, money", formula: counted(`ROUND(${whole},2)`), format: "money" },
    rate: {
      title: CAUSES.rate,
      formula: money(
        ["hours", "rate"],
        `GRIT.RATEVARIANCE(${ofPair("rate", 1)},${ofPair("rate", 0)},${ofPair("hours", 1)})`,
      ),
      format: "money",
    },
    hours: {
      title: CAUSES.hours,
      formula: money(
        ["hours", "rate"],
        `GRIT.USAGEVARIANCE(${ofPair("hours", 1)},${ofPair("hours", 0)},${ofPair("rate", 0)})`,
      ),
      format: "money",
    },
    toolUse: {
      title: CAUSES.toolUse,
      formula: money(
        ["sets", "setPrice"],
        `GRIT.USAGEVARIANCE(${ofPair("sets", 1)},${ofPair("sets", 0)},${ofPair("setPrice", 0)})`,
      ),
      format: "money",
    },
    toolPrice: {
      title: CAUSES.toolPrice,
      formula: money(
        ["sets", "setPrice"],
        `GRIT.RATEVARIANCE(${ofPair("setPrice", 1)},${ofPair("setPrice", 0)},${ofPair("sets", 1)})`,
      ),
      format: "money",
    },
    liquids: {
      title: CAUSES.liquids,
      formula: money(["liquids"], `${ofPair("liquids", 1)}-${ofPair("liquids", 0)}`),
      format: "money",
    },
    other: { title: CAUSES.other, formula: counted(`ROUND(${column("fadeMoney")}${causes},2)`), format: "money" },
    standsOut: {
      title: "Hours",
      formula: isMapped("hours")
        ? `IF(${column("estimated")}>0,IF(GRIT.OUTLIERS(${column("estimated")},${column("taken")}),"${CELL.unusual}",""),"")`
        : counted('""'),
    },
    bond: { title: "Bond", formula: counted(word("bond")) },
    hardness: {
      title: "Slab",
      formula: counted(field("hardness") === undefined ? '""' : `IF(${good("hardness")},${hardness},"")`),
    },
    machine: { title: "Machine", formula: counted(word("machine")) },
    estimated: { title: "Quoted hours", formula: amount(both("hours"), ofPair("hours", 0)), format: "hoursUsed" },
    taken: { title: "Actual hours", formula: amount(both("hours"), ofPair("hours", 1)), format: "hoursUsed" },
    floor: { title: "Floor worked", formula: amount(floorKnown, floor), format: "wholeUsed" },
    floorTimed: {
      title: "Floor with hours",
      formula: `${column("floor")}*(${column("taken")}>0)`,
      format: "wholeUsed",
    },
    hoursTimed: { title: "Hours on it", formula: `${column("taken")}*(${column("floor")}>0)`, format: "hoursUsed" },
    floorWorn: { title: "Floor with sets", formula: amount(both("sets"), column("floor")), format: "wholeUsed" },
    setsWorn: {
      title: "Sets on it",
      formula: `IF(${column("floor")}>0,IF(${both("sets")},${ofPair("sets", 1)},0),0)`,
      format: "sets",
    },
    logRatio: {
      title: "Log of actual ÷ quoted hours",
      formula: `LN((${column("taken")}+(${column("taken")}=0))/(${column("estimated")}+(${column("taken")}=0)))`,
      format: "ratio",
    },
    logSquare: { title: "Its square", formula: `${column("logRatio")}^2`, format: "ratio" },
    month: {
      title: "Month",
      formula: counted(`IF(ISNUMBER(${of("date")}),${of("date")}-DAY(${of("date")})+1-MOD(${of("date")},1),"")`),
      format: "month",
    },
  };
  return keys.map((key) => ({ key, ...columns[key], formula: `=${columns[key].formula}` }));
}
