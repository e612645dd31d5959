/** Price: what crew and machine cost, and the price that leaves a margin. */
import { ABOVE_0, answer, BELOW_1, badValue, type Domain, each, FROM_0, MARGIN, number } from "./cell";

// Burden can pass 100 % of the wage; a whole percent typed by mistake (35 for 0.35) must not.
const BURDEN: Domain = { words: "from 0 to 5 (35 % is 0.35)", least: 0, most: 5 };

/** Cost of a crew's hours, with the burden on their wages. */
export const crewCostOf = (hours: number, crew: number, rate: number, burden = 0) => hours * crew * rate * (1 + burden);

/**
 * Cost of the crew for a number of hours.
 * @customfunction CREWCOST
 * @param hours Hours on the job, h; 0 or more.
 * @param crew People in the crew; 0 or more.
 * @param rate Wage of one person, money per hour; 0 or more.
 * @param [burden] Taxes, insurance and benefits on top of the wage, a fraction from 0 to 5 (35 % is 0.35); 0 when left out.
 * @returns Cost, money.
 * @example =GRIT.CREWCOST(10,2,30,0.35) → 810 | hand: 10 × 2 × 30 × 1.35
 * @example =GRIT.CREWCOST(0.1,1,8) → 0.8 | published: OpenStax Principles of Accounting Vol. 2, ch. 8.3, standard labor cost of 0.10 h at 8.00
 * @fails =GRIT.CREWCOST(10,2,30,35) → #VALUE! burden must be from 0 to 5 (35 % is 0.35); got 35
 * @plain {hours}*{crew}*{rate}*(1+{burden})
 * @source common practice, no source: hours × people × burdened wage.
 */
export function crewCost(hours: any[][], crew: any[][], rate: any[][], burden?: any[][]): any[][] {
  return answer(() =>
    each(
      [
        number("hours", hours, FROM_0),
        number("crew", crew, FROM_0),
        number("rate", rate, FROM_0),
        number("burden", burden, BURDEN, 0),
      ],
      crewCostOf,
    ),
  );
}

/** Capital recovery factor i(1 + i)ⁿ / ((1 + i)ⁿ − 1): the yearly payment that repays 1 with interest. */
export function capitalRecovery(interest: number, years: number): number {
  // 1 − (1 + i)⁻ⁿ without losing the digits of a small interest.
  const repaidShare = -Math.expm1(-years * Math.log1p(interest));
  return repaidShare === 0 ? 1 / years : interest / repaidShare;
}

/**
 * Cost of a machine per working hour: owning it by capital recovery, and running it.
 * @customfunction MACHINECOST
 * @param price Price of the machine, money; 0 or more.
 * @param salvage What it sells for at the end, money; 0 or more, and at most the price.
 * @param years Years it is kept; above 0.
 * @param interest Yearly interest, a fraction from 0 to below 1 (20 % is 0.2); 0 is straight line.
 * @param hoursPerYear Hours it works in a year, h; above 0.
 * @param [running] Fuel, power, repairs and the like, money per hour; 0 or more, 0 when left out.
 * @returns Cost, money per hour.
 * @example =GRIT.MACHINECOST(58000,10000,5,0,1000) → 9.6 | published: OpenStax Principles of Accounting Vol. 1, ch. 11.3, straight line of 9600 a year, here over 1000 h
 * @example =GRIT.MACHINECOST(32000,0,36,0.005,1) → 973.5019984497637 | published: OpenStax Principles of Finance, loan of 32000 over 36 months at 6 % / 12 costs 973.50 a month; digits by mpmath 1.3.0
 * @example =GRIT.MACHINECOST(100000,0,15,0.08,1) → 11682.954493602004 | library: financial 0.2.4 pmt(0.08, 15, -100000)
 * @example =GRIT.MACHINECOST(24000,4000,6,0.08,800,3.5) → 9.307884655725246 | library: mpmath 1.3.0, (20000 × 0.08 × 1.08^6 / (1.08^6 - 1) + 4000 × 0.08) / 800 + 3.5
 * @fails =GRIT.MACHINECOST(24000,4000,6,8,800) → #VALUE! interest must be from 0 to below 1 (20 % is 0.2); got 8
 * @fails =GRIT.MACHINECOST(4000,24000,6,0.08,800) → #VALUE! salvage must be at most the price (4000); got 24000
 * @plain IF({salvage}>{price},#VALUE!,(({price}-{salvage})*IF({interest}<1E-5,(1+{interest}*({years}+1)/2+{interest}^2*({years}^2-1)/12)/{years},{interest}/(1-(1+{interest})^(-{years})))+{salvage}*{interest})/{hoursPerYear}+{running})
 * @source Capital recovery with salvage (engineering economy): (P − S) × A/P(i, n) + S × i.
 */
export function machineCost(
  price: any[][],
  salvage: any[][],
  years: any[][],
  interest: any[][],
  hoursPerYear: any[][],
  running?: any[][],
): any[][] {
  return answer(() =>
    each(
      [
        number("price", price, FROM_0),
        number("salvage", salvage, FROM_0),
        number("years", years, ABOVE_0),
        number("interest", interest, BELOW_1),
        number("hoursPerYear", hoursPerYear, ABOVE_0),
        number("running", running, FROM_0, 0),
      ],
      (paid, resale, kept, i, hours, perHour) => {
        if (resale > paid) throw badValue(`salvage must be at most the price (${paid}); got ${resale}`);
        const owningPerYear = (paid - resale) * capitalRecovery(i, kept) + resale * i;
        return owningPerYear / hours + perHour;
      },
    ),
  );
}

/** The price that leaves a margin on a cost, never below the minimum charge. */
export const priceAtMargin = (cost: number, margin: number, minimum = 0) => Math.max(minimum, cost / (1 - margin));

/**
 * Price that leaves a margin on a cost, never below the minimum charge.
 * @customfunction PRICEAT
 * @param cost Total cost, money; 0 or more.
 * @param margin Margin wanted, a fraction of the price below 1 (20 % is 0.2); below 0 sells at a loss.
 * @param [minimum] Minimum charge, money; 0 or more, 0 when left out.
 * @returns Price, money.
 * @example =GRIT.PRICEAT(100,0.2) → 125 | identity: a margin of 20 % is a markup of 25 %
 * @example =GRIT.PRICEAT(800,0.2,1500) → 1500 | hand: 800 / 0.8 = 1000 is below the minimum charge
 * @fails =GRIT.PRICEAT(100,20) → #VALUE! margin must be below 1 (20 % is 0.2); got 20
 * @plain IF({cost}/(1-{margin})>{minimum},{cost}/(1-{margin}),{minimum})
 * @source Definition of the margin, solved for the price.
 */
export function priceAt(cost: any[][], margin: any[][], minimum?: any[][]): any[][] {
  return answer(() =>
    each(
      [number("cost", cost, FROM_0), number("margin", margin, MARGIN), number("minimum", minimum, FROM_0, 0)],
      priceAtMargin,
    ),
  );
}

/**
 * Margin: the share of the price that is left after the cost.
 * @customfunction MARGIN
 * @param price Price, money; above 0.
 * @param cost Cost, money; 0 or more.
 * @returns A fraction of the price; below 0 is a loss.
 * @example =GRIT.MARGIN(125,100) → 0.2 | identity: a markup of 25 % is a margin of 20 %
 * @example =GRIT.MARGIN(80,100) → -0.25 | hand: (80 - 100) / 80, sold at a loss
 * @fails =GRIT.MARGIN(0,100) → #VALUE! price must be above 0; got 0
 * @plain ({price}-{cost})/{price}
 * @source Definition of the margin.
 */
export function margin(price: any[][], cost: any[][]): any[][] {
  return answer(() =>
    each([number("price", price, ABOVE_0), number("cost", cost, FROM_0)], (paid, spent) => (paid - spent) / paid),
  );
}

/**
 * Markup: what the price adds to the cost, as a share of the cost.
 * @customfunction MARKUP
 * @param price Price, money; 0 or more.
 * @param cost Cost, money; above 0.
 * @returns A fraction of the cost; below 0 is a loss.
 * @example =GRIT.MARKUP(125,100) → 0.25 | hand: 25 on top of 100
 * @example =GRIT.MARKUP(80,100) → -0.2 | hand: (80 - 100) / 100, sold at a loss
 * @fails =GRIT.MARKUP(125,0) → #VALUE! cost must be above 0; got 0
 * @plain ({price}-{cost})/{cost}
 * @source Definition of the markup.
 */
export function markup(price: any[][], cost: any[][]): any[][] {
  return answer(() =>
    each([number("price", price, FROM_0), number("cost", cost, ABOVE_0)], (paid, spent) => (paid - spent) / spent),
  );
}

/**
 * Markup on cost that gives a margin on price.
 * @customfunction MARKUPFOR
 * @param margin Margin wanted, a fraction of the price below 1 (20 % is 0.2).
 * @returns A fraction of the cost.
 * @example =GRIT.MARKUPFOR(0.2) → 0.25 | identity: 0.2 / 0.8
 * @example =GRIT.MARKUPFOR(0.3) → 0.42857142857142855 | hand: 0.3 / 0.7 = 3 / 7
 * @fails =GRIT.MARKUPFOR(1) → #VALUE! margin must be below 1 (20 % is 0.2); got 1
 * @plain {margin}/(1-{margin})
 * @source Definitions of margin and markup.
 */
export function markupFor(margin: any[][]): any[][] {
  return answer(() => each([number("margin", margin, MARGIN)], (share) => share / (1 - share)));
}
