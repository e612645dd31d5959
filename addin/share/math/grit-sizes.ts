/** The size of a grit, and the grit of a size, as a person finds them in the scale's list. */
import { MESH, MICROMETERS, nearestGrit, type Scale, sizeOf } from "../../../functions/scale";
import { RESIN_GRITS } from "../../../functions/tables/trade-grits";
import { LOOKED_UP } from "./texts";
import { numberText as text } from "./values";

interface LookedUp {
  /** How it was looked up. */
  readonly formula: string;
  /** What the scale's list has. */
  readonly note: string;
}

const FIRST_RESIN_GRIT = RESIN_GRITS[0]![0];

/** The size as it is listed, by the rule of the resin grits, or from the two listed grits around it. */
export function sizeMath(grit: number, scale: Scale): LookedUp {
  const size = text(sizeOf(grit, scale));
  const { name, grits, sizes } = scale;
  if (scale === MICROMETERS) return { formula: size, note: LOOKED_UP.isSize };
  if (grits.includes(grit)) return { formula: size, note: LOOKED_UP.listed(name, [grit, size]) };
  if (scale === MESH && grit > FIRST_RESIN_GRIT) {
    return {
      formula: `15000/${text(grit)}`,
      note: LOOKED_UP.byRule(name, FIRST_RESIN_GRIT),
    };
  }
  // Beyond the last listed grit, the line of the last two goes on.
  const next = grits.findIndex((listed, i) => i > 0 && (listed > grit || i === grits.length - 1));
  const [from, to] = [grits[next - 1]!, grits[next]!];
  const [fromSize, toSize] = [text(sizes[next - 1]!), text(sizes[next]!)];
  return {
    formula: `${fromSize}*(${text(grit)}/${from})^(LN(${toSize}/${fromSize})/LN(${to}/${from}))`,
    note: LOOKED_UP.between(name, [from, fromSize], [to, toSize]),
  };
}

/** Which of the two listed sizes around a size is the nearer: midway in ratio is the root of their product. */
export function nearestMath(size: number, scale: Scale): LookedUp {
  const { name, grits, sizes } = scale;
  const found = nearestGrit(size, scale);
  // A label of the maker's own is no number to work out.
  if (typeof found === "string") return { formula: `"${found}"`, note: LOOKED_UP.label(name, found) };
  if (scale === MICROMETERS) return { formula: text(found), note: LOOKED_UP.isSize };
  const finer = sizes.findIndex((listed) => listed <= size);
  if (finer <= 0) {
    const end = finer === 0 ? 0 : grits.length - 1;
    const which = finer === 0 ? "coarsest" : "finest";
    return {
      formula: text(found),
      note: LOOKED_UP.end(name, which, [grits[end]!, text(sizes[end]!)]),
    };
  }
  const [from, to] = [grits[finer - 1]!, grits[finer]!];
  const [fromSize, toSize] = [text(sizes[finer - 1]!), text(sizes[finer]!)];
  return {
    formula: `IF(${text(size)}^2<${fromSize}*${toSize},${to},${from})`,
    note: LOOKED_UP.nearer(name, [from, fromSize], [to, toSize]),
  };
}
