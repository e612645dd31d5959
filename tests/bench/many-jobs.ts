/** A list of past jobs as long as one likes, invented, the same every time: twelve columns, and here and there a bad cell. */
export const MANY_JOBS_HEADINGS = [
  "Job",
  "Bid price",
  "Billed",
  "Bid cost",
  "Final cost",
  "Bid hours",
  "Hours worked",
  "Bid rate",
  "Rate paid",
  "Area",
  "Bond",
  "Mohs",
] as const;

/** One job in so many has a cell to mend. */
const SOUND_JOBS = 500;
const BONDS = ["metal", "resin", "transitional"];

/** Numbers from 0 up to 1, the same at every start (a multiplicative generator, Lehmer's). */
function steadyChance(): () => number {
  let state = 20_251_125;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

export function manyJobs(rows: number): (string | number)[][] {
  const chance = steadyChance();
  const around = (middle: number, spread: number) => middle * (1 + spread * (2 * chance() - 1));
  const cents = (money: number) => Math.round(100 * money) / 100;
  return Array.from({ length: rows }, (_, i) => {
    const area = Math.round(around(5000, 0.9));
    const hours = Math.round(around(area / 120, 0.2)) + 1;
    // One in a hundred takes three times as long, and stands out.
    const worked = cents(around(hours, 0.3) * (chance() < 0.01 ? 3 : 1));
    const rate = cents(around(62, 0.1));
    const cost = cents(hours * rate * 1.6);
    const price = cents(cost / around(0.72, 0.05));
    const mohs = Math.round(around(5, 0.4));
    const bond = BONDS[Math.floor(chance() * BONDS.length)]!;
    const billed: string | number = i % SOUND_JOBS === SOUND_JOBS - 1 ? `$${price}` : cents(around(price, 0.02));
    const last = [cents(rate + around(1, 1)), area, bond, mohs];
    return [`J-${i + 1}`, price, billed, cost, cents(cost + (worked - hours) * rate), hours, worked, rate, ...last];
  });
}
