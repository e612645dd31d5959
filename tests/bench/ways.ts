/** The ways to work a function out over ranges that the benchmarks hold side by side. */
import { isForTheCall } from "../catalogue";
import { type Column, type Rows, roomFor } from "./columns";
import { loopOf } from "./loops";

/** What a loop reads of a block: its cells as they are, to where the same ones already stand. */
function columnOf(block: unknown[][], column: Column): Column {
  for (let i = 0; i < block.length; i++) (column as unknown[])[i] = block[i]![0];
  return column;
}

function blockOf(column: Column): unknown[][] {
  const block: unknown[][] = new Array(column.length);
  for (let i = 0; i < column.length; i++) block[i] = [column[i]];
  return block;
}

/** The function itself; a loop with nothing checked, from blocks to a block; and that loop alone, on typed columns. */
export function waysOf({ entry, columns, args }: Rows) {
  const bareLoop = loopOf(entry);
  const out = roomFor(entry.shipped(...args));
  const blocks = args.filter((_, k) => !isForTheCall(entry.params[k]!)) as unknown[][][];
  return {
    ours: () => entry.shipped(...args),
    loop: () => {
      bareLoop(out, ...blocks.map((block, k) => columnOf(block, columns[k]!)));
      return blockOf(out);
    },
    bare: () => bareLoop(out, ...columns),
  };
}
