/**
 * A bid of three floors, worked by hand.
 *
 * Crew: 2 × 30 × 1.25 = 75 an hour. 50 h a week are paid as 50 + 0.5 × 10 = 55, which is 10% more (29 CFR 778.110).
 * Once: setup 4 h × 75 = 300; 2 trips at 150 = 300; 3 nights at 100 = 300.
 * Floors in the base: 1400 + 820 = 2220. Joints: 100 × 1.1 × 2 + 100 × 0.02 h × 75 = 220 + 150 = 370.
 * Overtime: 10% of the wages 750 + 450 + 150 + 300 = 1650, which is 165.
 * Densifier: 4 + 3 = 7 gal are 1.4 pails of 5, so 2 are opened; 0.6 × 200 = 120 isn't used.
 * Direct cost: 2220 + 370 + 300 + 300 + 300 + 165 + 120 = 3775. Cost: × 1.1 × 1.05 = 4360.125.
 * Price: / 0.7 = 6228.75, up to the next 10: 6230. Tax: 5% = 311.50.
 * Shares by 1400 : 820 : 370 of 2590: 3367.5676, 1972.4324, 890 exactly. Whole cents come to 6229.99; the cent goes to the first.
 * Option: 1000, overtime 60, and 11 gal are 2.2 pails, 3 opened, 160 not used, 40 more: 4875 × 1.155 / 0.7 = 8043.75,
 *   offered at 8050, which is 1820 more.
 * To buy: 1.1 sets, 0.2 on hand: 1 (floor by floor it would be 2), 0.1 stays; 2 pails, 0.6 stays.
 * Days: 4 + 10 + 6 + 2 h of work and 16 h of waiting are 38 h, 4.75 days of 8: 5. From Thursday, December 10, 2026, that is
 *   Thu, Fri, Mon, Tue, Wed the 16th. Hall: hours 4 to 14, Thu to Fri. Shop: hours 14 to 36, Fri to Wed.
 * Dust: 120 + 45 = 165 lb in bags of 50: 4.
 */
import type { BidExtra, BidFloor, BidItem } from "../../../functions/bid/bid";
import { type BidJob, startJob } from "../../../functions/bid/job";

/** December 10, 2026, a Thursday, as a sheet counts days. */
export const THURSDAY = 46366;

export const JOB: BidJob = {
  ...startJob("us"),
  ...{
    client: "Invented Client",
    site: "1 Example St",
    start: THURSDAY,
    crew: 2,
    rate: 30,
    burden: 0.25,
    hoursADay: 8,
  },
  ...{ hoursAWeek: 50, setup: 4, trips: 2, tripCost: 150, nights: 3, nightCost: 100, overhead: 0.1, contingency: 0.05 },
  ...{ margin: 0.3, minimum: 500, rounding: 10, taxRate: 0.05, supply: 10, bagSize: 50 },
};

const none = { dust: 0, slurry: 0, power: 0, waits: 0 };
export const FLOORS: readonly BidFloor[] = [
  {
    ...{ ...none, floor: "Hall", kind: "base", order: 1, area: 1000, hours: 10, directCost: 1400, crewCost: 750 },
    ...{ uses: { "Metal 30": 0.6, Densifier: 4 }, dust: 120, power: 12 },
  },
  {
    ...{
      ...none,
      floor: "Shop",
      kind: "base",
      order: 2,
      area: 500,
      hours: 6,
      waits: 16,
      directCost: 820,
      crewCost: 450,
    },
    ...{ uses: { "Metal 30": 0.5, Densifier: 3 }, dust: 45, power: 9 },
  },
  {
    ...{ ...none, floor: "Office", kind: "option", order: 3, area: 800, hours: 8, directCost: 1000, crewCost: 600 },
    ...{ uses: { "Metal 30": 0.3, Densifier: 4 }, dust: 60, power: 15 },
  },
];

export const EXTRAS: readonly BidExtra[] = [
  { name: "Joints", kind: "base", quantity: 100, crewHours: 0.02, material: 2, waste: 0.1 },
];

export const ITEMS: readonly BidItem[] = [
  { name: "Metal 30", kind: "tool", price: 500, container: 1, onHand: 0.2 },
  { name: "Densifier", kind: "liquid", price: 200, container: 5, onHand: 0 },
];
