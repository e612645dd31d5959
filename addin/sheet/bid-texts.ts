/** Every text of the Bid sheet that is not an input's (functions/bid/job.ts). */

export const BID_TITLE = "Bid";

export const BID_HEADINGS = {
  price: "Price",
  time: "Hours, days and waste",
  checks: "Checks",
  job: "Job",
  floors: "Floors",
  extras: "Extras",
  toBuy: "To buy for the base price",
  math: "How it is worked out",
} as const;

export const BID_NOTES = {
  floors: "Set Kind to base, option or left out. Order sets the schedule. An option's price is what it adds.",
  extras: "Type more in the row below the table.",
  toBuy: "All base floors together, summed before rounding up. On hand: sets, or containers.",
  cured: "Days count cures as working hours that pass; overnight cures may end sooner.",
} as const;

export const BID_LABELS = {
  units: "Units",
  floorsCost: "Floors in the base price",
  extrasCost: "Extras in the base price",
  setupCost: "Setup and cleanup, once",
  tripsCost: "Trips",
  nightsCost: "Nights away",
  overtimeCost: "Overtime",
  wholeCost: "Whole containers: what isn't used",
  directCost: "Direct cost",
  overheadCost: "Overhead",
  contingencyCost: "Contingency",
  cost: "Total cost",
  price: "Price at margin or minimum",
  offered: "Price offered",
  perArea: "Price per area",
  marginShown: "Margin at this price",
  tax: "Sales tax",
  total: "Total with tax",
  hours: "Hours of work incl. setup",
  waits: "Working hours waiting for cures",
  days: "Days on site",
  ends: "End date",
  buyCost: "Cost of what to buy",
  leftWorth: "Worth of what stays on the shelf",
  power: "Most power a machine takes",
  dust: "Concrete ground off",
  bags: "Bags of it",
  slurry: "Slurry to collect",
  weights: "Cost that shares the price",
  centsLeft: "Cents left after whole shares",
  overtimeShare: "Overtime, share of wages",
  firstDay: "First working day",
  daysIn: "Working days of its week before it",
  sharesFit: "Shares add up to the price?",
  plansFit: "Every plan in order?",
  itemsFit: "All tools and liquids in To buy?",
  powerFit: "Power supply enough?",
  upToDate: "Numbers up to date?",
} as const;

/** At the top of the sheet, over columns that are narrow. */
export const BID_KEY_LABELS: Readonly<Partial<Record<string, string>>> = {
  marginShown: "Margin",
  hours: "Hours",
  days: "Days",
  ends: "End date",
};

export const BID_WORDS = {
  wait: "h, not in the cost",
  power: "kW, by the machines table",
  dust: ": sealed bags, no dry sweeping",
  bags: "bags, each closed and labeled",
  slurry: ": caustic, keep out of drains",
  yes: "yes",
  sharesOff: "no: they differ by ",
  plansOff: "no: look at Plan check of ",
  itemsOff: "no: update the bid in the pane for ",
  noSupply: "not checked: enter the power supply",
  noMachine: "can't tell: the machines table describes none of them",
  powerOff: "no: use a smaller machine or a generator",
  noPlan: "not found on its sheet",
} as const;

export const BID_RULES = {
  kind: "Kind must be base, option or left out.",
  order: "Order must be a number.",
} as const;

export const EXTRAS_LIST = {
  title: "Extras",
  note: "Sample rates and prices. Replace them with your own, and add rows as you need: bids pick from this list.",
  written: (sheet: string) => `Your list of extras written to the new sheet “${sheet}”`,
} as const;
