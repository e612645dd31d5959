/** Pictures with at most 256 colors, a third of the size: what a page looks like has hardly more. */
import { deflateSync } from "node:zlib";
import type { Page } from "playwright-core";
import { crc32 } from "../../addin/share/parts/checksums";

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const MOST_COLORS = 256;

/** A screenshot as a PNG with a palette; a browser takes it apart. */
export async function smaller(page: Page, screenshot: Buffer): Promise<Buffer> {
  const { width, height, rgb } = await page.evaluate(async (picture) => {
    const bytes = Uint8Array.from(atob(picture), (letter) => letter.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
    const context = new OffscreenCanvas(bitmap.width, bitmap.height).getContext("2d")!;
    context.drawImage(bitmap, 0, 0);
    const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
    let text = "";
    for (let at = 0; at < data.length; at += 4) text += String.fromCharCode(data[at]!, data[at + 1]!, data[at + 2]!);
    return { width: bitmap.width, height: bitmap.height, rgb: btoa(text) };
  }, screenshot.toString("base64"));
  return encoded(width, height, Buffer.from(rgb, "base64"));
}

function encoded(width: number, height: number, rgb: Buffer): Buffer {
  const counts = new Map<number, number>();
  for (let at = 0; at < rgb.length; at += 3) {
    const color = rgb.readUIntBE(at, 3);
    counts.set(color, (counts.get(color) ?? 0) + 1);
  }
  const palette = [...counts]
    .sort((a, b) => b[1] - a[1])
    .slice(0, MOST_COLORS)
    .map(([color]) => color);
  const places = new Map([...counts.keys()].map((color) => [color, nearest(color, palette)]));
  const lines = Buffer.alloc(height * (width + 1));
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      lines[y * (width + 1) + 1 + x] = places.get(rgb.readUIntBE((y * width + x) * 3, 3))!;
    }
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  // Eight bits, each the number of a color.
  head.set([8, 3, 0, 0, 0], 8);
  const colors = Buffer.from(palette.flatMap((color) => channels(color)));
  return Buffer.concat([
    Buffer.from(SIGNATURE),
    chunk("IHDR", head),
    chunk("PLTE", colors),
    chunk("IDAT", deflateSync(lines, { level: 9 })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

const channels = (color: number) => [color >> 16, (color >> 8) & 255, color & 255];

function nearest(color: number, palette: readonly number[]): number {
  const [r, g, b] = channels(color) as [number, number, number];
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (const [at, other] of palette.entries()) {
    const distance = (r - (other >> 16)) ** 2 + (g - ((other >> 8) & 255)) ** 2 + (b - (other & 255)) ** 2;
    if (distance < least) [best, least] = [at, distance];
  }
  return best;
}

function chunk(kind: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(kind, "latin1"), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc32(body), body.length + 4);
  return out;
}
