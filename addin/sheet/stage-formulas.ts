/** Parts of formulas that several columns of the stage table have. */
import type { Key } from "../../functions/plan/fields";
import { LABOR_WORKS, LENGTH_WORKS, LIQUID_WORKS, type Work } from "../../functions/plan/works";
import { DUPLICATES } from "./plan-texts";
import type { Row } from "./stage-row";

const isOneOf = (row: Row, works: readonly Work[]) =>
  `ISNUMBER(MATCH(${row.here("work")},{${works.map((work) => `"${work}"`).join(",")}},0))`;
export const isLiquid = (row: Row) => isOneOf(row, LIQUID_WORKS);
const isWork = (row: Row, work: Work) => `${row.here("work")}="${work}"`;
export const isStrip = (row: Row) => isWork(row, "strip");
export const byKind = (row: Row, liquid: string, tool: string) => `IF(${isLiquid(row)},${liquid},${tool})`;
/** #DIV/0! where the name is no row's own: no figure comes from one of two. */
export const unlessDuplicate = (isDuplicate: string, figure: string) => `${figure}/NOT(${isDuplicate})`;
export const isDuplicateRun = (row: Row) =>
  row.isDuplicateMachine ? `OR(${row.isDuplicate("tool")},${row.isDuplicateMachine})` : row.isDuplicate("tool");
/** A number, also where it was typed into a column of texts; a label such as 00 as it is. */
export const gritOf = (row: Row) => {
  const number = `VALUE(${row.tool("grit")})`;
  return `IFERROR(${number}/(${number}<>0),${row.tool("grit")})`;
};
export const sizeOf = (row: Row) =>
  `IF(N(${row.tool("size")})>0,${row.tool("size")},GRIT.SIZE(${row.here("grit")},${row.input("scale")}))`;

/** Depth of the scratch: as the shelf has it, else by size and bond. A stage that strips shows no size. */
export function scratchLeft(row: Row): string {
  const size = `IF(${isStrip(row)},${sizeOf(row)},${row.here("size")})`;
  const byRule = `GRIT.SCRATCH(${size},${row.here("bond")},"um")`;
  return row.lacks("scratch") ? byRule : `IF(N(${row.tool("scratch")})>0,${row.tool("scratch")},${byRule})`;
}
export const checkOf = (row: Row, verdict: string) => {
  const duplicate = byKind(row, row.isDuplicate("liquid"), row.isDuplicate("tool"));
  const ofShelf = `IF(${duplicate},"${DUPLICATES.shelf}",${verdict})`;
  return row.isDuplicateMachine ? `IF(${row.isDuplicateMachine},"${DUPLICATES.machine}",${ofShelf})` : ofShelf;
};
/** What wet work changes by; nothing where the shelf has no such column, or a blank in it. */
const inWetWork = (row: Row, key: "wetSpeed" | "wetLife") =>
  row.lacks(key) ? "" : `*IF((${row.input("grinding")}="wet")*(N(${row.tool(key)})>0),${row.tool(key)},1)`;
/** Area rate of the tool on its machine; a tool that strips has its own. */
export const toolRate = (row: Row) =>
  unlessStripping(
    row,
    row.tool("stripRate"),
    `GRIT.AREARATE(${row.machine("width")},${speed(row)},${row.input("overlap")},${row.input("efficiency")},${row.input("units")})`,
  );
export const passHours = (row: Row) =>
  unlessStripping(
    row,
    `${row.input("machineArea")}*${row.here("passes")}/${row.tool("stripRate")}`,
    `GRIT.PASSTIME(${row.input("machineArea")},${row.machine("width")},${speed(row)},${row.here("passes")},${row.input("overlap")},${row.input("efficiency")},${row.input("units")})`,
  );
const unlessStripping = (row: Row, stripping: string, grinding: string) =>
  row.lacks("stripRate") ? grinding : `IF(AND(${isStrip(row)},N(${row.tool("stripRate")})>0),${stripping},${grinding})`;
const speed = (row: Row) => `${row.machine("speed")}*${row.tool("speedFactor")}${inWetWork(row, "wetSpeed")}`;
/** A metal tool that cuts deeper than the cut listed with it wears as much faster. */
const perDeeperCut = (row: Row) =>
  row.lacks("cut")
    ? ""
    : `/IF((${row.tool("bond")}="metal")*(N(${row.tool("cut")})>0),MAX(1,N(${row.here("cut")})/${row.tool("cut")}),1)`;
export const life = (row: Row) => `${row.tool("life")}${inWetWork(row, "wetLife")}${perDeeperCut(row)}`;
export const setLife = (row: Row) => (row.setSize ? `${life(row)}*${row.setSize}` : life(row));
export const onHand = (row: Row) => (row.setSize ? `${row.tool("onHand")}/${row.setSize}` : row.tool("onHand"));
/** Larger than any number in a sheet: looked up, it finds the last number. */
export const BEYOND = "9.99E+307";
/** What a stage finds: the last scratch above, since a densify row has none; the first tool the depth too. */
export function leftBefore(row: Row): string {
  const [sizes, scratches] = [row.above("size"), row.above("scratch")];
  const last = `IF(COUNT(${scratches})=0,0,LOOKUP(${BEYOND},${scratches}))`;
  return `MAX(IF(COUNT(${sizes})=0,${row.input("depth")},0),${last})`;
}

/** What the hand grinder wears along the edges; nothing where the shelf has no life or no price for it. */
export const edgeTooling = (row: Row) =>
  row.lacks("edgeLife") || row.lacks("edgePrice")
    ? "0"
    : `IF(N(${row.tool("edgeLife")})>0,${row.input("edgeLength")}*${row.input("edgePasses")}/${row.tool("edgeLife")}*N(${row.tool("edgePrice")}),0)`;

/** Hours that one more machine pass takes: none while the edges take longer beside it. */
export function hoursOfOneMore(row: Row): string {
  const [machine, edges] = [row.here("machineHours"), row.here("edgeHours")];
  const longer = `${machine}*(1+1/${row.here("passes")})`;
  return `IF(${row.input("edgeWork")}="alongside",MAX(${longer},${edges})-MAX(${machine},${edges}),${machine}/${row.here("passes")})`;
}

/** Of no passes nothing; a blank is none, and our functions, to which a 0 is one too, refuse it. */
export const ofPasses = (row: Row, formula: string, passes = row.here("passes")) =>
  `IF(ISNUMBER(${passes})*(${passes}=0),0,${formula})`;

export const crewCost = (row: Row, hours: string) =>
  `GRIT.CREWCOST(${hours},${row.input("crew")},${row.input("rate")},${row.input("burden")})`;

/** Joints and cracks go by their length; a plan without either has #N/A for it. */
const byLength = (row: Row, joints: string, cracks: string, area: string) =>
  `IF(${isWork(row, "joints")},${row.has("jointLength") ? joints : "NA()"},IF(${isWork(row, "cracks")},${row.has("crackLength") ? cracks : "NA()"},${area}))`;

/** Area or length that one coat covers. */
export const amount = (row: Row) =>
  byLength(row, row.input("jointLength"), row.input("crackLength"), row.input("area"));

export const liquidRate = (row: Row) =>
  row.lacksOfLiquid("fillRate")
    ? row.liquid("rate")
    : `IF(${isOneOf(row, LENGTH_WORKS)},${row.liquid("fillRate")},${row.liquid("rate")})`;

/** Whether it needs no liquid: where it does, a container that is blank must not be free. */
const isLabor = (row: Row) => `AND(${isOneOf(row, LABOR_WORKS)},N(${row.liquid("container")})=0)`;

/** By the shelf, else by the dry film of a coat: the shelf's, or the plan's shared among the coats. */
function coverage(row: Row): string {
  const listed = row.liquid("coverage");
  const ofPlan = `${row.input("film")}/${row.here("passes")}`;
  const film = row.lacksOfLiquid("film") ? ofPlan : `IF(N(${row.liquid("film")})>0,${row.liquid("film")},${ofPlan})`;
  const solids = row.lacksOfLiquid("solids") ? "1" : `IF(N(${row.liquid("solids")})>0,${row.liquid("solids")},1)`;
  return `IF(N(${listed})>0,${listed},GRIT.SPREADRATE(${film},${solids},${row.input("units")}))`;
}

export function liquidVolume(row: Row): string {
  const fill = (length: Key, width: Key, depth: Key) =>
    `${row.here("passes")}*GRIT.JOINTFILL(${row.input(length)},${row.input(width)},${row.input(depth)},${row.liquid("waste")},${row.input("units")})`;
  const spread = `GRIT.LIQUID(${row.input("area")},${coverage(row)},${row.here("passes")},${row.liquid("waste")})`;
  const joints = fill("jointLength", "jointWidth", "jointDepth");
  const cracks = fill("crackLength", "crackWidth", "crackDepth");
  return `IF(${isLabor(row)},0,${byLength(row, joints, cracks, spread)})`;
}

/** What a volume costs in whole containers, and so many coats besides. */
export function liquidCost(row: Row, volume: string, coats: string): string {
  const bought = `IF(${isLabor(row)},0,GRIT.CONTAINERS(${volume},${row.liquid("container")})*${row.liquid("price")})`;
  return row.lacksOfLiquid("areaCost") ? bought : `${bought}+${amount(row)}*${coats}*N(${row.liquid("areaCost")})`;
}

/** Working hours when a wait is over that begins at so many: the same as `afterWait` of functions/plan/schedule.ts. */
export function afterWait(row: Row, worked: string, wait: string): string {
  const day = row.input("hoursADay");
  const clock = `(${worked}+(24-${day})*(ROUNDUP(ROUND(${worked}/${day},9),0)-1)+${wait})`;
  return `(INT(${clock}/24)*${day}+MIN(${day},MOD(${clock},24)))`;
}

/** The same as `doneAt`. */
export function doneAt(row: Row): string {
  const [start, hours, coats, wait] = (["start", "hours", "passes", "wait"] as const).map(row.here) as Four;
  const one = `${hours}/${coats}`;
  const further = `MAX(0,${coats}-2)*${afterWait(row, one, wait)}`;
  return `IF(AND(${wait}>0,${coats}>1),${afterWait(row, `(${start}+${one})`, wait)}+${further}+${one},${start}+${hours})`;
}
type Four = [string, string, string, string];

/** The same grit again is in order where grout has gone on since. */
export function unlessGrouted(row: Row, verdict: string): string {
  const works = row.above("work");
  const since = `(ROW(${works})-ROW(${row.headerCell})+1>MATCH(${BEYOND},${row.above("size")}))`;
  return `SUBSTITUTE(${verdict},"repeat",IF(SUMPRODUCT((${works}="grout")*${since})>0,"ok","repeat"))`;
}

/** Sliding speed of the row's machine, else as the inputs have it; "" where neither says. */
export function slideOf(row: Row): string {
  const [own, given] = [row.madeUp("slideSpeed"), row.input("slideSpeed")];
  return `IF(${own}>0,${own},IF(N(${given})>0,${given},""))`;
}

/** What the row's machine cuts over what the inputs' machine does; 1 where a make-up is not known. */
function cutBeside(row: Row): string {
  if (!row.hasMadeUp("slideSpeed")) return "";
  const [load, width, speeds] = (["load", "width", "speed"] as const).map(row.machine);
  const ratio = [
    `${load}/${row.input("load")}`,
    `${row.here("slide")}/${row.input("slideSpeed")}`,
    `${row.input("machineWidth")}/${width}`,
    `${row.input("speed")}/${speeds}`,
  ].map((share) => `(${share})`);
  return `*IF((${row.madeUp("slideSpeed")}>0)*(N(${row.input("slideSpeed")})>0),${ratio.join("*")},1)`;
}

/** Depth of one pass with power to spare, or "". */
export function fullCut(row: Row): string {
  const [coefficient, listed] = [row.input("cutCoefficient"), row.tool("cut")];
  const slides = row.hasMadeUp("slideSpeed") ? row.here("slide") : row.input("slideSpeed");
  const pass = [coefficient, row.machine("load"), slides, row.machine("width"), speed(row), row.input("overlap")];
  const measured = `GRIT.CUTPERPASS(${pass.join(",")},${row.input("units")})*${row.here("size")}/${row.input("stripSize")}`;
  return `IF(${isStrip(row)},"",IF(N(${coefficient})>0,${measured},IF(N(${listed})>0,${listed}${cutBeside(row)},"")))`;
}

/** Pressure of the segments on the floor, or "". */
export function pressure(row: Row): string {
  const [segments, face] = [row.tool("segments"), row.tool("segmentArea")];
  const [load, tools] = [row.machine("load"), row.machine("toolsASet")];
  return `IF(N(${segments})*N(${face})>0,GRIT.PRESSURE(${load},${tools}*${segments},${face},${row.input("units")}),"")`;
}

/** Power that a pass of that depth takes, kW. */
export function powerTaken(row: Row): string {
  const pass = [row.machine("width"), speed(row), row.input("overlap"), "1", row.input("units")];
  return `IF(N(${row.here("fullCut")})>0,GRIT.GRINDPOWER(${row.here("fullCut")},${pass.join(",")}),"")`;
}

/** Power that the motor or the supply of the row's machine gives, kW, or "". */
export function powerThere(row: Row): string {
  const motor = row.madeUp("motor");
  const [volts, amps, phases] = (["volts", "amps", "phases"] as const).map(row.madeUp);
  const supply = `GRIT.SUPPLYPOWER(${volts},${amps},MAX(1,${phases}))`;
  const least = `MIN(IF(${motor}>0,${motor},${BEYOND}),IF(${volts}*${amps}>0,${supply},${BEYOND}))`;
  return `IF(${motor}+${volts}*${amps}>0,${least},"")`;
}

/** A machine short of power takes more passes at less depth. */
export function cutWithPower(row: Row): string {
  if (!row.hasMadeUp("motor") && !row.hasMadeUp("volts", "amps")) return fullCut(row);
  const [full, taken, there] = [row.here("fullCut"), row.here("power"), row.here("powerThere")];
  return `IF((N(${there})>0)*(N(${taken})>N(${there})),${full}*${there}/${taken},${full})`;
}
