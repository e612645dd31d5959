import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { pngSize } from "../../manifest/build/check-xml.mjs";
import { drawings } from "../../manifest/build/icons.mjs";

const drawn: { svg: string; size: number; png: string }[] = drawings();

describe("the icons", () => {
  it.each(drawn)("$png is $size px square", ({ png, size }) => {
    expect(pngSize(`manifest/${png}`)).toEqual({ width: size, height: size });
  });

  it("are exactly the files the manifests need, each with its drawing", () => {
    const files = readdirSync("manifest/icons").map((file) => `icons/${file}`);
    const expected = drawn.flatMap(({ svg, png }) => [png, `icons/${svg}.svg`]);
    expect(files.sort()).toEqual([...new Set(expected)].sort());
  });

  it("use one color beside white", () => {
    const drawings = new Set(drawn.map(({ svg }) => readFileSync(`manifest/icons/${svg}.svg`, "utf8")));
    const colors = [...drawings].flatMap((text) => text.match(/(?<=(?:fill|stroke)=")#[^"]+/g) ?? []);
    expect(new Set(colors)).toEqual(new Set(["#2F6B5E", "#fff"]));
  });

  it("refuse to measure what is not a PNG", () => {
    expect(() => pngSize("manifest/icons/icon.svg")).toThrow("not a PNG");
  });
});
