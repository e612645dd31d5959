/** What the spreadsheet loads: every room. */
export * from "./coverage";
export * from "./cutting";
export * from "./exposure";
export * from "./grit";
export * from "./jobs";
export * from "./liquids";
export * from "./planning";
export * from "./price";
export * from "./tooling";
