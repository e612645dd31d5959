/** Every custom function there is: what the topics declare. */
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

/** The topics, each by the name of its file, in the order a reader meets them. */
export const TOPICS: Readonly<Record<string, object>> = {
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
  Object.values(TOPICS).flatMap((topic) => Object.entries(topic).filter(isCustomFunction)),
);
