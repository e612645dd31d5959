import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bidMinimum, bidOf, offeredFor, overtimeShare, roundedPrice } from "../../../functions/bid/bid";
import { EXTRAS, FLOORS, ITEMS, JOB, THURSDAY } from "./hand-worked";

const bid = bidOf(JOB, FLOORS, EXTRAS, ITEMS);

describe("the bid worked by hand", () => {
  it("counts once what belongs to the whole job", () => {
    expect([bid.floorsCost, bid.extrasCost, bid.setupCost, bid.tripsCost, bid.nightsCost]).toEqual([
      2220, 370, 300, 300, 300,
    ]);
    expect(bid.overtimeCost).toBeCloseTo(165, 9);
    expect(bid.wholeCost).toBeCloseTo(120, 9);
    expect(bid.directCost).toBeCloseTo(3775, 9);
  });

  it("goes from cost to the price offered", () => {
    expect(bid.cost).toBeCloseTo(4360.125, 9);
    expect(bid.price).toBeCloseTo(6228.75, 9);
    expect([bid.offered, bid.tax, bid.total]).toEqual([6230, 311.5, 6541.5]);
    expect(bid.perArea).toBeCloseTo(6230 / 1500, 9);
  });

  it("shares the price to the cent, and prices the option by its difference", () => {
    expect(bid.floors.map(({ price }) => price)).toEqual([3367.57, 1972.43, 1820]);
    expect(bid.extras.map(({ price }) => price)).toEqual([890]);
  });

  it("adds up what is used before it rounds up what to buy", () => {
    expect(bid.toBuy.map(({ toBuy, cost }) => [toBuy, cost])).toEqual([
      [1, 500],
      [2, 400],
    ]);
    const left = bid.toBuy.map((one) => one.left);
    expect(left[0]).toBeCloseTo(0.1, 9);
    expect(left[1]).toBeCloseTo(0.6, 9);
    expect(bid.leftWorth).toBeCloseTo(50 + 120, 9);
  });

  it("puts the floors one after the other, weekends left out", () => {
    expect([bid.hours, bid.waits, bid.days, bid.ends]).toEqual([22, 16, 5, THURSDAY + 6]);
    const [hall, shop, office] = bid.floors;
    expect([hall!.startHour, hall!.endHour, hall!.starts, hall!.ends]).toEqual([4, 14, THURSDAY, THURSDAY + 1]);
    expect([shop!.startHour, shop!.endHour, shop!.starts, shop!.ends]).toEqual([14, 36, THURSDAY + 1, THURSDAY + 6]);
    expect([office!.starts, office!.ends]).toEqual([null, null]);
  });

  it("tells power, dust and bags of the floors in the price", () => {
    expect([bid.power, bid.dust, bid.bags]).toEqual([12, 165, 4]);
  });

  it("follows the order that the floors are given", () => {
    const [hall, shop, office] = FLOORS;
    const turned = bidOf(JOB, [{ ...hall!, order: 2 }, { ...shop!, order: 1 }, office!], EXTRAS, ITEMS);
    expect(turned.floors.map(({ startHour }) => startHour).slice(0, 2)).toEqual([26, 4]);
  });

  it("charges the minimum once", () => {
    const least = bidOf({ ...JOB, minimum: 20_000 }, FLOORS, EXTRAS, ITEMS);
    expect(least.offered).toBe(20_000);
    // With the option the job is still below the minimum.
    expect(least.floors[2]!.price).toBe(0);
    // A day of the crew: 8 × 75.
    expect(bidMinimum({ ...JOB, minimum: null })).toBe(600);
  });
});

describe("overtime", () => {
  it("pays 46 hours at 12 with 588", () => {
    // 29 CFR 778.110(b): 46 × 12 = 552, and 6 × 6 = 36 more.
    expect(46 * 12 * (1 + overtimeShare(46))).toBeCloseTo(588, 9);
  });
  it("is none up to 40 hours, or where nobody says how many", () => {
    expect([overtimeShare(40), overtimeShare(0)]).toEqual([0, 0]);
  });
});

describe("the price offered", () => {
  it.each([
    [6228.75, 10, 6230],
    [6230, 10, 6230],
    [6230.01, 10, 6240],
    [6228.7549, 0, 6228.75],
    // 4.2 / 0.7 is 6, which binary arithmetic puts a hair above.
    [4.2, 0.7, 4.2],
  ])("of %d in steps of %d is %d", (price, step, offered) => {
    expect(roundedPrice(price, step)).toBe(offered);
  });

  it("never falls when the cost rises", () => {
    const amount = fc.double({ min: 0.01, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(amount, amount, (a, b) => {
        expect(offeredFor(Math.max(a, b), JOB)).toBeGreaterThanOrEqual(offeredFor(Math.min(a, b), JOB));
      }),
    );
  });
});
