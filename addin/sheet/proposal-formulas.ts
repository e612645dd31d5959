/** The formulas of the page for the customer: what the bid and its plans say, in words, amounts linked. */
import { COATING_CLASSES, GRINDING_PROFILES } from "../../functions/tables/surface-profile";
import { symbol } from "../../functions/units";
import { quotedSheet, quotedText } from "../common/a1";
import { EXTRA_COLUMNS, type ExtraColumn, FLOOR_COLUMNS, type FloorColumn, titleOf } from "./bid-columns";
import { planCells } from "./bid-formulas";
import type { BidCell } from "./bid-lines";
import type { BidOnSheet } from "./bids";
import type { PlanOnSheet } from "./plans";
import { CLASS_WORDS, DONE_WORDS, FINISH_WORDS, FLOOR_WORDS, POWER, STEPS } from "./proposal-texts";

/** The first of the answers whose condition holds. */
const firstOf = (cases: readonly (readonly [condition: string, answer: string])[], otherwise: string) =>
  cases.reduceRight((rest, [condition, answer]) => `IF(${condition},${answer},${rest})`, otherwise);

type Kind = "base" | "option";

export function bidRefs({ sheet, cells, units, floors, extras }: BidOnSheet) {
  const floor = (key: FloorColumn) => `${floors.table}[${titleOf(FLOOR_COLUMNS[key], units)}]`;
  const extra = (key: ExtraColumn) => `${extras.table}[${titleOf(EXTRA_COLUMNS[key], units)}]`;
  // Compared cell by cell: a lookup or a criterion would take * ? ~ < > = in a name for more than themselves.
  // Not there, it's a division by 0: row 0 would be all rows.
  const rowWith = (keys: string, name: string) =>
    `ROUND(1/(1/SUMPRODUCT(MAX((${keys}=${quotedText(name)})*(ROW(${keys})-MIN(ROW(${keys}))+1)))),0)`;
  const ofFloor = (plan: string, key: FloorColumn) => `INDEX(${floor(key)},${rowWith(floor("sheet"), plan)})`;
  const ofExtra = (name: string, key: ExtraColumn) => `INDEX(${extra(key)},${rowWith(extra("name"), name)})`;
  const extraSum = (name: string, kind: Kind, key: ExtraColumn) =>
    `SUMPRODUCT((${extra("name")}=${quotedText(name)})*(${extra("kind")}="${kind}"),${extra(key)})`;
  return {
    cell: (key: BidCell) => (cells[key] === undefined ? "NA()" : `${quotedSheet(sheet)}!${cells[key]}`),
    floorName: (plan: string) => ofFloor(plan, "floor"),
    floorArea: (plan: string) => ofFloor(plan, "area"),
    /** 0 where the bid no longer has it so. */
    floorPrice: (plan: string, kind: Kind) =>
      `SUMPRODUCT((${floor("sheet")}=${quotedText(plan)})*(${floor("kind")}="${kind}"),${floor("price")})`,
    extraWords: (name: string, kind: Kind) => {
      const words = ofExtra(name, "words");
      const called = `IF(${words}="",${quotedText(name)},${words})`;
      return `${called}&" ("&${extraSum(name, kind, "quantity")}&" "&${ofExtra(name, "unit")}&")"`;
    },
    extraPrice: (name: string, kind: Kind) => extraSum(name, kind, "price"),
    /** How many options the bid has. */
    options: `COUNTIF(${floor("kind")},"option")+COUNTIF(${extra("kind")},"option")`,
  };
}

export const powerWords = (power: string) =>
  `IF(N(${power})>0,${quotedText(POWER.before)}&ROUNDUP(${power},0)&${quotedText(POWER.after)},${quotedText(POWER.unknown)})`;

/** What a floor is made into, and for what slab. */
export function finishWords(plan: PlanOnSheet): string {
  const { has, input } = planCells(plan);
  const { units } = plan;
  const is = (key: "surface" | "finish" | "exposure", value: string) => `${input(key)}="${value}"`;
  const film = input("film");
  const stripped = has("surface") ? `IF(${is("surface", "coated")},${quotedText(FLOOR_WORDS.stripped)},"")&` : "";
  const levels = Object.entries(FINISH_WORDS).map(
    ([value, words]) => [is("finish", value), quotedText(words)] as const,
  );
  const classes = Object.entries(CLASS_WORDS).map(
    ([value, words]) => [is("exposure", value), quotedText(words)] as const,
  );
  const ofClass = `${quotedText(FLOOR_WORDS.aggregate)}&${firstOf(classes, '""')}`;
  const opened = has("exposure") ? ofClass : quotedText(` ${FLOOR_WORDS.again}`);
  const aggregate = has("surface") ? `&IF(${is("surface", "ground")},"",${opened})` : "";
  const polished = `${firstOf(levels, input("finish"))}${aggregate}&${quotedText(FLOOR_WORDS.standard)}`;
  const byGrit = has("lastGrit")
    ? `${quotedText(FLOOR_WORDS.byGrit)}&${input("lastGrit")}&${quotedText(FLOOR_WORDS.grit)}`
    : input("finish");
  const profile = has("film")
    ? `${quotedText(FLOOR_WORDS.profile)}&${profileFor(film, units)}&${quotedText(FLOOR_WORDS.profileStandard)}&${film}&${quotedText(` ${symbol("filmThickness", units)}`)}`
    : quotedText(FLOOR_WORDS.again);
  const made = firstOf(
    [
      [is("finish", "coating"), profile],
      [is("finish", "by grit"), byGrit],
    ],
    polished,
  );
  return `${stripped}${made}&${quotedText(FLOOR_WORDS.slab)}&${input("hardness")}&${quotedText(FLOOR_WORDS.tested)}`;
}

/** The profile that a film of some thickness asks for, as far as grinding can leave it. */
function profileFor(film: string, units: PlanOnSheet["units"]): string {
  const most = GRINDING_PROFILES.most;
  const inMil = units === "us" ? `N(${film})` : `N(${film})/25.4`;
  const asked = COATING_CLASSES.filter(({ leastProfile }) => leastProfile < most);
  const cases = asked.map(
    ({ upToMil, leastProfile, mostProfile }) =>
      [`${inMil}<=${upToMil}`, quotedText(`${leastProfile} to ${Math.min(mostProfile, most)}`)] as const,
  );
  return firstOf(cases, quotedText(String(most)));
}

/** The work of its stages, each kind once. */
export function includedWords(plan: PlanOnSheet): string {
  const { has, input, column } = planCells(plan);
  const parts = Object.entries(DONE_WORDS).map(([work, words]) => {
    const count = `COUNTIF(${column("work")},"${work}")`;
    const [before, after] = words.split("#");
    const steps =
      after === undefined ? "" : `&IF(${count}=1,${quotedText(STEPS.one)},${count}&${quotedText(STEPS.more)})`;
    return `IF(${count}=0,"",${quotedText(`, ${before}`)}${steps})`;
  });
  const edges = has("edgeLength") ? `&IF(N(${input("edgeLength")})>0,${quotedText(FLOOR_WORDS.edges)},"")` : "";
  return `${quotedText(FLOOR_WORDS.included)}&MID(${parts.join("&")}${edges},3,400)&"."`;
}
