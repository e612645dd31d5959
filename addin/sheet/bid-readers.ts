/** What reads for the Bid view. */
export { readBid } from "./read-bid";
export { readRoomList } from "./rooms";
