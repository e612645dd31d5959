/** All that the pane may write into the workbook and undo, which is one part of it. */
export { addLogLines } from "./add-log-lines";
export { closeOut } from "./close-out";
export { insertExtrasList } from "./extras-list";
export { insertPlan, insertQuoteLines } from "./insert";
export { insertBid, updateBid } from "./insert-bid";
export { insertFunction } from "./insert-function";
export { insertLog } from "./insert-log";
export { insertPlans } from "./insert-plans";
export { insertProposal } from "./insert-proposal";
export { insertJobsTable } from "./jobs-table";
export { insertMachines, writeMeasured } from "./shelf-write";
export { addStrip } from "./strips";
export { undo } from "./undo";
export { listPlans, readPlan, updatePlan } from "./update-plan";
