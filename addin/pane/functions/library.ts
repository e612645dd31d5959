/**
 * The functions as the page's own functions.js has them: the very ones that the spreadsheet calls. In the pane's bundle they
 * would be there twice.
 */
import { type Library, Refusal } from "../../sheet";
import { FUNCTIONS } from "./texts";

export function loadedLibrary(): Library {
  const { gritledgerFunctions } = globalThis as { gritledgerFunctions?: Library };
  if (gritledgerFunctions) return gritledgerFunctions;
  throw new Refusal(FUNCTIONS.notLoaded);
}
