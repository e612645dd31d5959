/** A pane that is only looked at writes nothing, so what writes comes when it is needed. */
import { later } from "../common/later";
import type * as Writing from "./writing";

const part = (): Promise<typeof Writing> =>
  later(import(/* webpackChunkName: "writing" */ "./writing"), "writes into the workbook");

export const insertPlan: typeof Writing.insertPlan = async (...args) => (await part()).insertPlan(...args);
export const insertBid: typeof Writing.insertBid = async (...args) => (await part()).insertBid(...args);
export const updateBid: typeof Writing.updateBid = async (...args) => (await part()).updateBid(...args);
export const insertExtrasList: typeof Writing.insertExtrasList = async (...args) =>
  (await part()).insertExtrasList(...args);
export const insertPlans: typeof Writing.insertPlans = async (...args) => (await part()).insertPlans(...args);
export const insertProposal: typeof Writing.insertProposal = async (...args) => (await part()).insertProposal(...args);
export const insertQuoteLines: typeof Writing.insertQuoteLines = async (...args) =>
  (await part()).insertQuoteLines(...args);
export const insertFunction: typeof Writing.insertFunction = async (...args) => (await part()).insertFunction(...args);
export const insertJobsTable: typeof Writing.insertJobsTable = async (...args) =>
  (await part()).insertJobsTable(...args);
export const insertMachines: typeof Writing.insertMachines = async (...args) => (await part()).insertMachines(...args);
export const writeMeasured: typeof Writing.writeMeasured = async (...args) => (await part()).writeMeasured(...args);
export const addStrip: typeof Writing.addStrip = async (...args) => (await part()).addStrip(...args);
export const insertLog: typeof Writing.insertLog = async (...args) => (await part()).insertLog(...args);
export const addLogLines: typeof Writing.addLogLines = async (...args) => (await part()).addLogLines(...args);
export const closeOut: typeof Writing.closeOut = async (...args) => (await part()).closeOut(...args);
export const listPlans: typeof Writing.listPlans = async () => (await part()).listPlans();
export const readPlan: typeof Writing.readPlan = async (...args) => (await part()).readPlan(...args);
export const updatePlan: typeof Writing.updatePlan = async (...args) => (await part()).updatePlan(...args);
export const undo: typeof Writing.undo = async (...args) => (await part()).undo(...args);
