/** Every question and refusal of the commands that write plans and shelves, with what to do next. */
import { questionsOf } from "../common/refusal";

const quoted = (names: readonly string[]) => names.map((name) => `“${name}”`).join(" and ");

export interface ChangedCell {
  readonly title: string;
  /** Empty where there is no old value. */
  readonly before: string | number;
  readonly value: number;
}

/** "Life of a set ft² 10000 → 12400", or without the old value where there is none. */
export const changeWords = (changes: readonly ChangedCell[]) =>
  changes.map(({ title, before, value }) => `${title} ${before === "" ? value : `${before} → ${value}`}`).join(", ");

export const ask = questionsOf({
  overCells: ({ at, filled, hasRules }: { at: string; filled: number; hasRules: boolean }) => {
    const cells = filled === 1 ? "1 filled cell" : filled > 0 ? `${filled} filled cells` : "";
    const rules = hasRules ? "drop-down lists, rules for what may be typed or conditional formats" : "";
    const has = [cells, rules].filter((words) => words !== "").join(", and ");
    const loss = hasRules ? " Undoing brings back the cells, but not these rules." : "";
    return [`The stage table needs ${at}, which has ${has}.${loss}`, "Write over them?"];
  },
  elsewhere: ({ at }: { at: string }) => [
    `The selection has changed: the stage table would go to ${at}, which is empty.`,
    "Write it there?",
  ],
  changeTool: (facts: {
    tool: string;
    table: string;
    changes: readonly ChangedCell[];
    newColumns: readonly string[];
    asText: readonly string[];
  }) => {
    const { tool, table, changes, newColumns, asText } = facts;
    const added =
      newColumns.length > 0
        ? ` The table has no column ${quoted(newColumns)} yet: it gets one at its right end, and what stands right of it moves over.`
        : "";
    // With the number format Text, no formula could use what was measured.
    const reformatted =
      asText.length > 0
        ? ` In ${quoted(asText)} its cell has the number format Text, in which a number is a text: it gets the number format General.`
        : "";
    return [`${tool} in the table ${table}: ${changeWords(changes)}.${added}${reformatted}`, "Write this?"];
  },
  undoChanged: ({ places }: { places: readonly string[] }) => [
    `You have changed or moved cells in what was inserted: ${places.join(", ")}.`,
    "Remove it with your changes?",
  ],
});
