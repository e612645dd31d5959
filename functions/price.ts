/** Price: what crew and machine cost, and the price that leaves a margin. */
import { badValue } from "./answer";
import { amount, count, define, share } from "./declare";
import { ABOVE_0, ANY_BELOW_1, BELOW_1, domain, FROM_0 } from "./domain";

// Burden can pass 100% of the wage; a whole percent typed by mistake (35 for 0.35) must not.
const BURDEN = domain("from 0 to 5 (35% is 0.35)", [
  [">=", 0],
  ["<=", 5],
]);

/** Cost of a crew's hours, with the burden on their wages. */
export const crewCostOf = (hours: number, crew: number, rate: number, burden = 0) => hours * crew * rate * (1 + burden);

/**
 * Cost of the crew for a number of hours.
 * @example =GRIT.CREWCOST(10,2,30,0.35) → 810 | hand: 10 × 2 × 30 × 1.35
 * @example =GRIT.CREWCOST(0.1,1,8) → 0.8 | published: OpenStax Principles of Accounting Vol. 2, ch. 8.3, standard labor cost of 0.10 h at 8.00
 * @fails =GRIT.CREWCOST(10,2,30,35) → #VALUE! burden must be from 0 to 5 (35% is 0.35); got 35
 * @plain {hours}*{crew}*{rate}*(1+{burden})
 * @source common practice, no source: hours × people × burdened wage.
 * @words labor payroll workers men
 */
export const CREWCOST = define(
  { label: "Cost", unit: "money" },
  [
    amount("hours", "Hours on the job", "hours", FROM_0),
    count("crew", "People in the crew", ABOVE_0),
    amount("rate", "Wage of one person", "moneyPerHour", FROM_0),
    share("burden", "Taxes, insurance and benefits on top of the wage", BURDEN, { omitted: 0 }),
  ],
  () => crewCostOf,
);

/** Capital recovery factor i(1 + i)ⁿ / ((1 + i)ⁿ − 1): the yearly payment that repays 1 with interest. */
export function capitalRecovery(interest: number, years: number): number {
  // 1 − (1 + i)⁻ⁿ without losing the digits of a small interest.
  const repaidShare = -Math.expm1(-years * Math.log1p(interest));
  return repaidShare === 0 ? 1 / years : interest / repaidShare;
}

/**
 * Machine cost per working hour: owning it by capital recovery, plus running it.
 * @example =GRIT.MACHINECOST(24000,4000,6,0.08,800,3.5) → 9.307884655725246 | library: mpmath 1.3.0, (20000 × 0.08 × 1.08^6 / (1.08^6 - 1) + 4000 × 0.08) / 800 + 3.5
 * @example =GRIT.MACHINECOST(58000,10000,5,0,1000) → 9.6 | published: OpenStax Principles of Accounting Vol. 1, ch. 11.3, straight line of 9600 a year, here over 1000 h
 * @example =GRIT.MACHINECOST(32000,0,36,0.005,1) → 973.5019984497637 | published: OpenStax Principles of Finance, loan of 32000 over 36 months at 6% / 12 costs 973.50 a month; digits by mpmath 1.3.0
 * @example =GRIT.MACHINECOST(100000,0,15,0.08,1) → 11682.954493602004 | library: financial 0.2.4 pmt(0.08, 15, -100000)
 * @fails =GRIT.MACHINECOST(24000,4000,6,8,800) → #VALUE! interest must be from 0 to below 1 (20% is 0.2); got 8
 * @fails =GRIT.MACHINECOST(4000,24000,6,0.08,800) → #VALUE! salvage must be at most the price (4000); got 24000
 * @plain IF({salvage}>{price},#VALUE!,(({price}-{salvage})*IF({interest}<1E-5,(1+{interest}*({years}+1)/2+{interest}^2*({years}^2-1)/12)/{years},{interest}/(1-(1+{interest})^(-{years})))+{salvage}*{interest})/{hoursPerYear}+{running})
 * @source Capital recovery with salvage (engineering economy): (P − S) × A/P(i, n) + S × i.
 * @words grinder depreciation equipment ownership rental loan
 */
export const MACHINECOST = define(
  { label: "Cost", unit: "moneyPerHour" },
  [
    amount("price", "Price of the machine", "money", ABOVE_0),
    amount("salvage", "What it sells for at the end", "money", FROM_0, { note: "at most the price" }),
    count("years", "Years it is kept", ABOVE_0),
    share("interest", "Yearly interest", BELOW_1, { note: "0 is straight line" }),
    amount("hoursPerYear", "Hours it works in a year", "hours", ABOVE_0),
    amount("running", "Fuel, power, repairs and the like", "moneyPerHour", FROM_0, { omitted: 0 }),
  ],
  () => (price, salvage, years, interest, hoursPerYear, running) => {
    if (salvage > price) throw badValue(`salvage must be at most the price (${price}); got ${salvage}`);
    const owningPerYear = (price - salvage) * capitalRecovery(interest, years) + salvage * interest;
    return owningPerYear / hoursPerYear + running;
  },
);

/** The price that leaves a margin on a cost, never below the minimum charge. */
export const priceAtMargin = (cost: number, margin: number, minimum = 0) => Math.max(minimum, cost / (1 - margin));

/**
 * Price that leaves a margin on a cost, never below the minimum charge.
 * @example =GRIT.PRICEAT(800,0.2,1500) → 1500 | hand: 800 / 0.8 = 1000 is below the minimum charge
 * @example =GRIT.PRICEAT(100,0.2) → 125 | identity: a margin of 20% is a markup of 25%
 * @fails =GRIT.PRICEAT(100,20) → #VALUE! margin must be below 1 (20% is 0.2); got 20
 * @plain IF({cost}/(1-{margin})>{minimum},{cost}/(1-{margin}),{minimum})
 * @source Definition of the margin, solved for the price.
 * @words profit bid quote sell minimum charge
 */
export const PRICEAT = define(
  { label: "Price", unit: "money" },
  [
    amount("cost", "Total cost", "money", ABOVE_0),
    share("margin", "Margin wanted, as a share of the price", ANY_BELOW_1, { note: "below 0 sells at a loss" }),
    amount("minimum", "Minimum charge", "money", FROM_0, { omitted: 0 }),
  ],
  () => priceAtMargin,
);

/**
 * Margin: the share of the price left after the cost.
 * @example =GRIT.MARGIN(125,100) → 0.2 | identity: a markup of 25% is a margin of 20%
 * @example =GRIT.MARGIN(80,100) → -0.25 | hand: (80 - 100) / 80, sold at a loss
 * @fails =GRIT.MARGIN(0,100) → #VALUE! price is blank or 0; it must be above 0
 * @plain ({price}-{cost})/{price}
 * @source Definition of the margin.
 * @words profit gross
 */
export const MARGIN = define(
  { label: "Share of the price", isShare: true, note: "below 0 is a loss" },
  [amount("price", "Price", "money", ABOVE_0), amount("cost", "Cost", "money", FROM_0)],
  () => (price, cost) => (price - cost) / price,
);

/**
 * Markup: what the price adds to the cost, as a share of the cost.
 * @example =GRIT.MARKUP(125,100) → 0.25 | hand: 25 on top of 100
 * @example =GRIT.MARKUP(80,100) → -0.2 | hand: (80 - 100) / 100, sold at a loss
 * @fails =GRIT.MARKUP(125,0) → #VALUE! cost is blank or 0; it must be above 0
 * @plain ({price}-{cost})/{cost}
 * @source Definition of the markup.
 * @words profit
 */
export const MARKUP = define(
  { label: "Share of the cost", isShare: true, note: "below 0 is a loss" },
  [amount("price", "Price", "money", ABOVE_0), amount("cost", "Cost", "money", ABOVE_0)],
  () => (price, cost) => (price - cost) / cost,
);

/**
 * Markup on cost that gives a margin on price.
 * @example =GRIT.MARKUPFOR(0.2) → 0.25 | identity: 0.2 / 0.8
 * @example =GRIT.MARKUPFOR(0.3) → 0.42857142857142855 | hand: 0.3 / 0.7 = 3 / 7
 * @fails =GRIT.MARKUPFOR(1) → #VALUE! margin must be below 1 (20% is 0.2); got 1
 * @plain {margin}/(1-{margin})
 * @source Definitions of margin and markup.
 * @words profit
 */
export const MARKUPFOR = define(
  { label: "Share of the cost", isShare: true },
  [share("margin", "Margin wanted, as a share of the price", ANY_BELOW_1)],
  () => (margin) => margin / (1 - margin),
);

const HOURS_A_WEEK = domain("from 0 to 168", [
  [">=", 0],
  ["<=", 168],
]);
const WEEKLY = domain("above 0 and at most 168", [
  [">", 0],
  ["<=", 168],
]);
const PREMIUM = domain("above 0 and at most 3 (50% is 0.5)", [
  [">", 0],
  ["<=", 3],
]);

/** Hours of a week before overtime begins, and what its hours add to the rate. */
export const OVERTIME_AFTER = 40;
const OVERTIME_PREMIUM = 0.5;

export const paidHours = (hours: number, threshold = OVERTIME_AFTER, premium = OVERTIME_PREMIUM) =>
  hours + premium * Math.max(0, hours - threshold);

/**
 * Hours to pay for a person's week, overtime included.
 * @remarks Multiply by the regular rate. Some states and agreements count overtime by the day or pay double time: give your own threshold and premium.
 * @example =GRIT.PAIDHOURS(46) → 49 | published: 29 CFR 778.110(b), 46 hours at 12 an hour come to 588, which is 49 × 12 (from memory)
 * @example =GRIT.PAIDHOURS(38) → 38 | hand: no hours above 40
 * @example =GRIT.PAIDHOURS(10,8,1) → 12 | hand: 2 of 10 hours above 8, at double time
 * @fails =GRIT.PAIDHOURS(46,40,50) → #VALUE! premium must be above 0 and at most 3 (50% is 0.5); got 50
 * @fails =GRIT.PAIDHOURS(46,0) → #VALUE! threshold is blank or 0; type a number above 0 and at most 168, or leave the argument out for 40
 * @plain {hours}+{premium}*({hours}>{threshold})*({hours}-{threshold})
 * @source 29 CFR 778.110: one half of the regular rate on top for each hour above 40 in a week.
 * @words overtime wage payroll time and a half labor week
 */
export const PAIDHOURS = define(
  { label: "Hours at the regular rate", unit: "hours" },
  [
    amount("hours", "Hours worked in the week", "hours", HOURS_A_WEEK),
    amount("threshold", "Hours before overtime begins", "hours", WEEKLY, {
      omitted: OVERTIME_AFTER,
      refusesBlank: true,
    }),
    share("premium", "Added to the rate of an hour of overtime", PREMIUM, {
      omitted: OVERTIME_PREMIUM,
      refusesBlank: true,
    }),
  ],
  () => paidHours,
);
