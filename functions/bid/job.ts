/** What a bid asks about the whole job: asked, and paid for, once however many floors it has. */
import { type Domain, FROM_0 } from "../domain";
import { both, from0To, type NumberField, PERCENT_BELOW_100, upTo } from "../plan/field";
import { PRICE_FIELDS } from "../plan/fields/price";
import { WORK_FIELDS } from "../plan/fields/work";
import { type System, symbol } from "../units";

export const BID_GROUPS = {
  customer: "Customer and dates",
  crew: "Crew",
  once: "Job costs, once",
  price: "Price",
  site: "Power and waste",
} as const;
type BidGroup = keyof typeof BID_GROUPS;

interface Common {
  /** The named cell on the bid's sheet. */
  readonly name: string;
  readonly group: BidGroup;
  readonly label: string;
  readonly note: string;
}
interface BidText extends Common {
  readonly kind: "text";
}
interface BidDate extends Common {
  readonly kind: "date";
}
type BidNumber = Common & Omit<NumberField, "group">;
export type BidField = BidText | BidDate | BidNumber;

const PERCENT_TO_100: Domain = { words: "from 0% to 100%", least: 0, most: 1 };
const DAYS_A_WEEK: Domain = { words: "a whole number from 1 to 7", least: 1, most: 7, whole: true };
const COUNT: Domain = { words: "a whole number from 0 to 10,000", least: 0, most: 10_000, whole: true };

export const BID_FIELDS = {
  client: { kind: "text", name: "Bid_Client", group: "customer", label: "Client", note: "Who the bid is for" },
  site: { kind: "text", name: "Bid_Site", group: "customer", label: "Site", note: "Where the floors are" },
  date: { kind: "date", name: "Bid_Date", group: "customer", label: "Bid date", note: "Day the bid goes out" },
  start: { kind: "date", name: "Bid_Start", group: "customer", label: "Start date", note: "First day on site" },
  daysAWeek: {
    kind: "number",
    name: "Bid_DaysAWeek",
    group: "customer",
    label: "Working days a week",
    note: "From Monday on; holidays aren't counted",
    domain: DAYS_A_WEEK,
    start: both(5),
  },
  crew: { ...WORK_FIELDS.crew, name: "Bid_Crew", note: "Works setup and extras" },
  rate: { ...WORK_FIELDS.rate, name: "Bid_Rate" },
  burden: { ...WORK_FIELDS.burden, name: "Bid_Burden" },
  hoursADay: { ...WORK_FIELDS.hoursADay, name: "Bid_HoursADay", group: "crew" },
  hoursAWeek: {
    kind: "number",
    name: "Bid_HoursAWeek",
    group: "crew",
    label: "Hours a week",
    note: "One person's; overtime counts above 40",
    domain: from0To(168),
    unit: "h",
    start: both(40),
  },
  setup: { ...WORK_FIELDS.setup, name: "Bid_Setup", group: "once", note: "Whole-crew hours, once for the job" },
  trips: {
    kind: "number",
    name: "Bid_Trips",
    group: "once",
    label: "Trips",
    note: "Mobilizations, not days",
    domain: COUNT,
    unit: "trips",
    start: both(1),
  },
  tripCost: {
    kind: "number",
    name: "Bid_TripCost",
    group: "once",
    label: "Cost of a trip",
    note: "Truck, fuel and freight, there and back",
    domain: FROM_0,
    money: true,
    start: both(0),
  },
  nights: {
    kind: "number",
    name: "Bid_Nights",
    group: "once",
    label: "Nights away",
    note: "For the whole crew",
    domain: COUNT,
    unit: "nights",
    start: both(0),
  },
  nightCost: {
    kind: "number",
    name: "Bid_NightCost",
    group: "once",
    label: "Cost of a night",
    note: "Rooms and meals of the whole crew",
    domain: FROM_0,
    money: true,
    start: both(0),
  },
  overhead: { ...PRICE_FIELDS.overhead, name: "Bid_Overhead" },
  contingency: { ...PRICE_FIELDS.contingency, name: "Bid_Contingency" },
  margin: { ...PRICE_FIELDS.margin, name: "Bid_Margin", domain: PERCENT_BELOW_100 },
  minimum: { ...PRICE_FIELDS.minimum, name: "Bid_Minimum", note: "Once for the job; default: one day's wages" },
  rounding: {
    kind: "number",
    name: "Bid_Rounding",
    group: "price",
    label: "Round the price up to",
    note: "Such as 1, 10 or 50; 0 keeps the cents",
    domain: from0To(100_000),
    money: true,
    start: both(0),
  },
  taxRate: {
    kind: "number",
    name: "Bid_TaxRate",
    group: "price",
    label: "Sales tax",
    note: "On the whole price; states differ",
    domain: PERCENT_TO_100,
    percent: true,
    start: both(0),
  },
  supply: {
    kind: "number",
    name: "Bid_Supply",
    group: "site",
    label: "Power supply",
    note: "What the site's circuits give; blank skips the check",
    domain: upTo(10_000),
    unit: "kW",
    start: both(null),
    blankMeans: "not checked",
  },
  bagSize: {
    kind: "number",
    name: "Bid_BagSize",
    group: "site",
    label: "Dust in a bag",
    note: "50 lb is usual: one person lifts it",
    domain: upTo(10_000),
    quantity: "mass",
    // One person's lift: common practice, no source.
    start: { us: 50, metric: 20 },
  },
} as const satisfies Record<string, BidField>;

export type BidKey = keyof typeof BID_FIELDS;
export const BID_KEYS = Object.keys(BID_FIELDS) as BidKey[];
export const bidField = (key: BidKey): BidField => BID_FIELDS[key];

type ValueOf<F extends BidField> = F extends { kind: "text" } ? string : number | null;
/** Filled in: percent as fractions, dates as a sheet counts days, blanks null. */
export type BidJob = { -readonly [K in BidKey]: ValueOf<(typeof BID_FIELDS)[K]> };

export function bidUnit(key: BidKey, units: System): string {
  const field = bidField(key);
  if (field.kind !== "number") return "";
  if (field.percent) return "%";
  return field.quantity ? symbol(field.quantity, units) : (field.unit ?? "");
}

export function startJob(units: System): BidJob {
  const entries = BID_KEYS.map((key) => {
    const field = bidField(key);
    return [key, field.kind === "number" ? field.start[units] : field.kind === "text" ? "" : null];
  });
  return Object.fromEntries(entries) as BidJob;
}
