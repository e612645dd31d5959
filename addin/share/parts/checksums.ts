/** The checksums that a zip keeps of its files: unpacking alone does not see that one was damaged. */
import { strFromU8 } from "fflate";

const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let bit = 0; bit < 8; bit++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
  return c;
});

export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (let i = 0; i < bytes.length; i++) c = TABLE[(c ^ bytes[i]!) & 0xff]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

const END = 0x06054b50;
const ENTRY = 0x02014b50;
const ENTRY_LENGTH = 46;
const UTF8 = 0x800;

/** The first file of a zip that is not what its checksum says. */
export function damagedFile(zip: Uint8Array, files: Readonly<Record<string, Uint8Array>>): string | undefined {
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  let end = zip.length - 22;
  while (end >= 0 && view.getUint32(end, true) !== END) end--;
  if (end < 0) return undefined;
  let at = view.getUint32(end + 16, true);
  while (at + ENTRY_LENGTH <= zip.length && view.getUint32(at, true) === ENTRY) {
    const name = zip.subarray(at + ENTRY_LENGTH, at + ENTRY_LENGTH + view.getUint16(at + 28, true));
    const file = strFromU8(name, !(view.getUint16(at + 8, true) & UTF8));
    const content = files[file];
    if (content && crc32(content) !== view.getUint32(at + 16, true)) return file;
    at += ENTRY_LENGTH + name.length + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return undefined;
}
