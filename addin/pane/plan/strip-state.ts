/** What is typed on the test strip's card. What it comes to is worked out in `strip.ts`, which comes with the card. */
import { convert, type Quantity, type System } from "../../../functions/units";
import { readTyped, typedAs } from "../numbers";

/** Every measurement, with what it measures where its unit is the plan's. */
export const ENTRY_QUANTITIES = {
  cut: undefined,
  passes: undefined,
  slideSpeed: "slidingSpeed",
  headRadius: "toolSize",
  toolRadius: "toolSize",
  headSpeed: undefined,
  carrierSpeed: undefined,
  heightBefore: undefined,
  heightAfter: undefined,
  wornArea: "floorArea",
  wornPasses: undefined,
  newHeight: undefined,
  wornOut: undefined,
} as const satisfies Record<string, Quantity | undefined>;

export type EntryKey = keyof typeof ENTRY_QUANTITIES;
export const ENTRY_KEYS = Object.keys(ENTRY_QUANTITIES) as EntryKey[];

export interface StripState {
  /** Of the shelf; empty until it is chosen. */
  readonly tool: string;
  /** The strip's machine; empty is the machine entered above. */
  readonly machine: string;
  readonly typed: Readonly<Partial<Record<EntryKey, string>>>;
}

export const startStrip = (): StripState => ({ tool: "", machine: "", typed: {} });

/** The same measurements in the other units. */
export function stripInUnits(strip: StripState, from: System, to: System): StripState {
  const typed = { ...strip.typed };
  for (const key of Object.keys(typed) as EntryKey[]) {
    const quantity: Quantity | undefined = ENTRY_QUANTITIES[key];
    const { value } = readTyped(typed[key] ?? "", { label: key });
    if (quantity && value !== null) typed[key] = typedAs(convert(value, quantity, from, to), {});
  }
  return { ...strip, typed };
}
