/** What "show the math" says of the cells that a formula refers to. */

/** What is missing where the part that reads formulas doesn't load. */
export const SHOWS_MATH = "shows the math";

/** Why a reference isn't known; as a part of a sentence. */
export const WHY_NOT = {
  noSheet: (sheet: string) => `there's no sheet ${sheet}`,
  noName: "there's no such name",
  noTable: (table: string) => `there's no table ${table}`,
  inNoTable: "the cell isn't in a table",
  tablePart: (sections: readonly string[]) => `the table part ${sections.join(", ")} isn't followed here`,
  noCells: "it doesn't refer to any cells",
  tooMany: (most: number) => `it has more than ${most.toLocaleString("en-US")} cells, too many to read here`,
  notFollowed: "it isn't followed here",
} as const;

/** What a reference holds. */
export const HOLDS = {
  notKnown: (why: string) => `not known here: ${why}`,
  blank: "blank",
  cells: (rows: number, columns: number, first: readonly string[], more: boolean) =>
    `${rows} × ${columns} cells: ${first.length === 0 ? "all blank" : first.join(", ")}${more ? ", …" : ""}`,
} as const;
