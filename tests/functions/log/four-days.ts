/**
 * A hall of 4,000 ft² with three stages, and four days of its log, small enough to work out on paper. Crew 78 an hour, machine
 * 28 an hour, 8 hours a day.
 */
import type { LogLine } from "../../../functions/log/fields";
import type { QuotedStage } from "../../../functions/log/stages";

const stage = (own: Partial<QuotedStage> & Pick<QuotedStage, "stage" | "toDo" | "hours">): QuotedStage => ({
  floor: "Hall",
  machineHours: 0,
  setsUsed: 0,
  crewCost: 78 * own.hours,
  machineCost: 28 * (own.machineHours ?? 0),
  toolingCost: 0,
  liquidsCost: 0,
  hoursADay: 8,
  ...own,
});

export const STAGES: readonly QuotedStage[] = [
  stage({ stage: "1 Metal 30", toDo: 8000, hours: 16, machineHours: 15, setsUsed: 0.8, toolingCost: 300 }),
  stage({ stage: "2 Metal 60", toDo: 4000, hours: 8, machineHours: 7.5, setsUsed: 0.4, toolingCost: 100 }),
  stage({ stage: "3 Densifier", toDo: 4000, hours: 4, liquidsCost: 200 }),
];

export const line = (own: Partial<LogLine>): LogLine => ({
  date: MONDAY,
  floor: "Hall",
  stage: "1 Metal 30",
  area: null,
  machineHours: null,
  crewHours: null,
  sets: null,
  height: null,
  note: "",
  ...own,
});

/** 2026-11-30: 25,569 days to 1970, and 20,787 more. */
export const MONDAY = 46_356;

export const FOUR_DAYS: readonly LogLine[] = [
  line({ area: 3000, machineHours: 7, crewHours: 8, sets: 1, height: 10 }),
  line({ date: MONDAY + 1, area: 2000, machineHours: 7, crewHours: 8, height: 8 }),
  line({ date: MONDAY + 2, area: 2000, machineHours: 4.5, crewHours: 5, height: 6 }),
  line({
    ...{ date: MONDAY + 3, stage: "2 Metal 60", area: 1000, machineHours: 1.5, crewHours: 1.5 },
    ...{ sets: 1, height: 9, note: "Dull by noon" },
  }),
];

/** mm; at 1 mm for 1,000 ft² a set of 6 mm still does 500 ft². */
export const CHANGED_AT = 5.5;
