/** What the pane may ask of the workbook. */

export { later } from "../common/later";
export { type Consent, Gone, NeedsAnswer, needYes, Refusal } from "../common/refusal";
export { insertAudit } from "./audit-later";
export { readBid, readRoomList } from "./bid-later";
export { type NoCalibration, type ReadCalibration, readCalibration, watchWorkbook } from "./calibration-line";
export { CAUTION, cautionFor } from "./cautions";
export { recalculate } from "./cells";
export { type CellsFound, listSheets, type SheetFound, selectedCells } from "./document";
export { documentBytes, openAsNewWorkbook } from "./document-later";
export type { WrittenAudit } from "./insert-audit";
export type { BidChoice } from "./insert-bid";
export {
  findJobList,
  findLastList,
  type JobSource,
  jobTables,
  type Means,
  problemCell,
  problemText,
  readJobs,
  stopIfAsked,
} from "./job-list";
export { readMapping, rememberMapping } from "./job-mapping";
export type { Inserted } from "./ledger";
export type { FollowedCell, FoundCell, LinkedCell } from "./linked-cells";
export { readLinked, readSelectedCell } from "./linked-later";
export type { Logged } from "./log";
export { readForemansList, readLog } from "./log-later";
export type { ForemansList } from "./log-list";
export { type CellMath, type Library, readMath, type ShownCell } from "./math";
export { hasDecimalComma } from "./notation";
export type { CheckedWorkbook, OurCell } from "./our-cells";
export type { Links, Plan } from "./plan";
export { QUOTE_LINES, type QuoteLine } from "./quote-lines";
export type { ReadBid, WrittenBid } from "./read-bid";
export type { Repaired } from "./repair-cells";
export type { RoomList } from "./rooms";
export { readShelf } from "./shelf";
export type { Measured } from "./shelf-write";
export type { OpenedPlan } from "./update-plan";
export {
  addLogLines,
  addStrip,
  closeOut,
  insertBid,
  insertExtrasList,
  insertFunction,
  insertJobsTable,
  insertLog,
  insertMachines,
  insertPlan,
  insertPlans,
  insertProposal,
  insertQuoteLines,
  listPlans,
  readPlan,
  undo,
  updateBid,
  updatePlan,
  writeMeasured,
} from "./writing-later";
