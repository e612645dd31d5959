/**
 * Rules over several inputs at once. The pane holds its fields to them, the sheet its cells: both take them from this one
 * list, each with the same rule as a formula.
 */
import { CellFailure } from "../answer";
import { NAMED_SCALES, type ScaleName, sizeOf } from "../scale";
import { HOURS_IN_A_DAY } from "../tables/exposure-limits";
import { FIELDS, type Key } from "./fields";
import { floorOf, type Inputs, sizeOrFailure } from "./inputs";

export interface Rule {
  /** The input at fault. */
  readonly key: Key;
  /** All that it reads: without one of them there is no such rule, in the pane where it has a problem of its own. */
  readonly reads: readonly Key[];
  /** It only says that something isn't filled in yet, so a form that nobody has been through doesn't show it. */
  readonly waits?: true;
  /** What is wrong, or undefined. */
  readonly problem: (given: Inputs) => string | undefined;
  /** On the sheet: whether all is well, and what to say else. None where the cell's own bounds say it. */
  readonly onSheet?: { readonly isFine: (cell: (key: Key) => string) => string; readonly words: string };
}

const neededByCoefficient = (key: "stripSize" | "slideSpeed"): Rule => ({
  key,
  waits: true,
  reads: ["cutCoefficient", key],
  problem: (given) =>
    given.cutCoefficient !== null && given[key] === null
      ? `${FIELDS[key].label} is missing; the cutting coefficient needs it`
      : undefined,
  onSheet: {
    isFine: (cell) => `(N(${cell("cutCoefficient")})=0)+(N(${cell(key)})>0)`,
    words: "is missing; the cutting coefficient needs it",
  },
});

const hoursOf = ({ handHours, machineHours }: Inputs) => (handHours ?? 0) + (machineHours ?? 0);

export const RULES: readonly Rule[] = [
  {
    key: "area",
    waits: true,
    reads: ["length", "width"],
    problem: ({ area, length, width }) =>
      area === null && (length === null || width === null)
        ? "Floor area is missing; enter it, or both length and width"
        : undefined,
  },
  {
    key: "machineArea",
    reads: ["area", "length", "width", "edgeLength", "stripWidth", "obstacles"],
    problem: (given) =>
      floorOf(given).area > 0 && floorOf(given).machineArea === 0
        ? "The edge strip and obstacles leave nothing for the machine; check the areas"
        : undefined,
  },
  {
    key: "lastGrit",
    waits: true,
    reads: ["finish"],
    problem: ({ finish, lastGrit }) =>
      finish === "by grit" && lastGrit === null ? "Last grit is missing; this finish needs it" : undefined,
    onSheet: {
      isFine: (cell) => `(${cell("finish")}<>"by grit")+(N(${cell("lastGrit")})>0)`,
      words: "is missing; this finish needs it",
    },
  },
  {
    key: "groundGrit",
    reads: ["surface", "scale"],
    problem({ surface, groundGrit, scale }) {
      if (surface !== "ground" || groundGrit === null) return undefined;
      const left = sizeOrFailure(() => sizeOf(groundGrit, NAMED_SCALES[scale]));
      return left instanceof CellFailure ? `${FIELDS.groundGrit.label}: ${left.message}` : undefined;
    },
    onSheet: {
      isFine: (cell) => `(${cell("surface")}<>"ground")+${isOnScale(cell("groundGrit"), cell("scale"))}`,
      words: "is not on the grit scale",
    },
  },
  neededByCoefficient("stripSize"),
  neededByCoefficient("slideSpeed"),
  {
    key: "edgeWork",
    reads: ["crew"],
    problem: ({ edgeWork, crew }) =>
      edgeWork === "alongside" && crew === 1
        ? "Edges alongside the machine need a crew of 2 or more; got 1"
        : undefined,
    onSheet: {
      isFine: (cell) => `(${cell("edgeWork")}<>"alongside")+(N(${cell("crew")})<>1)`,
      words: "alongside needs a crew of 2 or more",
    },
  },
  {
    key: "machineHours",
    reads: ["handHours"],
    problem: (given) =>
      hoursOf(given) > HOURS_IN_A_DAY
        ? `Hours with hand tools and at the machine must total at most 24; got ${hoursOf(given)}`
        : undefined,
    onSheet: {
      isFine: (cell) => `(N(${cell("handHours")})+N(${cell("machineHours")})<=${HOURS_IN_A_DAY})`,
      words: "and the hours with hand tools must total at most 24",
    },
  },
];

const isOnScale = (grit: string, scale: string) =>
  (Object.keys(NAMED_SCALES) as ScaleName[])
    .map((name) => {
      const { grits, finest } = NAMED_SCALES[name];
      return `(${scale}="${name}")*(N(${grit})>=${grits[0]})*(N(${grit})<=${finest})`;
    })
    .join("+");
