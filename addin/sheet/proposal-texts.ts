/** Every text of the page for the customer: plain words, each in a cell that may be changed. */
import type { Work } from "../../functions/plan/works";

export const PROPOSAL = {
  title: "Proposal",
  /** Stands in the place of what only the contractor knows. */
  company: "Your company, address, phone, license number",
  client: "For",
  site: "Site",
  date: "Date",
  validUntil: "Valid until",
  start: "Start",
  end: "Done by",
  area: "Area",
  price: "Price",
  tax: (rate: string) => `"Sales tax"&IF(N(${rate})>0,", "&ROUND(${rate}*100,3)&"%","")`,
  total: "Total",
  adds: "Adds",
  withIt: "Price with it",
  noOptions: "None.",
  accepted: "Accepted by, date",
  offeredBy: "Offered by, date",
} as const;

/** Days that a price holds (common practice, no source). */
export const VALID_DAYS = 30;

export const PROPOSAL_HEADINGS = {
  floors: "Floors",
  extras: "Also included",
  options: "Options, not in the price",
  assumed: "We count on",
  excluded: "Not included",
  mockUp: "Mock-up and acceptance",
  care: "Care and safety",
  terms: "Terms",
} as const;

/** Headings with sentences of the contractor's own below them. */
export const SENTENCES = {
  assumed: [
    "The slab is as hard as we tested it. A harder or softer one changes tools, hours and price.",
    "Floors are empty, swept and ours alone while we work, with access for our machines.",
    "Light, heat above 50 °F (10 °C), and a dry slab under a tight roof.",
  ],
  excluded: [
    "Slab repair, leveling and moisture treatment beyond what is listed.",
    "Asbestos, lead or other hazardous material: have old adhesive and paint tested before we start.",
    "Moving furniture, stock or equipment, and protecting the floors after handover, unless listed.",
  ],
  mockUp: [
    "Before work starts we make a mock-up of each finish on your slab. Once you accept it, the floors are judged by it.",
    "Concrete is not uniform: color, aggregate, cracks and old patches show, and vary.",
  ],
  care: [
    "Any hard floor can be slippery when wet, oily or dusty. Test it wet and as used (ANSI A326.3), keep it clean and dry, and put mats at the doors.",
    "Clean with a neutral cleaner and soft pads, with no acid. Wipe spills up at once.",
    "While we work, keep out: silica dust, noise, cords and wet slurry. Local codes come first.",
  ],
  terms: ["Changes are priced and agreed on in writing before they are done.", "Payment: as agreed on in writing."],
} as const satisfies Partial<Record<keyof typeof PROPOSAL_HEADINGS, readonly string[]>>;
export type SentenceKey = keyof typeof SENTENCES;
export const SENTENCE_KEYS = Object.keys(SENTENCES) as SentenceKey[];

export const POWER = {
  before: "Power for ",
  after: " kW and a working water tap in reach of every floor.",
  unknown: "Power for our machines and a working water tap in reach of every floor.",
} as const;

/** Appearance levels and classes of ACI 310.1; the profile of ICRI 310.2R. */
export const FINISH_WORDS = {
  flat: "Ground concrete, appearance level 1 (flat)",
  satin: "Honed concrete, appearance level 2 (satin)",
  polished: "Polished concrete, appearance level 3 (polished)",
  "highly polished": "Polished concrete, appearance level 4 (highly polished)",
} as const;
export const CLASS_WORDS = {
  A: "class A (cement fines)",
  B: "class B (fine aggregate)",
  C: "class C (coarse aggregate)",
} as const;
export const FLOOR_WORDS = {
  stripped: "Old coating or adhesive removed. ",
  byGrit: "Ground and polished to ",
  grit: " grit",
  aggregate: ", aggregate ",
  standard: " of ACI 310.1",
  profile: "Ground to surface profile CSP ",
  profileStandard: " of ICRI 310.2R, for a coating of ",
  slab: ". Priced for a slab of Mohs ",
  tested: ", as tested.",
  /** Where the plan's finish was changed to one that asks for more of its inputs. */
  again: "(Finish changed: write this page again.)",
  included: "Included: ",
  edges: ", edges by hand",
} as const;

/** What each kind of stage is called once it is done, in the order of the work; "#" is how many steps it has. */
export const DONE_WORDS: Readonly<Record<Work, string>> = {
  strip: "stripped",
  grind: "ground in #",
  cracks: "cracks filled",
  joints: "joints filled",
  grout: "pinholes grouted",
  stain: "stained",
  densify: "densified",
  hone: "honed in #",
  polish: "polished in #",
  coat: "coated",
  guard: "guard applied",
  burnish: "burnished",
  clean: "cleaned",
  dry: "left to dry",
  protect: "covered",
};
export const STEPS = { one: "1 step", more: " steps" } as const;

export const PROPOSAL_CHECK = {
  leavesOut: "This page no longer fits the bid. Write it again in the pane.",
  company: "Type your company's line in A2.",
} as const;

export const written = (sheet: string, keptFrom: string | undefined) =>
  `Proposal written to the new sheet “${sheet}”${keptFrom === undefined ? "" : `, with your sentences from “${keptFrom}”`}`;
