import { describe, expect, it } from "vitest";
import { doubtsOf, readLine, workOf } from "../../../functions/log/check";
import { guessLogHeadings, LOG_KEYS, logField } from "../../../functions/log/fields";
import { missingHeadings, readList } from "../../../functions/log/list";
import { cellWords, doubtWords } from "../../../functions/log/texts";
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
  expect(workOf({ ...first!, floor: "HALL", note: "again" })).toBe(workOf(first!));
  expect(workOf({ ...first!, area: 3001 })).not.toBe(workOf(first!));
});

describe("a foreman's list", () => {
  const HEADINGS = ["Day", "Room", "Step", "Sq. ft.", "Crew hrs", "Weather"];
  const ROWS = [
    [MONDAY + 4, "Hall", "2 Metal 60", 1500, 4, "dry"],
    ["", "", "", "", "", ""],
    ["Friday", "Hall", "2 Metal 60", "1,500", 4, "wet"],
    [MONDAY + 4, "Hall", "2 Metal 60", 1500, 4, "again"],
    [MONDAY + 3, "Hall", "2 Metal 60", 1000, 1.5, "logged, but without machine hours"],
  ];
  const mapping = guessLogHeadings(HEADINGS);

  it("is read by its headings, bad rows are listed, and no line is taken twice", () => {
    const friday = line({ date: MONDAY + 4, stage: "2 Metal 60", area: 1500, crewHours: 4 });
    const thursday = line({ date: MONDAY + 3, stage: "2 Metal 60", area: 1000, crewHours: 1.5 });
    expect(readList(HEADINGS, mapping, ROWS, [thursday])).toEqual({
      lines: [friday],
      bad: [
        {
          row: 2,
          problems: [
            { key: "date", wrong: { kind: "badValue", got: "Friday" } },
            { key: "area", wrong: { kind: "badValue", got: "1,500", meant: 1500 } },
          ],
        },
      ],
      already: 2,
    });
  });

  it("needs a date, a floor and a stage", () => {
    expect(missingHeadings(mapping)).toEqual([]);
    expect(missingHeadings(guessLogHeadings(["Day", "Sq. ft.", "Hours"]))).toEqual(["floor", "stage"]);
  });
});

it("says what is wrong, and what is doubtful, in words", () => {
  expect(cellWords({ key: "date", wrong: { kind: "missing" } })).toBe("Date is missing. It must be a date.");
  expect(cellWords({ key: "area", wrong: { kind: "badValue", got: "1,500", meant: 1500 } })).toBe(
    'Area done must be 0 or more; got the text "1,500". Enter the number 1500.',
  );
  expect(doubtWords({ kind: "areaLeft", stage: "1 Metal 30", area: 1200.5, left: 1000 }, "us")).toBe(
    "1,200.5 ft² is more than the 1,000 ft² left of 1 Metal 30, each pass counted.",
  );
  expect(doubtWords({ kind: "future", date: MONDAY }, "us")).toBe("2026-11-30 is in the future.");
});
