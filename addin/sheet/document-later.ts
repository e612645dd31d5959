/** Most days nobody makes a copy, so the code that handles files loads with the code that makes copies. */
import { later } from "../common/later";
import type * as DocumentFile from "./document-file";

const part = (): Promise<typeof DocumentFile> =>
  later(import(/* webpackChunkName: "copier" */ "./document-file"), "makes copies");

export const documentBytes: typeof DocumentFile.documentBytes = async () => (await part()).documentBytes();

export const openAsNewWorkbook: typeof DocumentFile.openAsNewWorkbook = async (bytes) =>
  (await part()).openAsNewWorkbook(bytes);
