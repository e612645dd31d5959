/** The command that checks this installation: over the headless host, and what becomes of its report. */
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { noConditions } from "../../../../addin/preview/host/conditions";
import { FUNCTIONS } from "../../../../functions/topics";
import { openGritForEach, workbook } from "../../sheet/workbook";
import { openPane } from "../open-pane";

vi.setConfig({ testTimeout: 120_000 });

openGritForEach();
beforeEach(() => {
  vi.stubGlobal("gritledgerFunctions", FUNCTIONS);
});
afterEach(() => {
  vi.unstubAllGlobals();
});

const REPORT = { digest: "2 held, 0 differ, 0 can't be tried here", isWell: true, text: "the report" };

describe("checking this installation", () => {
  it("leaves its report, with what only a page can try told apart where there is none", async () => {
    const { store, commands } = openPane();
    await commands.installation.check();
    const { report, progress } = store.state.functions.installation;
    expect(progress).toBeNull();
    expect(report?.isWell).toBe(false);
    // Outside a page there is no storage, and no worker.
    expect(report?.text).toMatch(
      /\nDiffers\n- [^\n]*\(storage\): expected stored, got error: [^\n]*\n\nCan't be tried/,
    );
    expect(report?.text).toMatch(/\(worker\): there are no workers here/);
    expect(store.state.message).toEqual({ kind: "note", text: `${report!.digest}.` });
  });

  it("says plainly why it can't, and leaves no report", async () => {
    workbook.host.model.readOnly = true;
    const { store, commands } = openPane();
    await commands.installation.check();
    expect(store.state.functions.installation.report).toBeNull();
    expect(store.state.message).toMatchObject({ kind: "error", text: expect.stringMatching(/open for reading only/) });
    Object.assign(workbook.host.model, { readOnly: false, conditions: noConditions() });
  });
});

describe("the report", () => {
  const withReport = () => {
    const pane = openPane();
    const { functions } = pane.store.state;
    pane.store.change((state) => ({
      ...state,
      functions: { ...functions, installation: { report: REPORT, progress: null } },
    }));
    return pane;
  };

  it("is copied as text", async () => {
    const writeText = vi.fn(async (_text: string) => undefined);
    vi.stubGlobal("navigator", { clipboard: { writeText } });
    const { store, commands } = withReport();
    await commands.installation.copy();
    expect(writeText).toHaveBeenCalledWith("the report");
    expect(store.state.message).toEqual({ kind: "done", text: "Report copied.", inserted: undefined });
  });

  it("is to be copied by hand where the page may not, or where it has no clipboard", async () => {
    const refused = { clipboard: { writeText: () => Promise.reject(new Error("not allowed")) } };
    for (const navigator of [refused, {}]) {
      vi.stubGlobal("navigator", navigator);
      const { store, commands } = withReport();
      await commands.installation.copy();
      expect(store.state.message).toMatchObject({
        kind: "error",
        text: "Couldn't copy the report. Select its text and copy it by hand.",
      });
    }
  });
});
