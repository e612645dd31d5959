/**
 * The example workbooks of the build, opened by LibreOffice: the one with our formulas keeps what it holds, its plain
 * copy calculates the same ones anew and shows no error.
 */
import { read, utils } from "@e965/xlsx";
import { beforeAll, describe, expect, it } from "vitest";
import { type Examples, examples } from "../../../../addin/preview/example";
import { openWorkbook } from "../../../../addin/share/parts/workbook";
import { readMetadata } from "../../../../manifest/build/catalogue.mjs";
import { CATALOGUE } from "../../../catalogue";
import { reportCompared } from "../../../run/compared";
import { unzipped } from "../copy-files";
import { isError } from "../engine";
import { isSame, recalculated, type Sheets, sheetsOf } from "./soffice";

/** Shows what the file holds: our functions are not there. */
const AS_STORED = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>1</value></prop></item>
</oor:items>`;

let made: Examples;
let stored: Sheets;
let opened: Sheets;
let calculated: Sheets;
let compared = 0;
reportCompared("the example workbooks, LibreOffice", () => compared);

beforeAll(async () => {
  made = await examples(CATALOGUE, readMetadata(), "1.0.0");
  stored = sheetsOf(made.workbook);
  [opened] = (await recalculated([made.workbook], AS_STORED)) as [Sheets];
  [calculated] = (await recalculated([made.plain])) as [Sheets];
}, 600_000);

/** Cells that differ from what the workbook with our formulas holds. */
function different(found: Sheets, counts = (_sheet: string, _address: string) => true): string[] {
  const wrong: string[] = [];
  for (const [sheet, cells] of stored) {
    for (const [address, value] of cells) {
      if (!counts(sheet, address)) continue;
      compared++;
      const other = found.get(sheet)?.get(address);
      if (!isSame(other, value)) wrong.push(`${sheet}!${address} is ${value}, in LibreOffice ${other}`);
    }
  }
  return wrong;
}

/** Where array formulas give values. */
function arrayCells(bytes: Uint8Array): Set<string> {
  const { parts, sheets } = openWorkbook(bytes);
  return new Set(
    sheets.flatMap(({ name, part }) =>
      [...parts.text(part).matchAll(/<f t="array" ref="([^"]+)"/g)].flatMap(([, ref]) => {
        const { s: from, e: to } = utils.decode_range(ref!);
        return Array.from({ length: (to.r - from.r + 1) * (to.c - from.c + 1) }, (_, i) => {
          const width = to.c - from.c + 1;
          return `${name}!${utils.encode_cell({ r: from.r + Math.floor(i / width), c: from.c + (i % width) })}`;
        });
      }),
    ),
  );
}

describe("the example workbook", () => {
  it("has the demo's quote, list, shelf, plans, bid, proposal and audit", () => {
    expect([...stored.keys()]).toEqual([
      ...["Quote", "Past jobs", "Shelf", "Packing hall", "Cold store", "Shop", "Bid", "Proposal"],
      ...["Audit", "Audit jobs"],
    ]);
  });

  it("holds our calls as the spreadsheet program stores them, with their values", () => {
    const formulas = Object.entries(unzipped(made.workbook))
      .filter(([name]) => name.includes("worksheets/sheet"))
      .flatMap(([, xml]) => [...xml.matchAll(/<c ([^>]*)>(<f[^>]*>)([^<]*)<\/f>(<v>)?/g)])
      .filter(([, , , formula]) => formula!.includes("GRIT"));
    expect(formulas.length).toBeGreaterThan(50);
    for (const [cell, attributes, f, formula, value] of formulas) {
      expect(attributes, cell).toContain('cm="1"');
      expect(f, cell).toMatch(/^<f t="array" ref="[A-Z]+\d+(?::[A-Z]+\d+)?">$/);
      expect(formula, cell).toContain("_xldudf_GRIT_");
      expect(formula, cell).not.toContain("GRIT.");
      expect(value, cell).toBe("<v>");
    }
  });

  // It calculates array formulas whatever it is told, and our functions are not there; an empty text it takes for no value.
  it("opens in LibreOffice with every value that no array formula gives", () => {
    const arrays = arrayCells(made.workbook);
    const before = compared;
    expect(
      different(
        opened,
        (sheet, address) => stored.get(sheet)!.get(address) !== "" && !arrays.has(`${sheet}!${address}`),
      ),
    ).toEqual([]);
    expect(compared - before).toBeGreaterThan(700);
  });
});

describe("its plain copy", () => {
  it("has none of our functions, and the sheets that a copy has", () => {
    expect(JSON.stringify(read(made.plain, { cellFormula: true }).Sheets)).not.toMatch(/"f":"[^"]*GRIT/);
    expect([...calculated.keys()].slice(0, stored.size)).toEqual([...stored.keys()]);
    expect([...calculated.keys()]).toContain("About this copy");
  });

  it("has the same value in every cell when LibreOffice calculates it anew", () => {
    expect(different(calculated)).toEqual([]);
  });

  it("shows no error", () => {
    const errors = [...calculated].flatMap(([sheet, cells]) =>
      [...cells].filter(([, value]) => isError(value)).map(([address]) => `${sheet}!${address}`),
    );
    expect(errors).toEqual([]);
  });
});
