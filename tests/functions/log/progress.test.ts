import { describe, expect, it } from "vitest";
import { hoursByDay, offBy, progress } from "../../../functions/log/progress";
import { workday } from "../../../functions/log/workday";
import { CHANGED_AT, FOUR_DAYS, line, MONDAY, STAGES } from "./four-days";

const four = progress(STAGES, FOUR_DAYS, CHANGED_AT, "us");
const [metal30, metal60, densifier] = four.stages;

describe("four days of a log, worked by hand", () => {
  it("a stage that takes longer than quoted", () => {
    // 7,000 of 8,000 ft²: 0.875 of 16 h is 14 h earned, and 8 + 8 + 5 = 21 h were worked.
    expect(metal30!.share).toBe(0.875);
    // At this pace 21 / 0.875 = 24 h; the rest as quoted, 21 + 2 = 23 h.
    expect(metal30!.hours).toEqual({ quoted: 16, earned: 14, soFar: 21, atPace: 24, asQuoted: 23 });
    expect(offBy(metal30!)).toBeCloseTo(0.5, 12);
    expect(metal30!.daysLeft).toBeCloseTo(3 / 8, 12);
    // Crew 21 × 78 = 1638, machine 18.5 × 28 = 518, tools 0.875 × 300 = 262.50: 2418.50 of 1248 + 420 + 300 = 1968 quoted.
    expect(metal30!.cost.soFar).toBeCloseTo(2418.5, 9);
    expect(metal30!.cost.quoted).toBe(1968);
    // 2418.50 / 0.875 = 2764; 2418.50 + 0.125 × 1968 = 2664.50.
    expect(metal30!.cost.atPace).toBeCloseTo(2764, 9);
    expect(metal30!.cost.asQuoted).toBeCloseTo(2664.5, 9);
    // 7,000 ft² in 21 h, 8 h a day; the quoted hours are used up.
    expect(metal30!.areaADay).toBeCloseTo((7000 / 21) * 8, 9);
    expect(metal30!.areaADayNeeded).toBeUndefined();
  });

  it("a stage that goes faster than quoted", () => {
    // 1,000 of 4,000 ft²: 2 h earned in 1.5 h; 1.5 / 0.25 = 6 h, or 1.5 + 6 = 7.5 h.
    expect(metal60!.hours).toEqual({ quoted: 8, earned: 2, soFar: 1.5, atPace: 6, asQuoted: 7.5 });
    expect(offBy(metal60!)).toBeCloseTo(-0.25, 12);
    // 3,000 ft² in the 6.5 h that are left of 8, 8 h a day.
    expect(metal60!.areaADayNeeded).toBeCloseTo((3000 / 6.5) * 8, 9);
    // Crew 117, machine 42, tools a quarter of 100.
    expect(metal60!.cost.soFar).toBeCloseTo(184, 9);
    expect(metal60!.cost.atPace).toBeCloseTo(736, 9);
    expect(metal60!.cost.asQuoted).toBeCloseTo(884.5, 9);
  });

  it("a stage that hasn't begun is expected as quoted", () => {
    expect(densifier!.hours).toEqual({ quoted: 4, earned: 0, soFar: 0, atPace: 4, asQuoted: 4 });
    expect(densifier!.cost.atPace).toBe(312 + 200);
    expect(offBy(densifier!)).toBeUndefined();
    expect(densifier!.areaADay).toBeUndefined();
    // 4,000 ft² in 4 h.
    expect(densifier!.areaADayNeeded).toBe(8000);
  });

  it("the job, by the sums of its stages", () => {
    // 16 of 28 h earned, 22.5 worked: 22.5 × 28 / 16 = 39.375 h, or 22.5 + 12 = 34.5 h.
    expect(four.job.hours).toEqual({ quoted: 28, earned: 16, soFar: 22.5, atPace: 39.375, asQuoted: 34.5 });
    expect(four.job.share).toBeCloseTo(4 / 7, 12);
    expect(four.job.daysLeft).toBeCloseTo((39.375 - 22.5) / 8, 12);
    // 12 h of quoted work are left, and 5.5 h to do them in.
    expect(four.job.paceNeeded).toBeCloseTo(12 / 5.5, 12);
    // Quoted 1968 + 934 + 512 = 3414, earned 1722 + 233.50 = 1955.50, so far 2418.50 + 184 = 2602.50.
    expect(four.job.cost.soFar).toBeCloseTo(2602.5, 9);
    expect(four.job.cost.atPace).toBeCloseTo((2602.5 * 3414) / 1955.5, 9);
    expect(four.job.cost.asQuoted).toBeCloseTo(2602.5 + 3414 - 1955.5, 9);
    expect(four.floors).toEqual([{ floor: "Hall", ...four.job }]);
    expect(four.otherHours).toBe(0);
  });

  it("tools that won't last, with the day they are worn out", () => {
    // 10 to 6 mm over the 4,000 ft² after the first reading is 1 mm for 1,000 ft²; 0.5 mm are left, and 1,000 ft² to do.
    expect(metal30!.tools).toEqual({ height: 6, wear: 1, left: 500, short: 500, wornOutOn: MONDAY + 3 });
    // One reading shows no wear.
    expect(metal60!.tools).toBeUndefined();
    // With segments down to 5 mm there are 1,000 ft² in them: just enough.
    const [enough] = progress(STAGES, FOUR_DAYS, 5, "us").stages;
    expect(enough!.tools).toMatchObject({ left: 1000, short: 0, wornOutOn: undefined });
  });

  it("hours earned and worked by the end of each day", () => {
    expect(hoursByDay(STAGES, FOUR_DAYS)).toEqual([
      { date: MONDAY, worked: 8, earned: 6 },
      { date: MONDAY + 1, worked: 16, earned: 10 },
      { date: MONDAY + 2, worked: 21, earned: 14 },
      { date: MONDAY + 3, worked: 22.5, earned: 16 },
    ]);
  });
});

describe("a log", () => {
  it("never earns more than what was quoted", () => {
    const [more] = progress(STAGES, [line({ area: 9000, crewHours: 10 })], CHANGED_AT, "us").stages;
    expect(more).toMatchObject({ share: 1, done: 9000, hours: { earned: 16, atPace: 10, asQuoted: 10 } });
    expect(more!.areaADayNeeded).toBeUndefined();
  });

  it("finds its stage in any letter case, and keeps the hours of no stage apart", () => {
    const lines = [line({ floor: "HALL", stage: "1 metal 30", crewHours: 2 }), line({ stage: "Travel", crewHours: 3 })];
    const { stages, otherHours, job } = progress(STAGES, lines, CHANGED_AT, "us");
    expect([stages[0]!.hours.soFar, job.hours.soFar, otherHours]).toEqual([2, 2, 3]);
    // Nothing is earned yet: what was worked comes on top.
    expect(stages[0]!.hours.atPace).toBe(18);
  });

  it("counts all sets as worn but the last that was fitted", () => {
    // By area 0.1 of 0.8 sets; two were fitted, so one is worn out.
    const lines = [line({ area: 1000, sets: 1 }), line({ date: MONDAY + 1, sets: 1 })];
    const [stage] = progress(STAGES, lines, CHANGED_AT, "us").stages;
    expect([stage!.setsFitted, stage!.setsWorn]).toEqual([2, 1]);
    expect(stage!.cost.soFar).toBeCloseTo(300 / 0.8, 9);
  });

  it("measures wear on the set that is fitted now, and counts the floor done since", () => {
    const lines = [
      line({ area: 2000, crewHours: 4, sets: 1, height: 10 }),
      // The old set at its end, and on the same day the new one.
      line({ date: MONDAY + 1, area: 2000, crewHours: 4, height: 5 }),
      line({ date: MONDAY + 1, area: 500, crewHours: 1, sets: 1, height: 10 }),
      line({ date: MONDAY + 2, area: 1000, crewHours: 4, height: 8 }),
      line({ date: MONDAY + 3, area: 500, crewHours: 4 }),
    ];
    // 2 mm over 1,000 ft²; from 8 to 5.5 mm 1,250 ft², 500 of which are done since; 2,000 ft² of the stage are left.
    const [stage] = progress(STAGES, lines, CHANGED_AT, "us").stages;
    expect(stage!.tools).toMatchObject({ height: 8, wear: 2, left: 750, short: 1250 });
  });
});

it("working days pass over weekends", () => {
  // 2026-12-03 is a Thursday: Friday, then Monday the 7th. From a Saturday the next is Monday.
  expect([0, 1, 2, 6].map((days) => workday(MONDAY + 3, days))).toEqual([3, 4, 7, 11].map((d) => MONDAY + d));
  expect(workday(MONDAY + 5, 1)).toBe(MONDAY + 7);
});
