/** What the spreadsheet loads: every room. */
export * from "./coverage";
