/** Every check that needs only the workbook. */
import { CALLS } from "./calls";
import { CELLS } from "./cells";
import type { Check } from "./check";
import { FILES } from "./files";
import { PLATFORM } from "./platform";
import { PRINTS } from "./prints";
import { SHEETS } from "./sheets";
import { TABLES } from "./tables";

export const CHECKS: readonly Check[] = [...CALLS, ...CELLS, ...TABLES, ...SHEETS, ...PRINTS, ...FILES, ...PLATFORM];
