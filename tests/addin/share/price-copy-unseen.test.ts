/**
 * Cells of a price-only copy that show nothing of what is in them. Which section of a number format shows what: ECMA-376
 * part 1, 18.8.31; colors by theme, tint and index: 18.3.1.15, 18.8.19, 18.8.27; worked out by hand.
 */
import { expect, it } from "vitest";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { type Book, book, MAIN, sheet } from "./copy-files";

/** A workbook with one cell, of a format made of this font's color, this fill and this number format. */
function cautionsOf(
  cell: string,
  {
    color = "",
    fill = "",
    code = "General",
    more = {},
  }: { color?: string; fill?: string; code?: string; more?: Partial<Book> },
): readonly string[] {
  const styles =
    `<styleSheet xmlns="${MAIN}"><numFmts count="1"><numFmt numFmtId="164" formatCode="${code.replace(/"/g, "&quot;")}"/></numFmts>` +
    `<fonts count="2"><font><sz val="11"/></font><font><sz val="11"/>${color}</font></fonts>` +
    `<fills count="3"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill><fill>${fill || '<patternFill patternType="none"/>'}</fill></fills>` +
    '<borders count="1"><border/></borders><cellXfs count="2"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>' +
    '<xf numFmtId="164" fontId="1" fillId="2" borderId="0"/></cellXfs></styleSheet>';
  const bytes = book({ sheets: { Quote: sheet(`<row r="7">${cell}</row>`) }, styles, ...more });
  return priceOnlyCopy(bytes, { keep: [{ sheet: "Quote" }] }).report.cautions.map(({ text }) => text);
}

const NUMBER = '<c r="C7" s="1"><v>3815</v></c>';
const ZERO = '<c r="C7" s="1"><v>0</v></c>';
const TEXT = '<c r="C7" s="1" t="inlineStr"><is><t>31 percent for us</t></is></c>';
const BLANKS = '<c r="C7" s="1" t="inlineStr"><is><t xml:space="preserve">  </t></is></c>';
const RUNS =
  '<c r="C7" s="1" t="inlineStr"><is><r><t>Price </t></r><r><rPr><color rgb="FFFFFFFF"/></rPr><t>3815</t></r></is></c>';
const solid = (color: string) =>
  `<patternFill patternType="solid"><fgColor ${color}/><bgColor indexed="64"/></patternFill>`;
const WHITE = '<color rgb="FFFFFFFF"/>';
const theme = {
  leads: [{ type: "theme", target: "theme/theme1.xml" }],
  parts: {
    "xl/theme/theme1.xml":
      '<a:theme xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"><a:themeElements><a:clrScheme name="O"><a:dk1><a:sysClr val="windowText" lastClr="000000"/></a:dk1><a:lt1><a:sysClr val="window" lastClr="FFFFFF"/></a:lt1><a:dk2><a:srgbClr val="102030"/></a:dk2></a:clrScheme></a:themeElements></a:theme>',
  },
};

it("are named, and whoever makes the copy has to agree", () => {
  expect(cautionsOf(NUMBER, { code: ";;;" })).toEqual([
    '1 cell on "Quote" contains a hidden value, by a format that shows nothing or text in the cell\'s own color: C7. Anyone who selects it can read it.',
  ]);
});

it.each([
  ["a format that shows nothing", NUMBER, { code: ";;;" }],
  ["such a format of a text", TEXT, { code: ";;;" }],
  ["a format that shows no number", NUMBER, { code: ";;;@" }],
  ["a format of empty words", NUMBER, { code: '"";-0' }],
  ["a format of blanks", NUMBER, { code: "[Red]_-\\ * " }],
  ["white letters on no fill", TEXT, { color: WHITE }],
  ["a white number on no fill", NUMBER, { color: WHITE }],
  ["letters that are almost white", TEXT, { color: '<color rgb="FFF8F8F8"/>' }],
  ["white by the format's own word", NUMBER, { code: "[White]0.00" }],
  ["white by the theme", TEXT, { color: '<color theme="0"/>', more: theme }],
  ["white by the theme, of a workbook without one", TEXT, { color: '<color theme="0"/>' }],
  ["white by the list of colors", TEXT, { color: '<color indexed="9"/>' }],
  ["white on white that is filled", TEXT, { color: WHITE, fill: solid('theme="0"') }],
  ["black on black", TEXT, { fill: solid('indexed="8"') }],
  ["the fill's own color", TEXT, { color: '<color rgb="FF1F6F4A"/>', fill: solid('rgb="FF1F6F4A"') }],
  // 0xFF less a quarter is 191, 0xBF.
  [
    "a color by its tint",
    TEXT,
    { color: '<color theme="0" tint="-0.25"/>', fill: solid('rgb="FFBFBFBF"'), more: theme },
  ],
  ["the theme's dark blue", TEXT, { color: '<color theme="3"/>', fill: solid('rgb="FF102030"'), more: theme }],
  ["a run of white in a text that shows", RUNS, {}],
] as const)("are found: %s", (_, cell, looks) => {
  expect(cautionsOf(cell, looks)).toEqual([expect.stringContaining(": C7.")]);
});

it.each([
  ["an ordinary number", NUMBER, {}],
  ["an ordinary text", TEXT, {}],
  ["a zero that is hidden for order's sake", ZERO, { code: "0;-0;;@" }],
  ["a text in a format for numbers", TEXT, { code: ";;" }],
  ["a text of blanks", BLANKS, { code: ";;;" }],
  ["hours", NUMBER, { code: "[h]" }],
  ["words instead of a figure", NUMBER, { code: '"on request"' }],
  ["an empty format, which is General", NUMBER, { code: "" }],
  ["white letters on a dark ground", TEXT, { color: WHITE, fill: solid('rgb="FF1F4E78"') }],
  ["black by the format's own word, though the font is white", NUMBER, { color: WHITE, code: "[Black]0" }],
  ["gray letters", TEXT, { color: '<color theme="0" tint="-0.5"/>', more: theme }],
  ["white letters on a pattern", TEXT, { color: WHITE, fill: '<patternFill patternType="darkGrid"/>' }],
  ["a run of white on a dark ground", RUNS, { color: '<color rgb="FFFFFF00"/>', fill: solid('rgb="FF102030"') }],
] as const)("are not seen in: %s", (_, cell, looks) => {
  expect(cautionsOf(cell, looks)).toEqual([]);
});

it("are listed as far as a question can hold", () => {
  const cells = Array.from("ABCDEFGHIJKLMN", (column) => `<c r="${column}7" s="1"><v>5</v></c>`).join("");
  expect(cautionsOf(cells, { code: ";;;" })).toEqual([
    '14 cells on "Quote" contain hidden values, by a format that shows nothing or text in the cell\'s own color: A7, B7, C7, D7, E7, F7, G7, H7, I7, J7, K7, L7 and 2 more. Anyone who selects one can read it.',
  ]);
});
