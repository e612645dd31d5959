/** What the spreadsheet loads: every function, registered by its id. */
import { FUNCTIONS } from "./topics";

declare const CustomFunctions: { associate(id: string, fn: (...given: any[]) => any[][]): void };

// Looked up at every call, so that the check of an installation can listen in.
for (const id of Object.keys(FUNCTIONS)) CustomFunctions.associate(id, (...given) => FUNCTIONS[id]!(...given));

export { FUNCTIONS };
