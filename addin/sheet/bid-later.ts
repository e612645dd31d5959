/** What reads a bid, and a list of rooms, comes with the Bid view. */
import { later } from "../common/later";
import type * as Reading from "./bid-readers";

const part = (): Promise<typeof Reading> =>
  later(import(/* webpackChunkName: "bid-reading" */ "./bid-readers"), "reads the bid");

export const readBid: typeof Reading.readBid = async (...args) => (await part()).readBid(...args);
export const readRoomList: typeof Reading.readRoomList = async () => (await part()).readRoomList();
