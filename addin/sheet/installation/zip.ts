/**
 * The text of entries of a zip file, as browsers unpack it. The copies have a reader that puts up with far more, but it is
 * large, and in a worker.
 */
const END = 0x06054b50;
const END_BYTES = 22;
const LISTED_BYTES = 46;
const LOCAL_BYTES = 30;

export async function* entriesOf(file: Uint8Array, wanted: RegExp): AsyncGenerator<string> {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const short = (at: number) => view.getUint16(at, true);
  const long = (at: number) => view.getUint32(at, true);
  let end = file.length - END_BYTES;
  while (end >= 0 && long(end) !== END) end--;
  if (end < 0) throw new Error("The file is no zip file");
  let at = long(end + 16);
  for (let left = short(end + 10); left > 0; left--) {
    const name = new TextDecoder().decode(file.subarray(at + LISTED_BYTES, at + LISTED_BYTES + short(at + 28)));
    const local = long(at + 42);
    const from = local + LOCAL_BYTES + short(local + 26) + short(local + 28);
    const packed = file.slice(from, from + long(at + 20));
    if (wanted.test(name)) yield await textOf(packed, short(at + 10) !== 0);
    at += LISTED_BYTES + short(at + 28) + short(at + 30) + short(at + 32);
  }
}

function textOf(bytes: Uint8Array<ArrayBuffer>, isPacked: boolean): Promise<string> {
  const stream = new Blob([bytes]).stream();
  return new Response(isPacked ? stream.pipeThrough(new DecompressionStream("deflate-raw")) : stream).text();
}
