/** Parts of formulas that several columns of the stage table have. */
import { DUPLICATES } from "./plan-texts";
import type { Row, StageColumnKey } from "./stage-row";

export const isLiquid = (row: Row) => `OR(${row.here("work")}="densify",${row.here("work")}="guard")`;
export const byKind = (row: Row, liquid: string, tool: string) => `IF(${isLiquid(row)},${liquid},${tool})`;
/** #DIV/0! where the name is no row's own: no figure comes from one of two. */
export const unlessDuplicate = (isDuplicate: string, figure: string) => `${figure}/NOT(${isDuplicate})`;
export const isDuplicateRun = (row: Row) =>
  row.isDuplicateMachine ? `OR(${row.isDuplicate("tool")},${row.isDuplicateMachine})` : row.isDuplicate("tool");
export const isSized = (row: Row) => `N(${row.tool("size")})>0`;
export const checkOf = (row: Row, verdict: string) => {
  const duplicate = byKind(row, row.isDuplicate("liquid"), row.isDuplicate("tool"));
  const ofShelf = `IF(${duplicate},"${DUPLICATES.shelf}",${verdict})`;
  return row.isDuplicateMachine ? `IF(${row.isDuplicateMachine},"${DUPLICATES.machine}",${ofShelf})` : ofShelf;
};
/** What wet work changes by; nothing where the shelf has no such column, or a blank in it. */
const inWetWork = (row: Row, key: "wetSpeed" | "wetLife") =>
  row.lacks(key) ? "" : `*IF((${row.input("grinding")}="wet")*(N(${row.tool(key)})>0),${row.tool(key)},1)`;
export const speed = (row: Row) => `${row.machine("speed")}*${row.tool("speedFactor")}${inWetWork(row, "wetSpeed")}`;
export const life = (row: Row) => `${row.tool("life")}${inWetWork(row, "wetLife")}`;
export const setLife = (row: Row) => (row.setSize ? `${life(row)}*${row.setSize}` : life(row));
export const onHand = (row: Row) => (row.setSize ? `${row.tool("onHand")}/${row.setSize}` : row.tool("onHand"));
/** Larger than any number in a sheet: looked up, it finds the last number. */
export const BEYOND = "9.99E+307";
/** The last number above, since a densify row between two tools has none. */
export const lastAbove = (row: Row, key: StageColumnKey, none: string) =>
  `IF(COUNT(${row.above(key)})=0,${none},LOOKUP(${BEYOND},${row.above(key)}))`;

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

export const liquidCost = (row: Row, coats: string) =>
  `GRIT.CONTAINERS(GRIT.LIQUID(${row.input("area")},${row.liquid("coverage")},${coats},${row.liquid("waste")}),${row.liquid("container")})*${row.liquid("price")}`;
