/** The tables of the Audit sheet: where the margin went, rates and tool lives, and the calibration by group. */
import { type Audit, CAUSE_KEYS, CAUSES, type CalibrationGroup, hasCause } from "../../functions/audit/audit";
import { HARDNESS_CLASSES, INTERVAL_CONFIDENCE, LEAST_FOR_INTERVAL } from "../../functions/audit/classes";
import { absoluteAddress, cellAddress } from "../common/a1";
import { type AuditTask, type Column, onSheet, outerJobCells } from "./audit-ranges";
import { BORROWING, BY_CAUSE, CALIBRATION, CELL, CONFIDENCE_NAME, RATES } from "./audit-texts";
import type { CellWriter } from "./cell-writer";
import type { CalibratedJobs } from "./plan";

/** Confidence at which the audit first shows what 100 h become. */
const START_CONFIDENCE = 0.8;

/** Gives the rows that the picture shows. */
export function placeCauses(sheet: CellWriter, { mapping }: AuditTask, column: Column, top: number) {
  sheet.heading(top, 0, BY_CAUSE.heading, 4);
  sheet.labels(top + 1, 0, BY_CAUSE.labels);
  const first = top + 2;
  const all = first + CAUSE_KEYS.length;
  const total = absoluteAddress(all, 1);
  CAUSE_KEYS.forEach((cause, i) => {
    const row = first + i;
    sheet.text(row, 0, CAUSES[cause], "label");
    sheet.formula(row, 1, `SUM(${column(cause)})`, "figure", "money");
    if (!hasCause(mapping, cause)) sheet.text(row, 2, BY_CAUSE.notInList, "note");
    else sheet.formula(row, 2, `IF(${total}=0,0,${cellAddress(row, 1)}/${total})`, "figure", "percent");
  });
  sheet.text(all, 0, BY_CAUSE.all, "labelStrong");
  sheet.formula(all, 1, `SUM(${cellAddress(first, 1)}:${cellAddress(all - 1, 1)})`, "figureStrong", "money");
  const asked = (["hours", "toolUse", "liquids"] as const).filter((cause) => hasCause(mapping, cause));
  if (asked.length > 0) {
    const recorded = asked.map((cause) => `,${column(cause)},"<>${CELL.notKnown}"`).join("");
    const missing = `ROUND(SUM(${column("other")})-SUMIFS(${column("other")}${recorded}),2)`;
    sheet.text(all + 1, 0, BY_CAUSE.partOfOther, "unit");
    sheet.formula(all + 1, 1, missing, "figure", "money");
    sheet.text(all + 1, 2, BY_CAUSE.missing, "unit");
  }
  sheet.text(all + 2, 0, BY_CAUSE.other, "unit");
  return { row: first, rows: CAUSE_KEYS.length };
}

/** Jobs, area rate and tool life of the jobs that a mask picks, side by side from a column on. */
function placeRates(sheet: CellWriter, column: Column, row: number, at: number, mask: string): void {
  const of = (key: "hoursTimed" | "floorTimed" | "setsWorn" | "floorWorn") => `SUMPRODUCT(${mask}*${column(key)})`;
  const [hours, sets] = [of("hoursTimed"), of("setsWorn")];
  const rate = `IF(${hours}=0,"${RATES.notRecorded}",GRIT.ACTUALRATE(${of("floorTimed")},${hours}))`;
  const life = `IF(${sets}=0,"${RATES.notRecorded}",${of("floorWorn")}/${sets})`;
  sheet.formula(row, at, `SUMPRODUCT((${column("counted")}="${CELL.yes}")*${mask})`, "figure", "count");
  sheet.formula(row, at + 1, rate, "figure", "count");
  sheet.formula(row, at + 2, life, "figure", "count");
}

/** The jobs that are in none of the lines above. */
function placeOtherJobs(
  sheet: CellWriter,
  column: Column,
  row: number,
  label: number,
  at: number,
  lines: number,
): void {
  const jobs = `${cellAddress(row - lines, at)}:${cellAddress(row - 1, at)}`;
  sheet.text(row, label, RATES.rest, "unit");
  sheet.formula(row, at, `COUNTIF(${column("counted")},"${CELL.yes}")-SUM(${jobs})`, "figure", "count");
}

/** Stands to the right of the causes; gives the rows that the picture shows. */
export function placeSlabRates(sheet: CellWriter, column: Column, top: number) {
  const left = 5;
  sheet.heading(top, left, RATES.bySlab, 4);
  sheet.labels(top + 1, left, [RATES.slab, ...RATES.figures]);
  const first = top + 2;
  HARDNESS_CLASSES.forEach((slab, i) => {
    sheet.text(first + i, left, slab, "label");
    placeRates(sheet, column, first + i, left + 1, `(${column("hardness")}=${absoluteAddress(first + i, left)})`);
  });
  const rest = first + HARDNESS_CLASSES.length;
  placeOtherJobs(sheet, column, rest, left, left + 1, HARDNESS_CLASSES.length);
  sheet.text(rest + 1, left, RATES.note, "unit");
  return { row: first, rows: HARDNESS_CLASSES.length, column: left };
}

export const bondRatesSize = ({ rates }: Audit) => 3 + rates.length;

export function placeBondRates(sheet: CellWriter, { audit: { rates } }: AuditTask, column: Column, top: number): void {
  sheet.heading(top, 0, RATES.byBond, 5);
  sheet.text(top, 5, RATES.note, "unit");
  sheet.labels(top + 1, 0, [RATES.bond, RATES.slab, ...RATES.figures], 2);
  rates.forEach(({ bond, hardness }, i) => {
    const row = top + 2 + i;
    sheet.text(row, 0, bond || RATES.notRecorded, "label");
    sheet.text(row, 1, hardness || RATES.notRecorded, "label");
    const is = (key: "bond" | "hardness", word: string, at: number) =>
      `(${column(key)}=${word ? absoluteAddress(row, at) : '""'})`;
    placeRates(sheet, column, row, 2, `${is("bond", bond, 0)}*${is("hardness", hardness, 1)}`);
  });
  if (rates.length > 0) placeOtherJobs(sheet, column, top + 2 + rates.length, 0, 2, rates.length);
}

type KindOfGroup = Exclude<CalibrationGroup["by"], "all">;
const kindsIn = ({ groups }: Audit): KindOfGroup[] =>
  [...new Set(groups.map(({ by }) => by))].filter((by): by is KindOfGroup => by !== "all");

/** Rows of the calibration: heading, labels, a line for each group, and one for the other jobs of each kind. */
export const calibrationSize = (audit: Audit) => 2 + audit.groups.length + kindsIn(audit).length;

/** Actual over quoted hours, by group; gives each group's hours for a plan. */
export function placeCalibration(sheet: CellWriter, task: AuditTask, column: Column, top: number): CalibratedJobs[] {
  const { name, audit } = task;
  const outer = outerJobCells(task);
  const [estimated, taken] = [column("estimated"), column("taken")];
  sheet.heading(top, 0, CALIBRATION.heading, CALIBRATION.labels.length);
  sheet.labels(top + 1, 0, CALIBRATION.labels, 2);
  let row = top + 2;
  sheet.text(row, 7, START_CONFIDENCE, "input", "percent");
  sheet.block.names.push({ name: CONFIDENCE_NAME, row, column: 7, scope: "sheet" });

  const place = ({ by, value }: CalibrationGroup): CalibratedJobs => {
    const word = absoluteAddress(row, 0);
    /** The hours quoted for the group's jobs, and 0 for others. */
    const hoursQuoted = (cells: Column, on = "") =>
      (by === "all" ? "" : `(${cells(by)}=${on}${word})*`) + cells("estimated");
    const hours = hoursQuoted(column);
    const jobs = absoluteAddress(row, 2);
    const enough = (formula: string, otherwise = "") => `IF(${jobs}<${LEAST_FOR_INTERVAL},"${otherwise}",${formula})`;
    sheet.text(row, 0, value || CELL.allJobs, "label");
    sheet.text(row, 1, CALIBRATION.kinds[by], "unit");
    const count = by === "all" ? `COUNTIF(${estimated},">0")` : `SUMPRODUCT((${column(by)}=${word})*(${estimated}>0))`;
    sheet.formula(row, 2, count, "figure", "count");
    // Factor, low and high side by side: over many jobs, one call instead of three is felt.
    const calibration = `INDEX(GRIT.CALIBRATE(${hours},${taken}),{1,2,3},2)`;
    sheet.formula(row, 3, enough(calibration, CALIBRATION.tooFew), "figure", "ratio");
    for (const spilled of [4, 5]) sheet.text(row, spilled, "", "figure", "ratio");
    sheet.formula(row, 6, enough(`GRIT.HOURSAT(100,${hours},${taken},${CONFIDENCE_NAME})`), "figure", "hours");
    const line = `${onSheet(name)}${word}:${absoluteAddress(row, 5)}`;
    row++;
    return { estimated: hoursQuoted(outer, onSheet(name)), actual: outer("taken"), line };
  };
  const rest = (by: KindOfGroup, lines: number) => {
    const jobs = `${cellAddress(row - lines, 2)}:${cellAddress(row - 1, 2)}`;
    sheet.text(row, 0, RATES.rest, "unit");
    sheet.text(row, 1, CALIBRATION.kinds[by], "unit");
    sheet.formula(row, 2, `COUNTIF(${estimated},">0")-SUM(${jobs})`, "figure", "count");
    row++;
  };

  const pastJobs: CalibratedJobs[] = [];
  for (const by of ["all", ...kindsIn(audit)] as const) {
    const members = audit.groups.filter((group) => group.by === by);
    pastJobs.push(...members.map(place));
    if (by !== "all") rest(by, members.length);
  }
  return pastJobs;
}

/** Kinds whose groups can borrow from each other. */
const kindsToBorrow = (audit: Audit) =>
  kindsIn(audit).filter((by) => audit.groups.filter((group) => group.by === by).length > 1);

/** Rows of the block: heading, note, labels, a line for each group and one for each kind; none where nothing borrows. */
export function borrowingSize(audit: Audit): number {
  const kinds = kindsToBorrow(audit);
  const groups = kinds.flatMap((by) => audit.groups.filter((group) => group.by === by)).length;
  return kinds.length > 0 ? 3 + groups + kinds.length + 2 : 0;
}

/** Factors by group as CALIBRATEBY has them, in cells that any spreadsheet program calculates. */
export function placeBorrowing(sheet: CellWriter, { audit }: AuditTask, column: Column, top: number): void {
  const kinds = kindsToBorrow(audit);
  if (kinds.length === 0) return;
  sheet.heading(top, 0, BORROWING.heading, BORROWING.labels.length);
  sheet.text(top + 1, 0, BORROWING.note, "note");
  sheet.labels(top + 2, 0, BORROWING.labels, 2);
  let row = top + 3;
  for (const by of kinds) {
    const groups = audit.groups.filter((group) => group.by === by);
    const [first, last] = [row, row + groups.length - 1];
    const cells = (at: number) => `${absoluteAddress(first, at)}:${absoluteAddress(last, at)}`;
    const [jobs, own, squares] = [cells(2), cells(7), cells(8)];
    const [within, between, common] = [3, 4, 5].map((at) => absoluteAddress(last + 1, at)) as [string, string, string];
    const all = `SUM(${jobs})`;
    const count = `COUNTIF(${jobs},">0")`;
    const logs = `LN(${own})`;
    const rough = `SUMPRODUCT(${jobs}*${logs})/${all}`;
    const enough = (formula: string, otherwise = `"${BORROWING.tooFew}"`) =>
      `IF(${all}<=${count},${otherwise},${formula})`;
    for (const { value } of groups) {
      const is = `(${column(by)}=${absoluteAddress(row, 0)})`;
      const here = (at: number) => absoluteAddress(row, at);
      const log = `LN(${here(7)})`;
      const drawn = here(6);
      const center = `(${drawn}*${common}+(1-${drawn})*${log})`;
      const less = `(${drawn}*(${count}-3)/(${count}-1))`;
      const variance = `${within}/${here(2)}*IF(${count}<4,1,1-(${count}-1)/${count}*${less})+IF(${count}<4,0,2/(${count}-3)*${less}^2*(${log}-${common})^2)`;
      const reach = `TINV(1-${INTERVAL_CONFIDENCE},${all}-${count})*SQRT(${variance})`;
      const shown = (formula: string) => enough(`IF(${here(2)}=0,"",${formula})`);
      sheet.text(row, 0, value, "label");
      sheet.text(row, 1, CALIBRATION.kinds[by], "unit");
      sheet.formula(row, 2, `SUMPRODUCT(${is}*(${column("estimated")}>0))`, "figure", "count");
      sheet.formula(row, 3, shown(`EXP(${center})`), "figure", "ratio");
      sheet.formula(row, 4, shown(`EXP(${center}-${reach})`), "figure", "ratio");
      sheet.formula(row, 5, shown(`EXP(${center}+${reach})`), "figure", "ratio");
      sheet.formula(
        row,
        6,
        enough(`IF(${within}+${between}=0,1,${within}/(${within}+${between}*${here(2)}))`, "1"),
        "figure",
        "percent",
      );
      sheet.formula(
        row,
        7,
        `IF(${here(2)}=0,1,EXP(SUMPRODUCT(${is}*${column("logRatio")})/${here(2)}))`,
        "figure",
        "ratio",
      );
      sheet.formula(row, 8, `SUMPRODUCT(${is}*${column("logSquare")})`, "figure", "ratio");
      row++;
    }
    sheet.text(row, 0, BORROWING.between, "unit");
    sheet.formula(
      row,
      3,
      enough(`MAX(0,SUM(${squares})-SUMPRODUCT(${jobs}*${logs}^2))/(${all}-${count})`, "0"),
      "figure",
      "asTyped",
    );
    const spread = `(${all}-SUMPRODUCT(${jobs}*${jobs})/${all})`;
    const apart = `SUMPRODUCT(${jobs}*(${logs}-${rough})^2)-(${count}-1)*${within}`;
    sheet.formula(row, 4, enough(`IF(${count}<2,0,MAX(0,(${apart})/${spread}))`, "0"), "figure", "asTyped");
    const weights = `${jobs}/(${within}+${between}*${jobs}+(${jobs}=0))`;
    const weighted = `SUMPRODUCT(${weights}*${logs})/SUMPRODUCT(${weights})`;
    sheet.formula(row, 5, enough(`IF(${within}+${between}=0,${rough},${weighted})`, "0"), "figure", "asTyped");
    row++;
  }
}
