/** What reads a bid comes with the Bid view. */
import { later } from "../common/later";
import type * as Reading from "./read-bid";

export const readBid: typeof Reading.readBid = async (...args) =>
  (await later(import(/* webpackChunkName: "bid-reading" */ "./read-bid"), "reads the bid")).readBid(...args);
