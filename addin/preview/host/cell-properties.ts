/** The looks of single cells, many in one answer: what `getCellProperties` and `setCellProperties` carry. */
import { invalidArgument, notImplemented } from "./errors";
import type { RangeFormat } from "./objects/format";
import type { HostObject } from "./objects/object";

const SIDES = { top: "EdgeTop", bottom: "EdgeBottom", left: "EdgeLeft", right: "EdgeRight" } as const;

type Options = Readonly<Record<string, unknown>>;

const isOptions = (value: unknown): value is Options =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function formatOf(properties: unknown): Options {
  if (!isOptions(properties)) throw invalidArgument();
  const { format = {}, ...others } = properties;
  for (const name of Object.keys(others)) throw notImplemented(`the cell property ${name}`);
  if (!isOptions(format)) throw invalidArgument();
  return format;
}

/** The asked-for properties of one cell. */
export function readCell(format: RangeFormat, asked: unknown): object {
  const read = (object: HostObject, options: Options): object =>
    Object.fromEntries(
      Object.entries(options).flatMap(([name, value]) => {
        if (value === true) return [[name, object._read(name)]];
        if (!isOptions(value)) return [];
        if (name !== "borders") return [[name, read(object._read(name) as HostObject, value)]];
        const sides = Object.entries(SIDES).map(([side, edge]) => [side, read(format.borders.getItem(edge), value)]);
        return [[name, Object.fromEntries(sides)]];
      }),
    );
  return { format: read(format, formatOf(asked)) };
}

/** A line that needs no look at the one before it, which would have to be drawn first. */
const isWholeLine = ({ style, color, weight }: Options) =>
  style === "Continuous" && typeof color === "string" && (weight === undefined || weight === null || weight === "Thin");

/** Sets what is given of one cell; a line's style comes first, since it decides what else the line can be. */
export function writeCell(format: RangeFormat, given: unknown) {
  const write = (object: HostObject, options: Options) => {
    const names = Object.keys(options).sort((a, b) => Number(b === "style") - Number(a === "style"));
    for (const name of names) {
      const value = options[name];
      if (value === undefined || value === null) continue;
      if (!isOptions(value)) object._assign(name, value);
      else if (name !== "borders") write(object._read(name) as HostObject, value);
      else {
        for (const [side, line] of Object.entries(value)) {
          const edge = SIDES[side as keyof typeof SIDES];
          if (!edge || !isOptions(line)) throw notImplemented(`the border "${side}" of a cell`);
          const border = format.borders.getItem(edge);
          if (isWholeLine(line)) border._draw(line.style, line.color, line.weight ?? undefined);
          else write(border, line);
        }
      }
    }
  };
  write(format, formatOf(given));
}
