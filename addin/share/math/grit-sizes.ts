/** The size of a grit, and the grit of a size, as a person finds them in the scale's list. */
import { MESH, MICROMETRES, nearestGrit, type Scale, sizeOf } from "../../../functions/scale";
import { RESIN_GRITS } from "../../../functions/tables/trade-grits";
import { numberText as text } from "./values";

export interface LookedUp {
  /** The working of what was looked up. */
  readonly formula: string;
  /** What the scale's list says. */
  readonly note: string;
}

const FIRST_RESIN_GRIT = RESIN_GRITS[0]![0];

/** The size as it is listed, by the rule of the resin grits, or from the two listed grits around it. */
export function sizeWorking(grit: number, scale: Scale): LookedUp {
  const size = text(sizeOf(grit, scale));
  const { name, grits, sizes } = scale;
  if (scale === MICROMETRES) return { formula: size, note: "The number is a size already, in µm." };
  if (grits.includes(grit)) return { formula: size, note: `On ${name} grit ${text(grit)} is listed as ${size} µm.` };
  if (scale === MESH && grit > FIRST_RESIN_GRIT) {
    return {
      formula: `15000/${text(grit)}`,
      note: `On ${name} a grit from ${FIRST_RESIN_GRIT} on is 15000 / grit µm.`,
    };
  }
  // Beyond the last listed grit, the line of the last two goes on.
  const next = grits.findIndex((listed, i) => i > 0 && (listed > grit || i === grits.length - 1));
  const [from, to] = [grits[next - 1]!, grits[next]!];
  const [fromSize, toSize] = [text(sizes[next - 1]!), text(sizes[next]!)];
  return {
    formula: `${fromSize}*(${text(grit)}/${from})^(LN(${toSize}/${fromSize})/LN(${to}/${from}))`,
    note: `${listedAs(name, [from, fromSize], [to, toSize])}; between them it is a straight line in logarithms.`,
  };
}

/** Which of the two listed sizes around a size is the nearer: midway in ratio is the root of their product. */
export function nearestWorking(size: number, scale: Scale): LookedUp {
  const { name, grits, sizes } = scale;
  const found = nearestGrit(size, scale);
  if (scale === MICROMETRES) return { formula: text(found), note: "The number is a size already, in µm." };
  const finer = sizes.findIndex((listed) => listed <= size);
  if (finer <= 0) {
    const end = finer === 0 ? 0 : grits.length - 1;
    const word = finer === 0 ? "coarsest" : "finest";
    return {
      formula: text(found),
      note: `On ${name} the ${word} listed grit is ${grits[end]}, ${text(sizes[end]!)} µm.`,
    };
  }
  const [from, to] = [grits[finer - 1]!, grits[finer]!];
  const [fromSize, toSize] = [text(sizes[finer - 1]!), text(sizes[finer]!)];
  return {
    formula: `IF(${text(size)}^2<${fromSize}*${toSize},${to},${from})`,
    note: `${listedAs(name, [from, fromSize], [to, toSize])}; the nearer in ratio counts.`,
  };
}

type Listed = readonly [grit: number, size: string];

const listedAs = (name: string, ...listed: Listed[]) =>
  `On ${name} ${listed.map(([grit, size]) => `grit ${grit} is ${size} µm`).join(" and ")}`;
