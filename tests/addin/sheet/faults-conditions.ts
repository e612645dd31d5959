/** What a workbook is put through in the tests of faults, and how it is looked at. */
import { vi } from "vitest";
import { type Conditions, noConditions } from "../../../addin/preview/host/conditions";
import { snapshot, workbook } from "./workbook";

export const inExcel = (work: (book: Excel.Workbook, context: Excel.RequestContext) => unknown) =>
  Excel.run(async (context) => {
    await work(context.workbook, context);
    await context.sync();
  });

/** A workbook that can only be looked at; ends with how often it was asked to change. */
function denied(): () => number {
  let asked = 0;
  const process = workbook.host.process.bind(workbook.host);
  const WRITES = /^(Add|Clear|Delete|Insert|ConvertToRange|SetCellProperties)$/;
  const mock = vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
    const { Actions, ObjectPaths } = body as any;
    const changes = (Actions as any[]).some(({ ActionType, Name }) => ActionType === 4 || WRITES.test(Name ?? ""));
    const adds = Object.values<any>(ObjectPaths).some(({ Name }) => WRITES.test(Name ?? ""));
    if (!changes && !adds) return process(body);
    asked++;
    const answer = { Code: "AccessDenied", Message: "You cannot do this.", Location: "", HttpStatusCode: 403 };
    return { Error: { ...answer, ActionIndex: 0 }, Results: [] } as any;
  });
  return () => {
    mock.mockRestore();
    return asked;
  };
}

/** The workbook says that it is open for reading only; ends with how often a change was asked of it all the same. */
export function readOnly(): () => number {
  const { model } = workbook.host;
  model.readOnly = true;
  const end = denied();
  return () => {
    model.readOnly = false;
    return end();
  };
}

/** The host in another condition, until that is ended. */
export async function inCondition(condition: Partial<Conditions>): Promise<() => void> {
  const { conditions } = workbook.host.model;
  Object.assign(conditions, condition);
  return () => Object.assign(conditions, noConditions());
}

/** The workbook, looked at in a host that refuses nothing. */
export async function look(): Promise<unknown> {
  const { conditions } = workbook.host.model;
  const kept = { ...conditions };
  Object.assign(conditions, noConditions());
  const seen = await snapshot();
  Object.assign(conditions, kept);
  return seen;
}

/** Calls back before each request but the first, as whatever happens in the workbook meanwhile does. */
export function betweenRequests(happen: (n: number) => void): () => void {
  const process = workbook.host.process.bind(workbook.host);
  let n = 0;
  const mock = vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
    if (n > 0) happen(n);
    n++;
    return process(body);
  });
  return () => mock.mockRestore();
}

export const sheetId = (name: string) => workbook.engine.sheetIdOf(name)!;

export async function names() {
  const { sheets, names } = (await snapshot()) as any;
  return { sheets: sheets.map(({ name }: any) => name), names };
}

// 31 characters, as many as a sheet's name may have.
export const LONG_NAMES = [
  "O'Brien’s “jobs” 2024 & others 1",
  "עבודות שנגמרו 😀 שנה שעברה כולן",
  "=SUM(1,2)-3+4@5#6$7%8^9&10 12345",
  "It''s a sheet with two quotes 12345",
  "Straße, größer als 100 m² — 2026",
].map((name) => name.slice(0, 31));
