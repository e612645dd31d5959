/** How cells look, read before they are written over and put back by an undo. */

const READ: Excel.CellPropertiesLoadOptions = {
  format: {
    fill: { color: true },
    font: { bold: true, color: true, italic: true, name: true, size: true, strikethrough: true, underline: true },
    borders: { color: true, style: true, weight: true },
    horizontalAlignment: true,
    verticalAlignment: true,
    wrapText: true,
    indentLevel: true,
  },
};

export type Looks = Excel.SettableCellProperties[][];

export const askLooks = (range: Excel.Range) => range.getCellProperties(READ);

/** What a cell that was just cleared has to be given. */
export const settable = (read: Excel.CellProperties[][]): Looks =>
  read.map((line) => line.map(({ format }) => ({ format: { ...format, ...filling(format), ...edges(format) } })));

/** A cell without a fill is told to be white; white itself would hide the lines between the cells. */
function filling(format: Excel.CellPropertiesFormat | undefined): Excel.CellPropertiesFormat {
  const color = format?.fill?.color ?? "";
  return { fill: ["", "#FFFFFF"].includes(color.toUpperCase()) ? undefined : { color } };
}

/** Only lines that there are; nothing else can be set of a line that there is not. */
function edges(format: Excel.CellPropertiesFormat | undefined): Excel.CellPropertiesFormat {
  const { top, bottom, left, right } = format?.borders ?? {};
  const drawn = Object.entries({ top, bottom, left, right }).filter(([, line]) => line && line.style !== "None");
  return { borders: drawn.length > 0 ? Object.fromEntries(drawn) : undefined };
}
