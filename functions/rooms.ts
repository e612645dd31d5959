/** Every custom function there is: what the rooms declare. */
import * as coverage from "./coverage";
import * as cutting from "./cutting";
import type { CustomFunction } from "./declare";
import * as exposure from "./exposure";
import * as grit from "./grit";
import * as jobs from "./jobs";
import * as liquids from "./liquids";
import * as planning from "./planning";
import * as price from "./price";
import * as site from "./site";
import * as tooling from "./tooling";

/** The rooms, each by the name of its file, in the order a reader meets them. */
export const ROOMS: Readonly<Record<string, object>> = {
  grit,
  coverage,
  cutting,
  tooling,
  liquids,
  site,
  price,
  jobs,
  planning,
  exposure,
};

const isCustomFunction = (exported: [name: string, value: unknown]): exported is [string, CustomFunction] =>
  typeof exported[1] === "function" && "gives" in exported[1];

/** The functions by id. */
export const FUNCTIONS: Readonly<Record<string, CustomFunction>> = Object.fromEntries(
  Object.values(ROOMS).flatMap((room) => Object.entries(room).filter(isCustomFunction)),
);
