/** Cell addresses from zero-based rows and columns, and back. */

export function columnLetters(column: number): string {
  let letters = "";
  for (let n = column + 1; n > 0; n = Math.floor((n - 1) / 26)) {
    letters = String.fromCharCode(65 + ((n - 1) % 26)) + letters;
  }
  return letters;
}

/** "C5". */
export const cellAddress = (row: number, column: number) => `${columnLetters(column)}${row + 1}`;

/** "$C$5": a formula keeps pointing at it when it is copied. */
export const absoluteAddress = (row: number, column: number) => `$${columnLetters(column)}$${row + 1}`;

/** "C5:D9", or "C5" for one cell. */
export function rangeAddress(row: number, column: number, rows: number, columns: number): string {
  const first = cellAddress(row, column);
  return rows === 1 && columns === 1 ? first : `${first}:${cellAddress(row + rows - 1, column + columns - 1)}`;
}

/** "Quote!C5" → "Quote!$C$5": an address as Excel gives it, made to stay when its formula is copied. */
export function pinned(address: string): string {
  const bang = address.lastIndexOf("!");
  const cell = address.slice(bang + 1).replace(/\$/g, "");
  return address.slice(0, bang + 1) + cell.replace(/([A-Z]+)(\d+)/g, "$$$1$$$2");
}

/** "'My quote'!A1:D20" → "A1:D20". */
export const withoutSheet = (address: string) => address.slice(address.lastIndexOf("!") + 1);

/** "'My quote'!C5" → "My quote". */
export function sheetOf(address: string): string {
  const name = address.slice(0, address.lastIndexOf("!"));
  return name.startsWith("'") ? name.slice(1, -1).replace(/''/g, "'") : name;
}

/** "My quote" → "'My quote'": a sheet's name as a formula may have it. */
export const quotedSheet = (name: string) => `'${name.replaceAll("'", "''")}'`;

/** A text as a formula may have it. */
export const quotedText = (text: string) => `"${text.replaceAll('"', '""')}"`;

/** As Excel itself writes a reference to a cell that was deleted. */
const DELETED = "#REF!";
export const isDeleted = (address: string) => address.endsWith(DELETED);
export const deleted = (address: string) => address.slice(0, address.lastIndexOf("!") + 1) + DELETED;
