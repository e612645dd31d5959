/** All that lays a proposal out, which is loaded when one is written. */
export { keptWords, proposalSheet } from "./proposal-sheet";
export { written } from "./proposal-texts";
