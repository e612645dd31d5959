/** Puts single cells into a block. */
import type { Block } from "./block";
import type { NumberFormat, StyleName } from "./styles";

export class CellWriter {
  constructor(readonly block: Block) {}

  text(row: number, column: number, content: string | number, style?: StyleName, format?: NumberFormat): void {
    this.block.cells.push({ row, column, content, style, format });
  }

  formula(row: number, column: number, formula: string, style: StyleName = "figure", format?: NumberFormat): void {
    this.block.cells.push({ row, column, content: { formula: `=${formula}` }, style, format });
  }

  heading(row: number, column: number, title: string, across: number): void {
    for (let i = 0; i < across; i++) this.text(row, column + i, i === 0 ? title : "", "heading");
  }

  /** The first of the columns hold words, the others figures. */
  labels(row: number, column: number, titles: readonly string[], words = 1): void {
    titles.forEach((title, i) => {
      this.text(row, column + i, title, i < words ? "group" : "groupRight");
    });
  }
}
