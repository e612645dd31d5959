/**
 * Exposure: what a day's vibration, noise and dust come to for one person. Figures for planning, never a permission:
 * local law, the makers' instructions and a licensed professional come first.
 */
import { badValue, finite } from "./answer";
import { argument, isFilled, numberReader, readAs } from "./cell";
import { amount, define, oneCell, oneOrList, type Raw, UNITS } from "./declare";
import { ABOVE_0, type Domain, domain, isWithin } from "./domain";
import { HOURS_IN_A_DAY, OSHA_NOISE, SHROUD_AIRFLOW, VIBRATION_LIMITS } from "./tables/exposure-limits";
import { convert, type System } from "./units";

/** Exposures are averaged over a working day of 8 hours, however long it was. */
export const REFERENCE_HOURS = 8;

/** Undistorted sound in air ends at 194 dB: a level above it is a typing error. */
export const LEVEL = domain("above 0 and at most 194", [
  [">", 0],
  ["<=", 194],
]);
const HALVING = domain("from 1 to 10", [
  [">=", 1],
  ["<=", 10],
]);
export const HOURS = domain("from 0 to 24", [
  [">=", 0],
  ["<=", HOURS_IN_A_DAY],
]);

const CRITERION = amount("criterion", "Level permitted for 8 hours", "soundLevel", LEVEL, {
  omitted: OSHA_NOISE.criterion,
  meaning: "OSHA; NIOSH 85",
});
const EXCHANGE = amount("exchange", "Rise in level that halves the time", "soundRise", HALVING, {
  omitted: OSHA_NOISE.exchange,
  meaning: "OSHA; NIOSH 3",
});

const hoursOf = (label: string, beside: string) =>
  oneOrList(amount("hours", label, "hours", HOURS, { note: `in the shape of ${beside}` }), { most: HOURS_IN_A_DAY });

/** Adding up tenths of hours leaves binary dust, which is no twenty-fifth hour. */
const MOST_HOURS = HOURS_IN_A_DAY * (1 + 1e-9);

/** A(8) of what was done in a day, from its Σ a²·t. */
export const dailyVibration = (squaresTimesHours: number) => Math.sqrt(squaresTimesHours / REFERENCE_HOURS);

/** Hours that a level may last. */
export const permittedHours = (level: number, criterion: number, exchange: number) =>
  REFERENCE_HOURS / 2 ** ((level - criterion) / exchange);

/** Hours in which this vibration alone comes to a daily exposure. */
export const hoursUntil = (vibration: number, limit: number) => REFERENCE_HOURS * (limit / vibration) ** 2;

/** Airflow that a shroud needs for a wheel of this diameter. */
export const shroudAirflow = (diameter: number, system: System) =>
  convert(SHROUD_AIRFLOW * convert(diameter, "toolSize", system, "us"), "airflow", "us", system);

/** Where in its range a cell stands, as messages say it; nothing for a cell by itself. */
function placeIn(cells: unknown[][], r: number, c: number): string {
  const [isTall, isWide] = [cells.length > 1, cells[0]!.length > 1];
  if (!isTall && !isWide) return "";
  return ` in ${[isTall && `row ${r + 1}`, isWide && `column ${c + 1}`].filter(Boolean).join(", ")}`;
}

/**
 * Adds up a day's parts, each an amount that lasted some hours. A part of no hours, blank or 0, is passed over: a list of
 * tools may have some that were not used that day. Hours without an amount are an error, because an exposure that nobody
 * measured is not 0.
 */
function overDay(
  name: string,
  amounts: Raw,
  domain: Domain,
  hours: Raw,
  part: (amount: number, hours: number) => number,
): number {
  const amount = argument(name, amounts, numberReader(domain));
  const time = argument("hours", hours, numberReader(HOURS));
  const shape = ({ cells }: typeof amount) => `${cells.length} × ${cells[0]!.length} cells`;
  if (shape(amount) !== shape(time)) {
    throw badValue(`hours must have the shape of ${name}, ${shape(amount)}; got ${shape(time)}`);
  }
  const read = (argument: typeof amount, r: number, c: number) => {
    const cell = argument.cells[r]![c];
    if (typeof cell === "number" && isWithin(cell, argument.domain!)) return cell;
    const place = placeIn(argument.cells, r, c);
    return readAs(argument.name + place, cell, numberReader(argument.domain!));
  };
  let sum = 0;
  let total = 0;
  for (let r = 0; r < amount.cells.length; r++) {
    for (let c = 0; c < amount.cells[0]!.length; c++) {
      const [measuredCell, timeCell] = [amount.cells[r]![c], time.cells[r]![c]];
      if (!isFilled(timeCell) && !isFilled(measuredCell)) continue;
      // An amount is checked also where it lasted no time.
      const measured = read(amount, r, c);
      const lasted = isFilled(timeCell) ? read(time, r, c) : 0;
      sum += part(measured, lasted);
      total += lasted;
    }
  }
  if (total === 0) throw badValue(`hours has no time above 0; type how long each value of ${name} lasts`);
  if (total > MOST_HOURS) {
    throw badValue(`hours must come to at most 24 in all; got ${Number(total.toPrecision(12))}`);
  }
  return sum;
}

/**
 * One person's daily hand-arm vibration A(8): all tools together, averaged over 8 hours.
 * @remarks A range is several tools in one day; a tool with no hours (blank or 0) is skipped, and hours without a vibration are an error. Compare the result with the action value 2.5 and the limit 5.0 m/s² of Directive 2002/44/EC, or with your own law. A maker's figure can be lower than what the tool does on your floor. The result is a figure for planning, never a permission.
 * @example =GRIT.HANDARM(4,4.5) → 3 | published: EU Good Practice Guide HAV (2006) to Directive 2002/44/EC, 4 m/s² for 4.5 h (from memory); hand: 4 × √(4.5/8)
 * @example =GRIT.HANDARM({10;5},{0.5;2}) → 3.5355339059327378 | hand: 10² × 0.5 + 5² × 2 = 100, √(100/8)
 * @fails =GRIT.HANDARM({4;6},{12;13}) → #VALUE! hours must come to at most 24 in all; got 25
 * @fails =GRIT.HANDARM({4;6},{"";0}) → #VALUE! hours has no time above 0; type how long each value of vibration lasts
 * @fails =GRIT.HANDARM({4;""},{2;1}) → #VALUE! vibration in row 2 is blank or 0; it must be above 0
 * @plain IF(({vibration:rows}<>{hours:rows})+({vibration:columns}<>{hours:columns}),#VALUE!,SQRT(SUM(IF(IFERROR(({vibration}<>0)*({vibration}<>""),1)+IFERROR(({hours}<>0)*({hours}<>""),1),IF(0*{vibration}+({vibration}<"")*({vibration}>0),IF(IFERROR(({hours}<>0)*({hours}<>""),1),IF(0*{hours}+({hours}<"")*({hours}>=0)*({hours}<=24),{vibration}^2*{hours},#VALUE!),0),#VALUE!),0))/8)+IF((SUM({hours})=0)+(SUM({hours})>24*(1+1E-9)),#VALUE!,0))
 * @source ISO 5349-1:2001, daily vibration exposure: A(8) = √(Σ a² × t / 8).
 * @words hand grinder shake safety
 */
export const HANDARM = define(
  { label: "Daily exposure A(8)", unit: "acceleration" },
  [
    oneOrList(
      amount("vibration", "Vibration of each tool at the hand", "acceleration", ABOVE_0, {
        note: "from its plate or the maker's data sheet",
      }),
    ),
    hoursOf("Time the hands are on each tool in the day", "vibration"),
  ],
  (vibration, hours) => dailyVibration(finite(overDay("vibration", vibration, ABOVE_0, hours, (a, t) => a ** 2 * t))),
);

/**
 * Permitted daily hours at a noise level.
 * @remarks OSHA's Table G-16 ends at 115 dBA, where a quarter of an hour or less is permitted; the formula goes on, the rule doesn't. The result is a figure for planning, never a permission.
 * @example =GRIT.NOISETIME(95) → 4 | published: 29 CFR 1926.52, Table D-2 (construction), and 1910.95, Table G-16: 95 dBA, 4 hours
 * @example =GRIT.NOISETIME({85;90;105}) → {16;8;1} | published: 29 CFR 1910.95 Appendix A, Table G-16A
 * @example =GRIT.NOISETIME(100,85,3) → 0.25 | published: NIOSH 98-126, Table 1-1: 100 dBA, 15 minutes
 * @fails =GRIT.NOISETIME(950) → #VALUE! level must be above 0 and at most 194; got 950
 * @plain 8/2^(({level}-{criterion})/{exchange})
 * @source 29 CFR 1910.95 Appendix A: T = 8 / 2^((L − 90)/5), which Table D-2 of 29 CFR 1926.52 (construction) rounds too; NIOSH 98-126 with 85 and 3.
 * @words hearing decibel loud safety
 */
export const NOISETIME = define(
  { label: "Hours", unit: "hours", note: "above 24 the level doesn't reach it in a day" },
  [amount("level", "Sound level at the ear", "soundLevel", LEVEL), CRITERION, EXCHANGE],
  () => permittedHours,
);

/**
 * One person's daily noise dose, in percent of what the rule permits.
 * @remarks A row with no hours (blank or 0) is skipped, and hours without a level are an error. Every level given counts, including one below 80 dBA, which OSHA's measurements leave out, and those from 80 to 90 dBA, which count for general industry's action value but not for the limit (29 CFR 1910.95(a) and (b), from memory): that makes the dose higher, never lower, and a dose above 100 that comes from levels below 90 dBA is not above OSHA's limit. OSHA permits a quarter of an hour at 115 dBA and nothing above, however small the dose (Tables D-2 and G-16 end there). Construction sites are under 29 CFR 1926.52, with the same hours and no action value; general industry under 1910.95. The result is a figure for planning, never a permission.
 * @example =GRIT.NOISEDOSE({90;95},{4;2}) → 100 | published: 29 CFR 1910.95 Appendix A, D = 100 × (4/8 + 2/4) with the times of Table G-16A
 * @example =GRIT.NOISEDOSE({110;100;90},{0.25;0.5;1.5}) → 93.75 | published: 29 CFR 1926.52(d)(2)(iii) (construction), its worked example, printed as 0.938 (from memory)
 * @example =GRIT.NOISEDOSE(92,8) → 131.9507910772894 | hand: T = 8 / 2^(2/5) = 6.0629 h, 100 × 8/T to 30 digits in Python's decimal; with the 6.1 h that Table G-16A prints it is 131.1
 * @example =GRIT.NOISEDOSE({85;88},{4;4},85,3) → 150 | published: NIOSH 98-126, Table 1-1: 8 hours at 85 dBA, 4 at 88, so 4/8 + 4/4
 * @fails =GRIT.NOISEDOSE({90;95},{4;-2}) → #VALUE! hours in row 2 must be from 0 to 24; got -2
 * @plain IF(({levels:rows}<>{hours:rows})+({levels:columns}<>{hours:columns}),#VALUE!,100/8*SUM(IF(IFERROR(({levels}<>0)*({levels}<>""),1)+IFERROR(({hours}<>0)*({hours}<>""),1),IF(0*{levels}+({levels}<"")*({levels}>0)*({levels}<=194),IF(IFERROR(({hours}<>0)*({hours}<>""),1),IF(0*{hours}+({hours}<"")*({hours}>=0)*({hours}<=24),{hours}*2^(({levels}-{criterion})/{exchange}),#VALUE!),0),#VALUE!),0))+IF((SUM({hours})=0)+(SUM({hours})>24*(1+1E-9)),#VALUE!,0))
 * @source 29 CFR 1926.52(d)(2) for construction and 1910.95 Appendix A for general industry: D = 100 × Σ C/T, T as NOISETIME gives it.
 * @words hearing decibel loud safety
 */
export const NOISEDOSE = define(
  {
    label: "Dose",
    unit: "percent",
    note: "100 is the limit; in general industry OSHA's hearing conservation begins at 50",
  },
  [
    oneOrList(amount("levels", "Sound level at the ear in each part of the day", "soundLevel", LEVEL)),
    hoursOf("Length of each part", "levels"),
    oneCell(CRITERION),
    oneCell(EXCHANGE),
  ],
  (levels, hours, criterion, exchange) =>
    100 * overDay("levels", levels, LEVEL, hours, (level, time) => time / permittedHours(level, criterion, exchange)),
);

/**
 * Minimum shroud airflow for a hand grinder grinding dry.
 * @remarks For hand-held grinders. The rule also asks for a filter of 99% efficiency with a cyclonic pre-separator or a filter-cleaning mechanism, and for a respirator of APF 10 indoors above 4 hours a shift. For a floor grinder it asks for the airflow its maker recommends, a dust collector with such a filter, and a HEPA vacuum between passes indoors (29 CFR 1926.1153 Table 1, from reproductions). The airflow applies at the shroud, with a clean filter and the hose in use. The result is a figure for planning, never a permission.
 * @example =GRIT.SHROUDAIR(7) → 175 | published: 29 CFR 1926.1153 Table 1, 25 cfm per inch of wheel diameter; hand: 7 × 25
 * @example =GRIT.SHROUDAIR(4.5) → 112.5 | hand: 4.5 × 25
 * @example =GRIT.SHROUDAIR(177.8,"metric") → 297.326889216 | hand: 177.8 mm is 7 in, 175 cfm; 1 cfm = 0.3048³ × 60 = 1.69901079552 m³/h (NIST SP 811)
 * @fails =GRIT.SHROUDAIR(0) → #VALUE! diameter is blank or 0; it must be above 0
 * @plain {diameter}*{units:25|25/25.4*1.69901079552}
 * @source 29 CFR 1926.1153 Table 1, hand-held grinders with shroud and dust collector.
 * @words dust vacuum extractor silica cup wheel blade
 */
export const SHROUDAIR = define(
  { label: "Airflow", unit: "airflow" },
  [amount("diameter", "Wheel diameter", "toolSize", ABOVE_0), UNITS],
  (units) => (diameter) => shroudAirflow(diameter, units),
);

/**
 * Hours with one tool in hand until a daily vibration exposure is reached.
 * @remarks With no other tool that day; HANDARM adds up several. The result is a figure for planning, never a permission.
 * @example =GRIT.HANDTIME(10) → 2 | hand: 8 × (5/10)²
 * @example =GRIT.HANDTIME({10;2.5;5},2.5) → {0.5;8;2} | published: Directive 2002/44/EC, A(8) is normalised to 8 h: at 2.5 m/s² all 8; hand: 8 × (2.5/10)² and 8 × (2.5/5)²
 * @fails =GRIT.HANDTIME(0) → #VALUE! vibration is blank or 0; it must be above 0
 * @plain 8*({limit}/{vibration})^2
 * @source ISO 5349-1:2001, A(8) = a × √(t/8), solved for t; limit values of Directive 2002/44/EC.
 * @words hand grinder shake safety
 */
export const HANDTIME = define(
  { label: "Hours", unit: "hours", note: "above 24 the tool doesn't reach it in a day" },
  [
    amount("vibration", "Vibration of the tool at the hand", "acceleration", ABOVE_0, {
      note: "from its plate or the maker's data sheet",
    }),
    amount("limit", "Daily exposure A(8) to reach", "acceleration", ABOVE_0, {
      omitted: VIBRATION_LIMITS.limit,
      meaning: "the limit value; the action value is 2.5",
    }),
  ],
  () => hoursUntil,
);

/**
 * 8-hour average of respirable dust, from what was measured in each part of one person's day.
 * @remarks Leave out hours without dust: a row with no hours (blank or 0) is skipped, and hours without a concentration are an error. The sum is divided by 8 even when the day was longer, so a long day counts fully. For respirable crystalline silica OSHA's action level is 25 and its limit 50 µg/m³. The result is a figure for planning, never a permission.
 * @example =GRIT.DUSTTWA({150;75;50},{2;2;4}) → 81.25 | published: 29 CFR 1910.1000(d)(1)(ii), 2 h at 150, 2 h at 75 and 4 h at 50 average 81.25
 * @example =GRIT.DUSTTWA(100,4) → 50 | hand: 100 × 4 / 8
 * @fails =GRIT.DUSTTWA({60;""},{4;2}) → #VALUE! concentrations in row 2 is blank or 0; it must be above 0
 * @plain IF(({concentrations:rows}<>{hours:rows})+({concentrations:columns}<>{hours:columns}),#VALUE!,SUM(IF(IFERROR(({concentrations}<>0)*({concentrations}<>""),1)+IFERROR(({hours}<>0)*({hours}<>""),1),IF(0*{concentrations}+({concentrations}<"")*({concentrations}>0),IF(IFERROR(({hours}<>0)*({hours}<>""),1),IF(0*{hours}+({hours}<"")*({hours}>=0)*({hours}<=24),{concentrations}*{hours},#VALUE!),0),#VALUE!),0))/8+IF((SUM({hours})=0)+(SUM({hours})>24*(1+1E-9)),#VALUE!,0))
 * @source 29 CFR 1910.1000(d)(1): E = Σ C × T / 8; limits of 29 CFR 1926.1153.
 * @words silica dust respirator air sample safety
 */
export const DUSTTWA = define(
  { label: "Average over 8 hours", unit: "concentration" },
  [
    oneOrList(amount("concentrations", "Respirable dust or silica in the air breathed", "concentration", ABOVE_0)),
    hoursOf("Length of each part", "concentrations"),
  ],
  (concentrations, hours) =>
    overDay("concentrations", concentrations, ABOVE_0, hours, (c, t) => c * t) / REFERENCE_HOURS,
);
