/** What a calculating copy leaves out besides formulas: this add-in's pane, a signature, the list of sheets; and nothing else. */
import { describe, expect, it } from "vitest";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { COPIES } from "../../../manifest/facts.mjs";
import { bookParts, leads, type Parts, sheet, unzipped, zipped } from "./copy-files";

const OURS = COPIES.released.id;
const OTHER = "11111111-2222-3333-4444-555555555555";
const WEB = "http://schemas.microsoft.com/office/2011/relationships";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships";

const extension = (id: string, settings = "", snapshot = "") =>
  `<we:webextension xmlns:we="http://schemas.microsoft.com/office/webextensions/webextension/2010/11" id="{A}"><we:reference id="${id}" version="1.0" store="developer" storeType="Registry"/><we:alternateReferences/><we:properties>${settings}</we:properties><we:bindings/>${snapshot}</we:webextension>`;
const panes = (count: number) =>
  `<wetp:taskpanes xmlns:wetp="http://schemas.microsoft.com/office/webextensions/taskpanes/2010/11">${Array.from(
    { length: count },
    (_, i) =>
      `<wetp:taskpane dockstate="right" visibility="1" width="350" row="${i}"><wetp:webextensionref xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" r:id="rId${i + 1}"/></wetp:taskpane>`,
  ).join("")}</wetp:taskpanes>`;

/** A workbook that opens these add-ins' panes. */
function withPanes(...extensions: string[]): Parts {
  const files = extensions.map((_, i) => `xl/webextensions/webextension${i + 1}.xml`);
  return bookParts({
    sheets: { Plan: sheet('<row r="1"><c r="A1"><v>1</v></c></row>') },
    rootLeads: [{ type: `${WEB}/webextensiontaskpanes`, target: "xl/webextensions/taskpanes.xml" }],
    types: {
      "xl/webextensions/taskpanes.xml": "application/vnd.ms-office.webextensiontaskpanes+xml",
      ...Object.fromEntries(files.map((file) => [file, "application/vnd.ms-office.webextension+xml"])),
    },
    parts: {
      "xl/webextensions/taskpanes.xml": panes(extensions.length),
      "xl/webextensions/_rels/taskpanes.xml.rels": leads(
        files.map((file) => ({ type: `${WEB}/webextension`, target: file.replace("xl/webextensions/", "") })),
      ),
      ...Object.fromEntries(files.map((file, i) => [file, extensions[i]!])),
    },
  });
}

const copyOf = (parts: Parts, addInIds: readonly string[] = [OURS]) => {
  const options = { functions: [], version: "1", date: "today", units: "US units", cautions: [], addInIds };
  const { bytes, report } = calculatingCopy(zipped(parts), options);
  return { parts: unzipped(bytes), report };
};

describe("the task pane of the add-in", () => {
  it("is gone with its settings, its picture and every lead to it", () => {
    const before = withPanes(extension(`{${OURS.toUpperCase()}}`, "", '<we:snapshot r:embed="rId1"/>'));
    before["xl/webextensions/_rels/webextension1.xml.rels"] = leads([{ type: "image", target: "../media/image1.png" }]);
    before["xl/media/image1.png"] = "png";
    const { parts, report } = copyOf(before);
    expect(Object.keys(parts).filter((name) => /webextension|media/.test(name))).toEqual([]);
    expect(JSON.stringify(parts)).not.toMatch(/webextension/i);
    expect(report.removed.map(({ text }) => text)).toEqual(["this add-in's task pane and settings"]);
    const note = parts["xl/worksheets/sheet2.xml"];
    expect(note).toContain("this add-in's task pane and settings");
  });

  it("is known by a setting of ours where its id is another", () => {
    const { parts } = copyOf(withPanes(extension(OTHER, '<we:property name="Gritledger.jobs" value="{}"/>')));
    expect(JSON.stringify(parts)).not.toMatch(/webextension/i);
  });

  // office-platform.md: a store install has another id, and its part lists the functions.
  it.each([
    ["_xldudf_GRIT_SIZE,_xldudf_GRIT_NEAREST", true],
    ["_xldudf_OTHER_SUM _xldudf_GRIT_SIZE", true],
    ["_xldudf_OTHER_GRIT_SIZE", false],
    ["_xldudf_MY_xldudf_GRIT_SIZE", false],
  ])("is known by its functions where its id is another: %s", (functions, isOurs) => {
    const list = `<we:extLst><a:ext xmlns:a="a"><we:customFunctionIds>${functions}</we:customFunctionIds></a:ext></we:extLst>`;
    const { parts } = copyOf(withPanes(extension(OTHER, "", list)));
    expect(/webextension/i.test(JSON.stringify(parts))).toBe(!isOurs);
  });

  it("of another add-in stays, byte for byte, and beside ours too", () => {
    const alone = withPanes(extension(OTHER));
    const kept = copyOf(alone);
    for (const name of Object.keys(alone).filter((name) => name.includes("webext"))) {
      expect(kept.parts[name]).toBe(alone[name]);
    }
    expect(kept.report.removed).toEqual([]);

    const both = copyOf(withPanes(extension(OURS), extension(OTHER)));
    expect(both.parts["xl/webextensions/webextension1.xml"]).toBeUndefined();
    expect(both.parts["xl/webextensions/webextension2.xml"]).toBe(extension(OTHER));
    expect(both.parts["xl/webextensions/taskpanes.xml"]!.match(/r:id="[^"]*"/g)).toEqual(['r:id="rId2"']);
    expect(both.parts["xl/webextensions/_rels/taskpanes.xml.rels"]).not.toContain("webextension1");
    expect(both.parts["_rels/.rels"]).toContain("taskpanes.xml");
  });

  it("leaves a picture that something else shows too", () => {
    const before = withPanes(extension(OURS));
    before["xl/webextensions/_rels/webextension1.xml.rels"] = leads([{ type: "image", target: "../media/image1.png" }]);
    before["xl/drawings/_rels/drawing1.xml.rels"] = leads([{ type: "image", target: "../media/image1.png" }]);
    before["xl/drawings/drawing1.xml"] = "<d/>";
    before["xl/media/image1.png"] = "png";
    expect(copyOf(before).parts["xl/media/image1.png"]).toBe("png");
  });
});

describe("a digital signature", () => {
  it("is gone, for it would be found broken, and the report says so", () => {
    const signed = bookParts({
      sheets: { Plan: sheet("") },
      rootLeads: [{ type: `${PACKAGE}/digital-signature/origin`, target: "_xmlsignatures/origin.sigs" }],
      types: { "_xmlsignatures/sig1.xml": "application/vnd.openxmlformats-package.digital-signature-xmlsignature+xml" },
      parts: {
        "_xmlsignatures/origin.sigs": "",
        "_xmlsignatures/_rels/origin.sigs.rels": leads([
          { type: `${PACKAGE}/digital-signature/signature`, target: "sig1.xml" },
        ]),
        "_xmlsignatures/sig1.xml": "<Signature/>",
      },
    });
    const { parts, report } = copyOf(signed);
    expect(JSON.stringify(parts)).not.toMatch(/xmlsignatures|sig1/);
    expect(report.removed.map(({ text }) => text)).toEqual([
      "the digital signature, which isn't valid for a changed workbook",
    ]);
  });
});

describe("the list of sheets in the document's properties", () => {
  it("is gone, and the rest of them stays", () => {
    const app =
      '<Properties xmlns:vt="v"><Application>Microsoft Excel</Application><HeadingPairs><vt:vector size="2" baseType="variant"><vt:variant><vt:lpstr>Worksheets</vt:lpstr></vt:variant></vt:vector></HeadingPairs><TitlesOfParts><vt:vector size="1" baseType="lpstr"><vt:lpstr>Plan</vt:lpstr></vt:vector></TitlesOfParts><Company>Floors</Company></Properties>';
    const before = bookParts({
      sheets: { Plan: sheet("") },
      rootLeads: [{ type: "extended-properties", target: "docProps/app.xml" }],
      parts: { "docProps/app.xml": app },
    });
    const { parts, report } = copyOf(before);
    expect(parts["docProps/app.xml"]).toBe(
      '<Properties xmlns:vt="v"><Application>Microsoft Excel</Application><Company>Floors</Company></Properties>',
    );
    expect(report.removed).toEqual([]);
  });
});
