/** All that makes copies, as one order and what comes of it: work for a worker, since a large workbook takes seconds. */
import { type CalculatingOptions, type CalculatingReport, calculatingCopy } from "./calculating-copy";
import { costWords } from "./cost-words";
import { type PriceOnlyOptions, type PriceOnlyReport, priceOnlyCopy } from "./price-copy";

/** A copy that is wanted of a workbook. */
export type Order =
  | { readonly kind: "calculating"; readonly bytes: Uint8Array; readonly options: CalculatingOptions }
  | { readonly kind: "price"; readonly bytes: Uint8Array; readonly options: PriceOnlyOptions };

/** What making a copy has shown. */
export type Made =
  | { readonly kind: "calculating"; readonly report: CalculatingReport }
  | {
      readonly kind: "price";
      readonly report: PriceOnlyReport;
      /** Texts in the copy that sound like costs. */
      readonly costWords: readonly string[];
    };

export interface Copy {
  readonly bytes: Uint8Array;
  readonly made: Made;
}

/** Called as the work goes on, with the share of it that is done, from 0 to 1. */
type Follow = (share: number) => void;

export function copyOf(order: Order, follow: Follow): Copy {
  if (order.kind === "price") {
    const { bytes, report } = priceOnlyCopy(order.bytes, order.options, follow);
    return { bytes, made: { kind: "price", report, costWords: costWords(bytes) } };
  }
  const { bytes, report } = calculatingCopy(order.bytes, order.options, follow);
  return { bytes, made: { kind: "calculating", report } };
}
