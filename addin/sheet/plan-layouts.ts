/** The layouts of a stage plan, loaded together when one is written. */
export { planSheet } from "./plan-sheet";
