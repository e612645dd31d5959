/** The names that a plan with a shelf of its own takes in a workbook where all are free. */
import type { PlanNames } from "../../../addin/sheet/plan";

export const names: PlanNames = {
  stages: "Stages",
  tooling: "Tooling",
  liquids: "Liquids",
  machines: undefined,
  toolingLacks: [],
  liquidsLacks: [],
  shelfUnits: undefined,
  machinesLack: [],
  cost: "Stages_Cost",
  hours: "Stages_Hours",
  price: "Stages_Price",
  days: "Stages_Days",
  hoursAt: "Stages_HoursAt",
  priceAt: "Stages_PriceAt",
  daysAt: "Stages_DaysAt",
};
