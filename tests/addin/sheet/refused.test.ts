/** What Excel refuses, in words. Codes: "Error handling with the application-specific JavaScript APIs", Office add-ins docs. */
import { describe, expect, it } from "vitest";
import { Refusal } from "../../../addin/common/refusal";
import { inWords } from "../../../addin/sheet/in-workbook";
import { isPlain } from "./faults-commands";

const refusedWith = (code: string, errorLocation = "") =>
  inWords(
    () => Promise.reject(Object.assign(new Error("The request failed"), { code, debugInfo: { errorLocation } })),
    "Nothing was changed",
  ).then(
    () => expect.fail("it was not refused"),
    (error: unknown) => {
      expect(error).toBeInstanceOf(Refusal);
      return (error as Refusal).message;
    },
  );

describe("a code of Excel's becomes what happened and what to do", () => {
  it.each([
    ["AccessDenied", "protected", "unprotect it"],
    ["InvalidOperationInCellEditMode", "A cell is being edited", "press Enter in it"],
    ["ItemNotFound", "deleted or renamed", "check the workbook"],
    ["InvalidReference", "were deleted", "check the workbook"],
    ["ItemAlreadyExists", "was taken", "try again"],
    ["InsertDeleteConflict", "no room", "make room"],
    ["NonBlankCellOffSheet", "no room", "make room"],
    ["FilteredRangeConflict", "A filter is in the way", "clear the filter"],
    ["MergedRangeConflict", "Merged cells", "unmerge them"],
    ["InactiveWorkbook", "Another workbook is in front", "click a cell of this workbook"],
    ["InvalidSelection", "No cells of this workbook are selected", "click a cell"],
    ["UnsupportedSheet", "chart sheet", "go to a sheet with cells"],
    ["RequestPayloadSizeLimitExceeded", "more than Excel on the web handles", "on the desktop"],
    ["ResponsePayloadSizeLimitExceeded", "more than Excel on the web handles", "on the desktop"],
  ])("%s", async (code, what, next) => {
    const words = await refusedWith(code);
    expect(words).toContain(what);
    expect(words).toContain("Nothing was changed");
    expect(words).toContain(next);
    expect(isPlain(words), words).toBe(true);
  });

  // Office add-ins docs, excel-add-ins-troubleshooting: what fails while another workbook has the focus.
  it.each([
    ["GeneralException", "Worksheet.activate"],
    ["InvalidSelection", "Worksheet.delete"],
  ])("%s at %s means that another workbook is in front", async (code, place) => {
    expect(await refusedWith(code, place)).toContain("Another workbook is in front");
  });

  it("one that it doesn't know keeps Excel's own words", async () => {
    expect(await refusedWith("GeneralException", "Chart.title")).toBe(
      "Excel refused this: The request failed. Nothing was changed.",
    );
  });
});
