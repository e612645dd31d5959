import { pmt } from "financial";
import { describe } from "vitest";
import { CREWCOST, capitalRecovery, MACHINECOST, MARGIN, MARKUP, MARKUPFOR, PRICEAT } from "../../functions/price";
import { ask, expectClose, reference } from "../helpers";

describe("MACHINECOST", () => {
  for (const interest of [0.001, 0.03, 0.08, 0.25, 0.9]) {
    for (const years of [1, 5, 15, 40]) {
      reference(`${interest * 100} % over ${years} years with salvage`, "library: financial 0.2.4 pmt", () => {
        const perYear = -pmt(interest, years, 24000, -4000);
        expectClose(ask(MACHINECOST, 24000, 4000, years, interest, 800, 3.5), perYear / 800 + 3.5, 1e-11);
      });
    }
  }

  reference(
    "the capital recovery factor at 8 % over 15 years is 0.11683",
    "published: A/P factor of engineering economy tables, printed to five digits (from memory)",
    () => expectClose(capitalRecovery(0.08, 15), 0.11683, 0.000005 / 0.11683),
  );

  reference(
    "the same factor to all its digits is 0.11682954493602",
    "library: mpmath 1.3.0, i(1 + i)ⁿ / ((1 + i)ⁿ − 1)",
    () => expectClose(capitalRecovery(0.08, 15), 0.11682954493602, 1e-13),
  );

  reference(
    "a loan of 32000 at 6 % a year is repaid in 36 months by 973.50 a month",
    "published: OpenStax Principles of Finance, module m00056",
    () => expectClose(ask(MACHINECOST, 32000, 0, 36, 0.06 / 12, 1), 973.5, 0.005 / 973.5),
  );

  const KENZIE = "published: OpenStax Principles of Accounting Vol. 1, ch. 11.3, printing press, straight line";
  reference("a press of 58000 with a salvage of 10000 costs 9600 a year over 5 years", KENZIE, () =>
    expectClose(ask(MACHINECOST, 54000 + 1500 + 2500, 10000, 5, 0, 1), 9600),
  );

  reference(
    "at 8 % what a year costs, paid for 6 years, is worth what was paid less what it sells for",
    "identity: present value of the payments and of the salvage",
    () => {
      const perYear = ask(MACHINECOST, 24000, 4000, 6, 0.08, 1);
      let worth = 4000 / 1.08 ** 6;
      for (let year = 1; year <= 6; year++) worth += perYear / 1.08 ** year;
      expectClose(worth, 24000);
    },
  );
});

describe("MARGIN, MARKUP, MARKUPFOR and PRICEAT", () => {
  reference(
    "a markup of 25 % is a margin of 20 %",
    "hand: 25 on a cost of 100 is 25 / 100 of the cost and 25 / 125 of the price",
    () => {
      expectClose(ask(MARGIN, 125, 100), 0.2);
      expectClose(ask(MARKUP, 125, 100), 0.25);
      expectClose(ask(MARKUPFOR, 0.2), 0.25);
      expectClose(ask(PRICEAT, 100, 0.2), 125);
    },
  );

  const pairs: [margin: number, markup: number][] = [
    [1 / 4, 1 / 3],
    [3 / 10, 3 / 7],
    [1 / 3, 1 / 2],
    [2 / 5, 2 / 3],
    [1 / 2, 1],
  ];
  for (const [ofPrice, ofCost] of pairs) {
    reference(
      `a margin of ${(100 * ofPrice).toFixed(2)} % is a markup of ${(100 * ofCost).toFixed(2)} %`,
      "identity: markup = margin / (1 − margin), in exact fractions",
      () => {
        expectClose(ask(MARKUPFOR, ofPrice), ofCost);
        expectClose(ask(PRICEAT, 300, ofPrice), 300 * (1 + ofCost));
        expectClose(ask(MARGIN, 300 * (1 + ofCost), 300), ofPrice);
      },
    );
  }
});

describe("CREWCOST", () => {
  const CHAPTER_8_3 = "published: OpenStax Principles of Accounting Vol. 2, ch. 8.3, direct labor variances";

  reference("0.10 h at 8.00 is the standard labor of 0.80", CHAPTER_8_3, () =>
    expectClose(ask(CREWCOST, 0.1, 1, 8), 0.8),
  );

  reference("0.20 h at 9.50 instead costs 1.10 more", CHAPTER_8_3, () =>
    expectClose(ask(CREWCOST, 0.2, 1, 9.5) - ask(CREWCOST, 0.1, 1, 8), 1.1),
  );
});
