import { describe, expect, it } from "vitest";
import { type ClosingJob, closedJob } from "../../../functions/log/close-out";
import { FOUR_DAYS, line, MONDAY, STAGES } from "./four-days";

/** Two people at 30 with 30% burden: 39 an hour each, 78 together, as the stages are quoted. */
const CREW = { crew: 2, wage: 39 };
const JOB: ClosingJob = {
  name: "Hall",
  floors: [{ floor: "Hall", area: 4100, machineArea: 4000, hardness: 5 }],
  stages: [
    { ...STAGES[0]!, ...CREW, bond: "metal", machine: "Machine A" },
    { ...STAGES[1]!, ...CREW, bond: "metal", machine: "" },
    { ...STAGES[2]!, ...CREW, bond: "", machine: "" },
  ],
  // Stages 3414 and setup of 3 h, 234: 3648 direct; with 12% and 5% it is 4290.05, and a price at 30% margin.
  ...{ price: 6129, cost: 3648 * 1.12 * 1.05, overhead: 0.12, contingency: 0.05 },
};

describe("a finished job as a row of past jobs, worked by hand", () => {
  const rest = [
    line({ date: MONDAY + 4, area: 1000, machineHours: 2, crewHours: 3 }),
    line({ date: MONDAY + 7, stage: "2 Metal 60", area: 3000, machineHours: 5, crewHours: 6 }),
    line({ date: MONDAY + 8, stage: "3 Densifier", area: 4000, crewHours: 4.5 }),
  ];
  const row = closedJob(JOB, [...FOUR_DAYS, ...rest], 6250, "us");

  it("has what was quoted beside what it took", () => {
    expect(row).toEqual({
      job: "Hall",
      date: MONDAY + 8,
      area: 4100,
      // 8,000 and 4,000 ft² of single pass with tools over 4,000 ft² that the machine reaches.
      passes: 3,
      bond: "metal",
      hardness: 5,
      machine: "Machine A",
      quotedPrice: 6129,
      actualPrice: 6250,
      quotedCost: 4290.05,
      // Crew 24 + 7.5 + 4.5 = 36 h × 78 = 2808; machine (20.5 + 6.5) × 28 = 756; tools 400 and liquids 200 as quoted: 4164,
      // 750 more than 3414. (3648 + 750) × 1.12.
      actualCost: 4925.76,
      // 28 and 36 clock hours of two people.
      quotedHours: 56,
      actualHours: 72,
      quotedRate: 39,
      actualRate: 39,
      quotedSets: 1.2,
      actualSets: 1.2,
      // 400 over 1.2 sets.
      quotedSetPrice: 333.33,
      actualSetPrice: 333.33,
      quotedLiquids: 200,
      actualLiquids: 200,
    });
  });

  it("leaves out what nobody knows", () => {
    const floors = JOB.floors.map((floor) => ({ ...floor, hardness: null }));
    const stages = JOB.stages.map((stage) => ({ ...stage, machine: "" }));
    const bare = closedJob({ ...JOB, floors, stages }, [], 6129, "us");
    for (const key of ["date", "hardness", "machine", "bond", "actualRate"]) expect(bare).not.toHaveProperty(key);
  });
});
