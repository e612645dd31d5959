import { describe, expect, it } from "vitest";
import { isDark, themeFor } from "../../../addin/pane/background";

// Rec. 601: luma = 0.299 R + 0.587 G + 0.114 B, worked by hand beside each color.
describe("a ground", () => {
  it.each([
    ["#ffffff", false], // 255
    ["#000000", true], // 0
    ["262626", true], // 38
    ["#FF0000", true], // 0.299 × 255 = 76.2
    ["#00ff00", false], // 0.587 × 255 = 149.7
    ["#262626ff", true],
  ])("%s is dark: %s", (color, dark) => {
    expect(isDark(color)).toBe(dark);
  });

  it.each(["", "white", "#fff", "#12345g"])("%j is no color that can be told", (color) => {
    expect(isDark(color)).toBeUndefined();
  });
});

it("the spreadsheet's ground comes before the system's wish", () => {
  expect(themeFor("#ffffff", true)).toBe("light");
  expect(themeFor("#262626", false)).toBe("dark");
  expect(themeFor(undefined, true)).toBe("dark");
  expect(themeFor("", false)).toBe("light");
});
