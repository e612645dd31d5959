import { describe, expect, it } from "vitest";
import { doubtsOf, isSameLine, readLine } from "../../../functions/log/check";
import { guessLogHeadings, LOG_KEYS, logField } from "../../../functions/log/fields";
import { FOUR_DAYS, line, MONDAY, STAGES } from "./four-days";

describe("the headings of a log", () => {
  const own = Object.fromEntries(LOG_KEYS.map((key) => [key, logField(key).label]));

  it("of our own table are all recognized, with a unit too", () => {
    expect(guessLogHeadings(Object.values(own))).toEqual(own);
    expect(guessLogHeadings(["Area done ft²", "Segment height mm", "Machine hours"])).toEqual({
      area: "Area done ft²",
      height: "Segment height mm",
      machineHours: "Machine hours",
    });
  });

  // Two invented foremen, each with what they would say their headings mean.
  it.each([
    [
      "short",
      ["Day", "Room", "Step", "Sq. ft.", "Grinder hrs", "Crew hrs", "New sets", "Remarks"],
      {
        ...{ date: "Day", floor: "Room", stage: "Step", area: "Sq. ft.", machineHours: "Grinder hrs" },
        ...{ crewHours: "Crew hrs", sets: "New sets", note: "Remarks" },
      },
    ],
    [
      "from a program",
      ["work_date", "floorName", "tool", "areaM2", "hours", "segmentHeight_mm", "weather"],
      {
        ...{ date: "work_date", floor: "floorName", stage: "tool", area: "areaM2", crewHours: "hours" },
        height: "segmentHeight_mm",
      },
    ],
    ["two that might be it", ["Date", "Area done", "Done area"], { date: "Date" }],
    ["of people, not of hours", ["Crew", "Machine", "Hours"], { crewHours: "Hours" }],
  ])("%s", (_, headings, meant) => {
    expect(guessLogHeadings(headings)).toEqual(meant);
  });
});

describe("a line read from cells", () => {
  it("is as it stands there, with blanks as what was not written down", () => {
    const cells = { date: MONDAY, floor: " Hall  1 ", stage: "1 Metal 30", area: 500, crewHours: 4, note: "" };
    expect(readLine(cells)).toEqual(line({ floor: "Hall 1", area: 500, crewHours: 4 }));
  });

  it("says what is wrong with each of its cells", () => {
    const cells = { date: "Monday", floor: " ", stage: "#N/A", area: "1,200 ft²", crewHours: 25, sets: -1 };
    expect(readLine(cells)).toEqual([
      { key: "date", wrong: { kind: "badValue", got: "Monday" } },
      { key: "floor", wrong: { kind: "missing" } },
      { key: "stage", wrong: { kind: "badValue", got: "#N/A" } },
      { key: "area", wrong: { kind: "badValue", got: "1,200 ft²", meant: 1200 } },
      { key: "crewHours", wrong: { kind: "badValue", got: 25 } },
      { key: "sets", wrong: { kind: "badValue", got: -1 } },
    ]);
  });
});

describe("what is asked about a line", () => {
  const known = { stages: STAGES, lines: FOUR_DAYS, today: MONDAY + 4, start: MONDAY };
  const next = { date: MONDAY + 4, area: 1000, crewHours: 8 };
  const doubts = (own: Parameters<typeof line>[0]) => doubtsOf(line({ ...next, ...own }), known);

  it("nothing, where all is likely", () => {
    // 7,000 of 8,000 ft² are done: 1,000 are left. Segments may be read half a millimeter higher.
    expect(doubts({})).toEqual([]);
    expect(doubts({ height: 6.5 })).toEqual([]);
    // A new set is higher than the old one.
    expect(doubts({ height: 10, sets: 1 })).toEqual([]);
  });

  it("a floor or a stage that no plan has, in any letter case", () => {
    expect(doubts({ floor: "hall", stage: "1 METAL 30" })).toEqual([]);
    expect(doubts({ floor: "Hal" })).toEqual([{ kind: "unknownFloor", floor: "Hal" }]);
    expect(doubts({ stage: "1 Metal 40" })).toEqual([{ kind: "unknownStage", floor: "Hall", stage: "1 Metal 40" }]);
  });

  it("more area than is left of the floor, each pass counted", () => {
    expect(doubts({ area: 1001 })).toEqual([{ kind: "areaLeft", stage: "1 Metal 30", area: 1001, left: 1000 }]);
  });

  it("more hours than the day has, with those already logged on that day", () => {
    expect(doubts({ crewHours: 8.5 })).toEqual([{ kind: "dayHours", hours: 8.5, hoursADay: 8 }]);
    // 1.5 h are logged on Thursday.
    expect(doubts({ date: MONDAY + 3, crewHours: 7 })).toEqual([{ kind: "dayHours", hours: 8.5, hoursADay: 8 }]);
  });

  it("a date in the future or before the start", () => {
    expect(doubts({ date: MONDAY + 5 })).toEqual([{ kind: "future", date: MONDAY + 5 }]);
    expect(doubts({ date: MONDAY - 1 })).toEqual([{ kind: "beforeStart", date: MONDAY - 1, start: MONDAY }]);
    expect(doubtsOf(line({ ...next, date: MONDAY - 1 }), { ...known, start: undefined })).toEqual([]);
  });

  it("segments that grow without a new set", () => {
    expect(doubts({ height: 7 })).toEqual([{ kind: "heightGrew", before: 6, height: 7 }]);
  });
});

it("two lines are the same work if nothing but the note differs", () => {
  const [first] = FOUR_DAYS;
  expect(isSameLine(first!, { ...first!, floor: "HALL", note: "again" })).toBe(true);
  expect(isSameLine(first!, { ...first!, area: 3001 })).toBe(false);
});
