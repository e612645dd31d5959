/** A room's finish, starting surface and exposure in the trade's words. What may mean two things is undefined, not guessed. */
import type { Inputs } from "../plan/inputs";
import { LAST_GRIT_BY_FINISH } from "../tables/usual-grits";
import type { System } from "../units";
import { unitCalled } from "./room-units";

const LEVELS = ["flat", "satin", "polished", "highly polished"] as const;
type Level = (typeof LEVELS)[number];

/** "Unpolished", "no coating": such a word turns around what stands beside it. */
const TURNED = /\b(?:not?|non|without|except|un(?:polished|coated|ground|sealed|finished))\b|\bw\/o\b/;

/** What a text says with a number, each taken out of it: whatever number is left wasn't understood. */
function numbersIn(text: string) {
  let rest = text;
  const take = (pattern: RegExp) => {
    const found = pattern.exec(rest);
    if (found) rest = `${rest.slice(0, found.index)} ${rest.slice(found.index + found[0].length)}`;
    return found?.slice(1).find((group) => group !== undefined);
  };
  const exposure = take(/\bclass\s*([abc])\b/);
  const grit = take(/(\d{2,5})[\s-]*(?:grit\b|#)|\bgrit\s*(\d{2,5})\b|#\s*(\d{2,5})\b/);
  const level = take(/\b(?:appearance\s+)?(?:level|lvl|l)[\s.]*([1-4])\b/) ?? take(/^\s*([1-4])\s*$/);
  const film = take(/(\d+(?:\.\d+)?[\s-]*(?:mils?|[µμ]m|um|microns?))\b/);
  return { exposure, grit, level, film, rest };
}

function filmIn(text: string, units: System): number | undefined {
  const [, digits = "", unit = ""] = /^([\d.]+)[\s-]*(.*)$/.exec(text) ?? [];
  return unitCalled(unit)?.of(Number(digits), units);
}

/** How fine a floor "polished to 1500 grit" is: the highest level whose usual last grit it reaches. */
const levelAt = (grit: number): Level =>
  (["highly polished", "polished"] as const).find((level) => LAST_GRIT_BY_FINISH[level] <= grit) ?? "satin";

/** The level that a text's words name; undefined for none, null where they name two. */
function levelNamed(rest: string, grit: number | null): Level | null | undefined {
  const isHigh = /\bhighly\b|\bhigh[\s-]*gloss\b|\bmirror\b/.test(rest);
  const isSatin = /\bsatin\b|\bhone[ds]?\b|\bhoning\b/.test(rest);
  if (isHigh) return isSatin ? null : "highly polished";
  if (isSatin) return "satin";
  if (/\bpolish/.test(rest)) return grit === null ? "polished" : levelAt(grit);
  return undefined;
}

const isCoatingNamed = (rest: string) =>
  /\bcoat|\bepox|\burethane|\bpolyurethane|\bpolyaspartic|\bpaint|\bprofile\b/.test(rest);

/** "Level 3", "honed", "polished, class B", "level 3, 800 grit", "800 grit", "epoxy, 12 mil". */
export function finishIn(cell: unknown, units: System): Partial<Inputs> | undefined {
  const { exposure, grit, level, film, rest } = numbersIn(String(cell).trim().toLowerCase());
  if (/\d/.test(rest) || TURNED.test(rest)) return undefined;
  const lastGrit = grit === undefined ? null : Number(grit);
  const named = levelNamed(rest, lastGrit);
  const isCoating = film !== undefined || isCoatingNamed(rest);
  if (isCoating) {
    if (level !== undefined || named !== undefined) return undefined;
    return { finish: "coating", lastGrit, ...(film !== undefined && { film: filmIn(film, units)! }) };
  }
  const also = exposure !== undefined && { exposure: exposure.toUpperCase() as Inputs["exposure"] };
  if (level !== undefined) {
    const finish = LEVELS[Number(level) - 1]!;
    // "Polished" is what all of them are called.
    const fits = named === undefined || named === finish || levelNamed(rest, null) === "polished";
    return fits ? { finish, lastGrit, ...also } : undefined;
  }
  if (named === null) return undefined;
  if (named !== undefined) return { finish: named, lastGrit, ...also };
  // A sealer goes on anything, and how thick it is decides what must be under it.
  if (/\bseal/.test(rest)) return undefined;
  if (lastGrit !== null) return { finish: "by grit", lastGrit, ...also };
  return /\bflat\b|\bground\b|\bgrind/.test(rest) ? { finish: "flat", lastGrit, ...also } : undefined;
}

/** "Bare", "old epoxy", "ground to 80 grit". */
export function surfaceIn(cell: unknown): Partial<Inputs> | undefined {
  const { grit, rest } = numbersIn(String(cell).trim().toLowerCase());
  if (/\d/.test(rest) || TURNED.test(rest)) return undefined;
  const isCoated = /\bcoat|\badhesive|\bglue|\bmastic|\bpaint|\bepox|\btile|\bcarpet|\bthinset/.test(rest);
  const isGround = /\bground\b|\bpolish|\bhoned\b/.test(rest) || grit !== undefined;
  const isBare = /\bbare\b|\btrowel|\bnew\b|\braw\b/.test(rest);
  if ([isCoated, isGround, isBare].filter(Boolean).length !== 1) return undefined;
  if (isCoated) return { surface: "coated" };
  return isGround
    ? { surface: "ground", ...(grit !== undefined && { groundGrit: Number(grit) }) }
    : { surface: "bare" };
}

export function exposureIn(cell: unknown): Partial<Inputs> | undefined {
  const [, letter] = /^(?:class\s*)?([abc])$/i.exec(String(cell).trim()) ?? [];
  return letter ? { exposure: letter.toUpperCase() as Inputs["exposure"] } : undefined;
}
