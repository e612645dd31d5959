/** The way from past jobs into the plan, from whichever view. */
import type { Calibration } from "./calibration";
import { useCalibration } from "./plan/calibration";
import { outOfDate } from "./reads";
import { goToView, type State } from "./state";

/** Goes to the plan with it; the audit may have changed since the calibration was worked out. */
export const useInPlan = (state: State, calibration: Calibration): State =>
  outOfDate(goToView({ ...state, plan: useCalibration(state.plan, calibration) }, "plan"), "plan");
