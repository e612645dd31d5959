import { describe, expect, it } from "vitest";
import { EXPOSURE_LINE_KEYS, exposureLine, exposureOf } from "../../../functions/plan/exposure";
import { type Inputs, inUnits, startInputs, tellsExposure } from "../../../functions/plan/inputs";
import { problemsOf } from "../../../functions/plan/problems";

const day = (over: Partial<Inputs>): Inputs => ({ ...startInputs("us"), area: 4000, ...over });
const figures = (over: Partial<Inputs>) => exposureOf(day(over));

/** By hand: 10² × 0.5 + 2² × 6 = 74, √(74/8) = 3.0414; 100 dBA is 2 h and 90 dBA 8 h, so 0.5/2 + 6/8 = 100 %. */
const FULL: Partial<Inputs> = {
  handHours: 0.5,
  machineHours: 6,
  handVibration: 10,
  machineVibration: 2,
  handNoise: 100,
  machineNoise: 90,
  dust: 40,
  dustHours: 6,
  shroudDiameter: 7,
};

describe("the crew's exposure", () => {
  it("is not told where nothing of it is given", () => {
    expect(tellsExposure(startInputs("us"))).toBe(false);
    expect(tellsExposure(startInputs("metric"))).toBe(false);
    for (const [key, value] of Object.entries(FULL)) expect(tellsExposure(day({ [key]: value })), key).toBe(true);
    expect(tellsExposure(day({ handHours: 0 }))).toBe(true);
  });

  it("adds up the hand tool and the machine, and says how that stands beside the values", () => {
    const { hours, vibration, osha, niosh, dust, shroud } = figures(FULL);
    expect(hours).toEqual({ value: 6.5, action: "", limit: 24, words: "within a day" });
    expect(vibration).toMatchObject({ action: 2.5, limit: 5, words: "at or above the action value" });
    expect(vibration.value).toBeCloseTo(Math.sqrt(74 / 8), 12);
    expect(osha).toEqual({ value: 100, action: 50, limit: 100, words: "at or above the action value" });
    // 100 dBA may last a quarter of an hour by NIOSH; 90 dBA 8 / 2^(5/3) h.
    expect(niosh).toMatchObject({ action: "", limit: 100, words: "at or above the limit" });
    expect(niosh.value).toBeCloseTo(100 * (0.5 / 0.25 + (6 / 8) * 2 ** (5 / 3)), 9);
    expect(dust).toEqual({ value: 30, action: 25, limit: 50, words: "at or above the action value" });
    expect(shroud).toEqual({ value: 175, action: "", limit: "", words: "" });
  });

  it.each([
    // Hand: by the formula 120 dBA may last 8 / 2^6 h, 115 dBA 8 / 2^5 h, 89 dBA 8 × 2^0.2 = 9.19 h. Table G-16 has 90 to 115 dBA.
    [0.05, 120, "below the action value; OSHA allows at most 15 minutes at 115 dBA and nothing above it"],
    [0.25, 115, "at or above the action value"],
    [0, 120, "below the action value"],
    [10, 89, "above the limit; levels below 90 dBA are counted here, but OSHA leaves them out of its limit"],
    [9, 89, "at or above the action value"],
    [10, 90, "above the limit"],
  ])("for %d h at %d dBA is, by OSHA, %s", (handHours, handNoise, words) => {
    expect(figures({ handHours, handNoise, machineHours: 0, machineNoise: 120 }).osha.words).toBe(words);
  });

  it("tells how long each tool alone may run: 8 × (2.5/10)² and 8 × (5/10)² h, 8 × (2.5/2)² and 8 × (5/2)² h", () => {
    for (const key of ["handUntil", "machineUntil"] as const) {
      expect(exposureLine(key).label).toMatch(/hours to action and limit$/);
    }
    const { handUntil, machineUntil } = figures(FULL);
    expect(handUntil).toEqual({ value: "", action: 0.5, limit: 2, words: "" });
    expect(machineUntil).toEqual({ value: "", action: 12.5, limit: 50, words: "" });
  });

  it.each([
    [2.49, "below the action value"],
    [2.5, "at or above the action value"],
    [5, "at or above the action value"],
    [5.01, "above the limit"],
  ])("of %d m/s² for 8 h is %s (Directive 2002/44/EC: 2.5 and 5.0)", (handVibration, words) => {
    expect(figures({ handHours: 8, machineHours: 0, handVibration }).vibration.words).toBe(words);
  });

  it.each([
    [84.9, "below the action value", "below the limit"],
    [85, "at or above the action value", "at or above the limit"],
    [90, "at or above the action value", "at or above the limit"],
    [90.1, "above the limit", "at or above the limit"],
  ])("of %d dBA for 8 h is %s by OSHA (85 and 90) and %s by NIOSH (85)", (machineNoise, byOsha, byNiosh) => {
    // 8 h at 84.9 dBA are 97.7 % by NIOSH.
    const { osha, niosh } = figures({ handHours: 0, machineHours: 8, machineNoise });
    expect([osha.words, niosh.words]).toEqual([byOsha, byNiosh]);
  });

  it.each([
    [24, "below the action value"],
    [25, "at or above the action value"],
    [50, "at or above the action value"],
    [51, "above the limit"],
  ])("of %d µg/m³ for 8 h is %s (29 CFR 1926.1153: 25 and 50)", (dust, words) => {
    expect(figures({ dust, dustHours: 8 }).dust.words).toBe(words);
  });

  it("does not decide by the last digit of a division", () => {
    // 0.1 + 0.2 h of a dose of 1 an hour; √(2.5² × 0.3 × …) and the like come out a hair off.
    const exact = figures({ handHours: 7.7, machineHours: 0.3, handVibration: 5, machineVibration: 5 }).vibration;
    expect(exact.words).toBe("at or above the action value");
  });
});

describe("what is not given", () => {
  const NOT_GIVEN = "not given";

  it("is not calculated, and never 0", () => {
    const { hours, vibration, handUntil, machineUntil, osha, niosh, dust, shroud } = figures({});
    for (const { value } of [hours, vibration, osha, niosh, dust, shroud]) expect(value).toBe(NOT_GIVEN);
    for (const { action, limit } of [handUntil, machineUntil]) expect([action, limit]).toEqual([NOT_GIVEN, NOT_GIVEN]);
  });

  it("is asked for in words", () => {
    const told = figures({});
    for (const key of EXPOSURE_LINE_KEYS) expect(told[key].words).toBe(exposureLine(key).needs);
  });

  it.each(["handHours", "machineHours", "handVibration", "machineVibration"] as const)(
    "keeps a sum from being told that would lack %s",
    (key) => {
      expect(figures({ ...FULL, [key]: null }).vibration.value).toBe(NOT_GIVEN);
    },
  );

  it.each(["handHours", "machineHours", "handNoise", "machineNoise"] as const)(
    "keeps a dose from being told that would lack %s",
    (key) => {
      const { osha, niosh } = figures({ ...FULL, [key]: null });
      expect([osha.value, niosh.value]).toEqual([NOT_GIVEN, NOT_GIVEN]);
    },
  );

  it("is not missed of a tool that nobody uses that day", () => {
    const machineOnly = { ...FULL, handHours: 0, handVibration: null, handNoise: null };
    const { vibration, osha } = figures(machineOnly);
    expect(vibration.value).toBeCloseTo(Math.sqrt((2 ** 2 * 6) / 8), 12);
    expect(osha.value).toBe(75);
  });

  it("of dust is the measurement or its hours", () => {
    expect(figures({ dust: 40 }).dust.value).toBe(NOT_GIVEN);
    expect(figures({ dustHours: 4 }).dust.value).toBe(NOT_GIVEN);
  });
});

describe("the inputs of the crew's exposure", () => {
  it("may all be left out, and a machine without a hand on it has no vibration", () => {
    expect(problemsOf(day({}))).toEqual({});
    expect(problemsOf(day({ ...FULL, machineVibration: 0 }))).toEqual({});
    const { vibration, machineUntil } = figures({ ...FULL, machineVibration: 0 });
    expect(vibration.value).toBe(2.5);
    expect([machineUntil.action, machineUntil.limit]).toEqual(["no vibration", "no vibration"]);
  });

  it("may be 0 hours of dust and no wheel: an average of 0 and no airflow are asked for", () => {
    const none = { dustHours: 0, shroudDiameter: 0 };
    expect(problemsOf(day({ ...FULL, ...none }))).toEqual({});
    for (const dust of [null, 40]) {
      const told = figures({ ...FULL, ...none, dust });
      expect(told.dust).toMatchObject({ value: 0, words: "below the action value" });
      expect(told.shroud).toMatchObject({ value: "no wheel", words: "" });
    }
  });

  it("tell what is wrong with them", () => {
    const bad = { handHours: 25, machineHours: -1, handVibration: 0, handNoise: 950, dust: 0, dustHours: 30 };
    expect(problemsOf(day(bad))).toEqual({
      handHours: "Hours with hand tools must be from 0 to 24; got 25",
      machineHours: "Hours at the machine must be from 0 to 24; got -1",
      handVibration: "Hand-tool vibration must be above 0; got 0",
      handNoise: "Hand-tool noise must be above 0 and at most 194; got 950",
      dust: "Measured silica dust must be above 0 (leave it blank if not measured); got 0",
      dustHours: "Hours at that dust level must be from 0 to 24; got 30",
    });
  });

  it("keep a figure from being told that would leave out a wrong one", () => {
    const { hours, vibration, handUntil, osha, dust, shroud } = figures({ ...FULL, handHours: -2, handVibration: -10 });
    for (const { value } of [hours, vibration, osha]) expect(value).toBe("check the inputs");
    expect(vibration).toMatchObject({ action: 2.5, limit: 5, words: "Hours with hand tools must be from 0 to 24" });
    expect(handUntil.action).toBe("check the inputs");
    expect(handUntil.words).toBe("Hand-tool vibration must be above 0");
    expect([dust.value, shroud.value]).toEqual([30, 175]);
  });

  it("count as wrong, and not as left out, where a text could not be read", () => {
    const { vibration } = exposureOf(day({ ...FULL, handHours: null }), { handHours: "must be a number" });
    expect(vibration.value).toBe("check the inputs");
  });

  it("refuse a day of more than 24 hours, and figures of it are not told", () => {
    const long = { ...FULL, handHours: 14, machineHours: 13 };
    expect(problemsOf(day(long))).toEqual({
      machineHours: "Hours with hand tools and at the machine must total at most 24; got 27",
    });
    const { hours, vibration, osha } = figures(long);
    expect(hours).toMatchObject({ value: 27, words: "longer than a day" });
    expect(vibration).toMatchObject({ value: "too many hours", words: "" });
    expect(osha.value).toBe("too many hours");
  });

  it("convert the wheel with the units: 7 in are 177.8 mm, 175 cfm are 297.326889216 m³/h (NIST SP 811)", () => {
    const metric = inUnits(day(FULL), "metric");
    expect(metric.shroudDiameter).toBe(177.8);
    expect(exposureOf(metric).shroud.value).toBeCloseTo(297.326889216, 9);
    expect(metric).toMatchObject({ handVibration: 10, handNoise: 100, dust: 40 });
  });
});
