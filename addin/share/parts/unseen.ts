/**
 * Which cells of a price-only copy show nothing of what is in them: by a number format without anything to show, or by
 * letters in the color of their ground. Whoever selects such a cell reads it all the same.
 */
import { type Format, formatOf, isMute, type Shown, sectionShown } from "./number-format";
import { attribute, type Element, elements, first, textIn } from "./xml";

/** "#rrggbb" in small letters, or another word for a color that nobody here can mix: equal words are the same color. */
type Color = string;

const WHITE = "#ffffff";
const BLACK = "#000000";

/** The theme's colors by their numbers: light and dark change places. */
const THEME = [
  "lt1",
  "dk1",
  "lt2",
  "dk2",
  "accent1",
  "accent2",
  "accent3",
  "accent4",
  "accent5",
  "accent6",
  "hlink",
  "folHlink",
];

/** Of the list of colors that Excel has by itself; the others are only compared. */
const INDEXED: Readonly<Record<string, Color>> = { 0: BLACK, 1: WHITE, 8: BLACK, 9: WHITE, 64: BLACK, 65: WHITE };

/** Red, green or blue may differ by so much of 255 and nobody can read the letters. */
const SEEN = 16;

interface Style {
  readonly format: Format;
  readonly tells: boolean;
  readonly ink: Color;
  /** Nothing where a pattern or a run of colors is behind the letters. */
  readonly ground: Color | undefined;
  /** What is known of its sections. */
  readonly sections: Map<string, Section>;
}

/** A section of a number format on its ground. */
interface Section {
  readonly isBlank: boolean;
  /** A color that the format itself names. */
  readonly named: Color | undefined;
  readonly isInk: boolean;
}

export class Unseen {
  private readonly xfs: readonly Element[];
  private readonly fonts: readonly Element[];
  private readonly fills: readonly Element[];
  private readonly palette: readonly Element[];
  private readonly codes: ReadonlyMap<string, string>;
  private readonly known = new Map<number, Style>();

  constructor(
    private readonly styles: string,
    private readonly theme: string,
  ) {
    this.xfs = listed(styles, "cellXfs", "xf");
    this.fonts = listed(styles, "fonts", "font");
    this.fills = listed(styles, "fills", "fill");
    this.palette = listed(styles, "indexedColors", "rgbColor");
    const formats = listed(styles, "numFmts", "numFmt");
    this.codes = new Map(formats.map((one) => [attribute(one, "numFmtId") ?? "", attribute(one, "formatCode") ?? ""]));
  }

  /** Whether a format has words or figures of its own, so that it matters which of its sections a cell shows. */
  tells(format: number): boolean {
    return this.style(format).tells;
  }

  /** Whether a cell of this format hides its value; a text is given as it is written, with its runs. */
  hides(format: number, shown: Shown, text = ""): boolean {
    // Zeros are often hidden for order's sake, and tell nothing; nor does a text of blanks.
    if (shown === 0 || !this.isUnseen(format, shown, text)) return false;
    return shown !== "text" || wordsOf(text, { innerStart: 0, innerEnd: text.length }) !== "";
  }

  private isUnseen(format: number, shown: Shown, text: string): boolean {
    const style = this.style(format);
    const { isBlank, named, isInk } = sectionOf(style, sectionShown(style.format, shown));
    const { ink, ground } = style;
    if (isBlank) return true;
    if (ground === undefined) return false;
    if (named !== undefined || !text.includes("<r")) return isInk;
    return [...elements(text, ["r"])]
      .filter((run) => wordsOf(text, run) !== "")
      .some((run) => isSame(this.color(first(text, "color", run)) ?? ink, ground));
  }

  private style(format: number): Style {
    const known = this.known.get(format);
    if (known) return known;
    const xf = this.xfs[format];
    const font = this.fonts[numberOf(xf, "fontId")];
    const fill = this.fills[numberOf(xf, "fillId")];
    const shown = formatOf(this.codes.get(xf ? (attribute(xf, "numFmtId") ?? "0") : "0") ?? "General");
    const style: Style = {
      format: shown,
      tells: !shown.sections.every(isMute),
      ink: (font && this.color(first(this.styles, "color", font))) ?? BLACK,
      ground: fill ? this.groundOf(fill) : WHITE,
      sections: new Map(),
    };
    this.known.set(format, style);
    return style;
  }

  private groundOf(fill: Element): Color | undefined {
    const pattern = first(this.styles, "patternFill", fill);
    if (!pattern) return undefined;
    const kind = attribute(pattern, "patternType") ?? "none";
    if (kind === "none") return WHITE;
    if (kind !== "solid") return undefined;
    return this.color(first(this.styles, "fgColor", pattern));
  }

  /** Nothing where no color is said. */
  private color(element: Element | undefined): Color | undefined {
    if (!element) return undefined;
    const of = (name: string) => attribute(element, name);
    const [rgb, theme, indexed] = [of("rgb"), of("theme"), of("indexed")];
    if (rgb !== undefined) return mixed(hex(rgb), of("tint"));
    if (theme !== undefined) return mixed(this.themeColor(Number(theme)), of("tint"));
    if (indexed === undefined) return undefined;
    const own = this.palette[Number(indexed)];
    return own ? hex(attribute(own, "rgb") ?? "") : (INDEXED[indexed] ?? `indexed ${indexed}`);
  }

  private themeColor(number: number): Color {
    const name = THEME[number];
    const one = name === undefined ? undefined : first(this.theme, name);
    const rgb =
      one && (attributeIn(this.theme, one, "srgbClr", "val") ?? attributeIn(this.theme, one, "sysClr", "lastClr"));
    // A workbook without a theme of its own is shown with white paper and black ink.
    return rgb === undefined ? ([WHITE, BLACK][number] ?? `theme ${number}`) : hex(rgb);
  }
}

/** General, where no section is shown, has neither colors nor gaps. */
function sectionOf({ sections, ink, ground }: Style, section = "General"): Section {
  const known = sections.get(section);
  if (known) return known;
  const named = inkNamed(section);
  const isInk = ground !== undefined && isSame(named ?? ink, ground);
  const found = { isBlank: isBlank(section), named, isInk };
  sections.set(section, found);
  return found;
}

function listed(xml: string, list: string, one: string): Element[] {
  const found = first(xml, list);
  return found ? [...elements(xml, [one], found.innerStart, found.innerEnd)] : [];
}

const numberOf = (xf: Element | undefined, name: string) => Number((xf && attribute(xf, name)) ?? 0);

function attributeIn(xml: string, inside: Element, name: string, what: string): string | undefined {
  const found = first(xml, name, inside);
  return found && attribute(found, what);
}

const wordsOf = (xml: string, { innerStart, innerEnd }: { innerStart: number; innerEnd: number }) =>
  [...elements(xml, ["t"], innerStart, innerEnd)]
    .map((text) => textIn(xml, text))
    .join("")
    .trim();

/** What is left of a section when its colors, conditions and gaps are taken out; hours and minutes show. */
const isBlank = (section: string) =>
  section.replace(/"([^"]*)"?|\\([\s\S])|_[\s\S]?|\*([\s\S]?)|\[(?!h+\]|m+\]|s+\])[^\]]*\]?/gi, "$1$2$3").trim() === "";

/** A color that the format names goes before that of the font. */
const inkNamed = (section: string): Color | undefined => {
  const [, name] = /\[(white|black|color ?[12])\]/i.exec(section) ?? [];
  return name && (/white|2/i.test(name) ? WHITE : BLACK);
};

/** "FFFF0000" and "FF0000". */
const hex = (rgb: string): Color => `#${rgb.slice(-6).toLowerCase()}`;

/** Lighter or darker by a share: exact for grays, and near enough for what is compared here. */
function mixed(color: Color, tint = "0"): Color {
  const share = Number(tint);
  if (share === 0) return color;
  const channels = channelsOf(color);
  if (!channels) return `${color} ${tint}`;
  const [end, keep] = share < 0 ? [0, 1 + share] : [255, 1 - share];
  const parts = channels.map((one) => Math.round(end * Math.abs(share) + one * keep));
  return `#${parts.map((part) => part.toString(16).padStart(2, "0")).join("")}`;
}

function channelsOf(color: Color): number[] | undefined {
  const found = /^#(..)(..)(..)$/.exec(color);
  return found?.slice(1).map((part) => Number.parseInt(part, 16));
}

function isSame(a: Color, b: Color): boolean {
  const [one, other] = [channelsOf(a), channelsOf(b)];
  if (!one || !other) return a === b;
  return one.every((part, i) => Math.abs(part - other[i]!) < SEEN);
}
