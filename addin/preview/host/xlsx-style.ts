/** How a cell looks, in the words of the package that writes the file. */
import type { IBorderStyleData, IStyleData, Nullable } from "@univerjs/core";
import type { Alignment, Border, BorderStyle, Borders, Fill, Font, Style } from "exceljs";
import { DEFAULT_FONT_SIZE, WRAP } from "./measure";

const FONT = "Calibri";
const INDENT_PIXELS = 9;
const HORIZONTAL: readonly (Alignment["horizontal"] | undefined)[] = [undefined, "left", "center", "right", "justify"];
const VERTICAL: readonly (Alignment["vertical"] | undefined)[] = [undefined, "top", "middle", "bottom"];
/** By the engine's numbers. */
const LINES: readonly (BorderStyle | undefined)[] = [
  undefined,
  "thin",
  "hair",
  "dotted",
  "dashed",
  "dashDot",
  "dashDotDot",
  "double",
  "medium",
  "mediumDashed",
  "mediumDashDot",
  "mediumDashDotDot",
  "slantDashDot",
  "thick",
];

/** "#RRGGBB" as the file has it. */
export const argb = (color: string) => ({ argb: `FF${color.replace("#", "").toUpperCase()}` });

export const solidFill = (color: string): Fill => ({
  type: "pattern",
  pattern: "solid",
  fgColor: argb(color),
  bgColor: { indexed: 64 } as never,
});

/** Looks up each style once: the writer knows those it has met by identity. */
export class Styles {
  private readonly known = new Map<string, Partial<Style>>();

  of(style: IStyleData, locked = true): Partial<Style> {
    const key = `${locked}${JSON.stringify(style)}`;
    let found = this.known.get(key);
    if (!found) {
      found = fileStyle(style, locked);
      this.known.set(key, found);
    }
    return found;
  }
}

function fileStyle(style: IStyleData, locked: boolean): Partial<Style> {
  return present({
    numFmt: style.n?.pattern,
    font: fontOf(style),
    fill: style.bg?.rgb ? solidFill(style.bg.rgb) : undefined,
    alignment: alignmentOf(style),
    border: bordersOf(style),
    protection: locked ? undefined : { locked: false },
  }) as Partial<Style>;
}

function fontOf({ ff, fs, cl, bl, it, ul, st }: IStyleData): Partial<Font> | undefined {
  const own = {
    color: cl?.rgb ? argb(cl.rgb) : undefined,
    bold: bl === 1 || undefined,
    italic: it === 1 || undefined,
    underline: ul?.s === 1 || undefined,
    strike: st?.s === 1 || undefined,
  };
  if (!ff && !fs && Object.values(own).every((value) => value === undefined)) return undefined;
  return present({ name: ff ?? FONT, size: fs ?? DEFAULT_FONT_SIZE, ...own });
}

function alignmentOf({ ht, vt, tb, pd }: IStyleData): Style["alignment"] | undefined {
  const indent = Math.round((pd?.l ?? 0) / INDENT_PIXELS);
  const own = present({
    horizontal: HORIZONTAL[ht ?? 0],
    vertical: VERTICAL[vt ?? 0],
    wrapText: tb === WRAP || undefined,
    indent: indent || undefined,
  });
  return Object.keys(own).length > 0 ? (own as Style["alignment"]) : undefined;
}

function bordersOf({ bd }: IStyleData): Partial<Borders> | undefined {
  const own = present({ top: borderOf(bd?.t), bottom: borderOf(bd?.b), left: borderOf(bd?.l), right: borderOf(bd?.r) });
  return Object.keys(own).length > 0 ? own : undefined;
}

function borderOf(border: Nullable<IBorderStyleData>): Partial<Border> | undefined {
  const style = LINES[border?.s ?? 0];
  return style && present({ style, color: border?.cl?.rgb ? argb(border.cl.rgb) : undefined });
}

/** Without what is undefined: the writer takes a member that is there for one that is set. */
function present<T extends object>(members: T): Partial<T> {
  return Object.fromEntries(Object.entries(members).filter(([, value]) => value !== undefined)) as Partial<T>;
}
