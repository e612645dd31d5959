/** What a bid or its plans promise of each stage: what the log is held against. */

export interface QuotedStage {
  readonly floor: string;
  /** Its number and tool as the plan's table shows them: "2 Metal 60 medium". */
  readonly stage: string;
  /** Floor to do, each pass counted, ft² | m²; for joints and cracks the length, ft | m. */
  readonly toDo: number;
  /** Crew's clock hours, and the machine's. */
  readonly hours: number;
  readonly machineHours: number;
  /** Sets of tools that it wears. */
  readonly setsUsed: number;
  /** Money. */
  readonly crewCost: number;
  readonly machineCost: number;
  readonly toolingCost: number;
  readonly liquidsCost: number;
  /** Of the floor's plan. */
  readonly hoursADay: number;
}

export const stageName = (number: unknown, tool: unknown): string => `${number} ${tool}`;
