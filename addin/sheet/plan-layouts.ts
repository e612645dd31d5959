/** The layouts of a stage plan, loaded together when one is written. */
export { planBlock } from "./plan-block";
export { planSheet } from "./plan-sheet";
