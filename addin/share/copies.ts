/** All that makes copies: what the pane loads once a copy is asked for. */
export { costWords } from "./cost-words";
export { calculatingCopy } from "./workbook-copy";
export { priceOnlyCopy } from "./workbook-copy-price";
