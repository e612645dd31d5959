/** The layouts of a bid, loaded together when one is written. */
export { bidSheet } from "./bid-sheet";
export { updateOf } from "./bid-update";
