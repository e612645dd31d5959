/** Every text of the Bid view, to be read through in one go. The bid's fields stand in `functions/bid/job.ts`. */
import { doing } from "../texts";

export const BID_COMMANDS = {
  look: doing("reading the plans and the bid", "read the plans and the bid"),
  write: doing("writing the bid", "write the bid"),
  writeProposal: doing("writing the proposal", "write the proposal"),
  keepList: doing("writing the list of extras", "write the list of extras"),
};

export const BID = {
  noPlans: "Insert a stage plan for each floor first, in the Plan view. Each becomes a floor of the bid.",
  readAgain: "Read the plans again",

  floorsTitle: "Floors",
  floorsNote: "From first to last as they are worked.",
  kindOf: (floor: string) => `Kind of ${floor}`,
  kinds: { base: "base", option: "option", "left out": "left out" },
  moveUp: (floor: string) => `Work ${floor} earlier`,
  figures: (area: string, hours: string) => `${area}, ${hours} h`,
  error: "shows an error on its sheet",

  extrasTitle: "Extras",
  extrasNote: "Quantities and costs of each; the crew is the bid's.",
  addExtra: "Add an extra",
  add: "Add",
  extrasFrom: (table: string, sheet: string) => `From your list: the table ${table} on “${sheet}”.`,
  extrasSample: "Sample rates and prices. Put the list on a sheet to keep your own.",
  keepList: "Put the list on a sheet",
  removeExtra: (name: string) => `Remove ${name}`,
  extraLabels: {
    quantity: "Quantity",
    crewHours: "Crew h each",
    material: "Material each",
    waste: "Waste %",
  },
  extraKind: (name: string) => `Kind of ${name}`,
  extraName: "An extra needs a name",

  jobTitle: "Job",
  missing: (label: string) => `${label} is missing`,
  mustBe: (label: string, words: string) => `${label} must be ${words}`,
  badDate: (label: string) => `${label} must be a date`,
  from0: "0 or more",
  dayOfWages: "one day's wages",

  insert: "Insert the bid",
  update: "Update the bid",
  fix: (problems: readonly string[]) =>
    `Fix these first: ${problems.slice(0, 3).join("; ")}${problems.length > 3 ? `; and ${problems.length - 3} more` : ""}.`,

  resultTitle: "Result",
  resultOn: (sheet: string) => `As “${sheet}” shows it now. Update the bid after a change here.`,
  noFigure: "–",
  result: {
    offered: "Price offered",
    perArea: (unit: string) => `Per ${unit}`,
    total: "Total with tax",
    cost: "Total cost",
    marginShown: "Margin at this price",
    hours: "Hours of work incl. setup",
    days: "Days on site",
    ends: "End date",
  },
  proposalTitle: "Proposal",
  proposalNote: "One page for the customer: plain words and linked prices, with no cost on it.",
  writeProposal: "Write the proposal",
  anotherProposal: "Write it again",
  proposalOn: (sheet: string) => `The proposal is on “${sheet}”. Prices and words follow the bid.`,
  proposalOut:
    "Read it through and change any sentence. Then print it, or send a price-only copy of its sheet (Share view): the copy holds no cost.",
  optionsTitle: "Options add",
  toBuyTitle: "To buy",
  toBuy: (count: string, name: string, cost: string) => `${count} × ${name}: ${cost}`,
  nothingToBuy: "Nothing: the shelf has enough.",
  checksTitle: "Checks",
  checks: {
    upToDate: "Numbers up to date?",
    plansFit: "Every plan in order?",
    sharesFit: "Shares add up to the price?",
    itemsFit: "All tools and liquids in To buy?",
    powerFit: "Power supply enough?",
  },
} as const;
