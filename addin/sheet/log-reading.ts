/** All that the pane may read of a log, which is one part of it. */
export { readLog } from "./log";
export { readForemansList } from "./log-list";
