import { describe, expect, it } from "vitest";
import { CURRENT, isToRead, outOfDate, reading } from "../../../addin/pane/reads";
import { goToView, type State, unavailable, type View } from "../../../addin/pane/state";
import { doing } from "../../../addin/pane/texts";
import { openPane } from "./open-pane";

const ready = (): State => openPane().store.state;

describe("going to another view", () => {
  const inserted = { what: "Stage table written to Quote!B4", sheets: [], tables: [], names: [] };
  const left = (message: State["message"]) => goToView({ ...ready(), message, announcement: "Moved." }, "jobs");

  it("leaves behind what was only said", () => {
    const said = left({ kind: "done", text: "Floor area is taken from Quote!C5." });
    expect(said).toMatchObject({ view: "jobs", message: null, announcement: "" });
  });

  it("keeps an error, and what can be undone", () => {
    expect(left({ kind: "error", text: "Not inserted." }).message?.text).toBe("Not inserted.");
    expect(left({ kind: "done", text: "Written.", inserted }).message?.inserted).toBe(inserted);
  });

  it("that is already shown changes nothing", () => {
    const state: State = { ...ready(), message: { kind: "note", text: "Left as it was." } };
    expect(goToView(state, "plan")).toBe(state);
  });
});

describe("what stops every command", () => {
  it("is the host, then a running command, then an open question", () => {
    const question = { what: "", question: "", yes: () => undefined };
    const busy = doing("undoing", "undo");
    expect(unavailable(ready())).toBe("");
    expect(unavailable({ ...ready(), question })).toBe("Answer the question first.");
    expect(unavailable({ ...ready(), busy, question })).toBe("Undoing…");
    expect(unavailable({ ...ready(), host: "absent", busy })).toContain("no workbook");
  });
});

describe("what a view shows of the workbook", () => {
  it("may be out of date when the plan or the sheets to share come into view again, but not otherwise", () => {
    const seen = {
      ...ready(),
      reads: { plan: CURRENT, bid: CURRENT, functions: CURRENT, jobs: CURRENT, share: CURRENT },
    };
    const dueIn = (view: View) => goToView({ ...seen, view: view === "jobs" ? "share" : "jobs" }, view).reads[view].due;
    expect([dueIn("plan"), dueIn("share"), dueIn("functions"), dueIn("jobs")]).toEqual([true, true, false, false]);
    // A plan may have been inserted since.
    expect(dueIn("bid")).toBe(true);
  });

  it("is read again after a read during which it may have become out of date", async () => {
    const { store } = openPane();
    let end: () => void = () => undefined;
    const read = reading(store, "plan", () => new Promise<void>((resolve) => (end = resolve)));
    store.change((state) => outOfDate(state, "plan"));
    expect(isToRead(store.state.reads.plan)).toBe(false);
    end();
    await read;
    expect(isToRead(store.state.reads.plan)).toBe(true);
    await expect(reading(store, "plan", () => Promise.reject(new Error("No answer")))).rejects.toThrow("No answer");
    expect(store.state.reads.plan).toEqual(CURRENT);
  });
});

describe("a view whose code could not be loaded", () => {
  it("is loaded anew when it is gone to again", () => {
    const failed: State = { ...ready(), code: { ...ready().code, jobs: "failed" } };
    expect(goToView(failed, "jobs").code.jobs).toBe("due");
  });
});
