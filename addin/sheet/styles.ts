/** The few looks that our cells have. Colors carry no meaning on their own: words do. */

const ACCENT = "#2F6B5E";
const SOFT = "#EAF2F0";
const RULE = "#B9C9C5";
const QUIET = "#5A6461";
/** Input cells: a pale ground and blue figures, as estimators' workbooks commonly mark what may be typed over. */
const INPUT_GROUND = "#FFF9E8";
const INPUT_INK = "#1F3F8F";

interface Style {
  bold?: boolean;
  italic?: boolean;
  size?: number;
  color?: string;
  fill?: string;
  indent?: number;
  align?: "Left" | "Right" | "Center";
  wrap?: boolean;
  border?: { edge: "top" | "bottom"; color: string };
}

const STYLES = {
  title: { bold: true, size: 16, color: ACCENT },
  caution: { italic: true, color: QUIET },
  /** Words that nobody may pass over. */
  warning: { bold: true },
  keyLabel: { color: QUIET, border: { edge: "top", color: RULE } },
  keyFigure: { bold: true, size: 12, align: "Left" },
  heading: { bold: true, color: ACCENT, border: { edge: "bottom", color: ACCENT } },
  headingRight: { bold: true, color: ACCENT, align: "Right", border: { edge: "bottom", color: ACCENT } },
  /** A sentence in a row that grows with it. */
  sentence: { wrap: true },
  /** To write a name above. */
  signature: { color: QUIET, border: { edge: "top", color: QUIET } },
  group: { bold: true, color: QUIET },
  groupRight: { bold: true, color: QUIET, align: "Right" },
  label: {},
  /** In columns as wide as the user has them: a label that is cut says nothing. */
  labelWrapped: { wrap: true },
  input: { fill: INPUT_GROUND, color: INPUT_INK, align: "Right" },
  inputText: { fill: INPUT_GROUND, color: INPUT_INK, align: "Left" },
  /** A step away from the figure, which stands at the right of its cell. */
  unit: { color: QUIET, indent: 1 },
  note: { color: QUIET },
  tableHeader: { bold: true, color: "#FFFFFF", fill: ACCENT, wrap: true },
  tableHeaderRight: { bold: true, color: "#FFFFFF", fill: ACCENT, wrap: true, align: "Right" },
  tableInput: { fill: INPUT_GROUND, color: INPUT_INK },
  /** Names that are cut look alike. */
  tableInputWrapped: { fill: INPUT_GROUND, color: INPUT_INK, wrap: true },
  tableCell: {},
  /** A number between two texts. */
  tableCentered: { align: "Center" },
  total: { bold: true, fill: SOFT, border: { edge: "top", color: ACCENT } },
  figure: { align: "Right" },
  /** Words in the place of a figure: they run on to the right, away from their label. */
  answer: { align: "Left" },
  figureStrong: { bold: true, align: "Right", fill: SOFT, border: { edge: "top", color: ACCENT } },
  labelStrong: { bold: true, fill: SOFT, border: { edge: "top", color: ACCENT } },
} as const satisfies Record<string, Style>;

export type StyleName = keyof typeof STYLES;

/** The styles as Excel takes them for many cells at once. */
export const LOOKS = Object.fromEntries(
  Object.entries<Style>(STYLES).map(([name, style]) => [name, looksOf(style)]),
) as Record<StyleName, Excel.SettableCellProperties>;

function looksOf({
  bold,
  italic,
  size,
  color,
  fill,
  indent,
  align,
  wrap,
  border,
}: Style): Excel.SettableCellProperties {
  const hasFont = bold || italic || size || color;
  const line = border && { style: "Continuous" as const, color: border.color };
  return {
    format: {
      font: hasFont ? { bold, italic, size, color } : undefined,
      fill: fill ? { color: fill } : undefined,
      indentLevel: indent,
      horizontalAlignment: align,
      wrapText: wrap,
      verticalAlignment: wrap ? "Top" : undefined,
      borders: border && { [border.edge]: line },
    },
  };
}

/** Number formats: money with two decimals, hours with one, percentages as percentages; a dash where nothing applies. */
export const FORMATS = {
  money: '#,##0.00;-#,##0.00;"–"',
  moneyInput: "#,##0.00",
  moneyWhole: "#,##0",
  hours: '#,##0.0;-#,##0.0;"–"',
  hoursUsed: '#,##0.0;-#,##0.0;"not used"',
  oneDecimal: "#,##0.0",
  percent: "0%",
  percentFine: "0.0%",
  whole: '#,##0;-#,##0;"–"',
  wholeUsed: '#,##0;-#,##0;"not used"',
  count: "#,##0",
  date: "yyyy-mm-dd",
  month: "yyyy-mm",
  dateKnown: 'yyyy-mm-dd;;"–"',
  asTyped: "General",
  text: "@",
  ratio: "0.00",
  /** A check's number as a word: 0 where all is fine, else the case that fails; below 0 where it can't be checked. */
  check: '"no";"can\'t tell";"yes"',
  sets: '0.00;-0.00;"–"',
  size: "[>=100]#,##0;[>=10]0.0;0.00",
} as const;
export type NumberFormat = keyof typeof FORMATS;

const OF_MONEY: readonly NumberFormat[] = ["money", "moneyInput", "moneyWhole"];

/** A format as Excel takes it, of money with the sign before its digits. */
export const formatCode = (format: NumberFormat, sign = ""): string =>
  sign && OF_MONEY.includes(format)
    ? FORMATS[format].replaceAll("#,##0", `"${sign.replaceAll('"', "")}"#,##0`)
    : FORMATS[format];

/** Chart fills that stay apart when printed in gray: from dark to light. */
export const CHART_FILLS = ["#17463C", "#4E8F80", "#9CC4BA", "#DCE9E5"] as const;
