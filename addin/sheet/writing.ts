/** All that the pane may write into the workbook and undo, which is one part of it. */
export { insertPlan } from "./insert";
export { insertFunction } from "./insert-function";
export { insertJobsTable } from "./jobs-table";
export { insertMachines, writeMeasured } from "./shelf-write";
export { addStrip } from "./strips";
export { undo } from "./undo";
