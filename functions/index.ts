/** What the spreadsheet loads: every function, registered by its id. */
import { FUNCTIONS } from "./rooms";

declare const CustomFunctions: { associate(id: string, fn: (...given: any[]) => any[][]): void };

for (const [id, fn] of Object.entries(FUNCTIONS)) CustomFunctions.associate(id, fn);

export { FUNCTIONS };
