import { recordFunctions } from "../../../addin/preview/host/functions";
import { insertPlan } from "../../../addin/sheet";
import { startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterShelf } from "../../../functions/plan/shelf";
import { openGrit } from "../sheet/workbook";

(globalThis as any).CustomFunctions = recordFunctions().global;
const inputs = { ...startInputs("us"), jobName: "Bakery", length: 84, width: 50, area: 4200 };
const shelf = starterShelf("us");
const { stages } = propose(inputs as any, shelf);
for (let i = 0; i < 6; i++) {
  let t = performance.now();
  const wb = await openGrit();
  const t1 = performance.now() - t;
  t = performance.now();
  const acc: Record<string, number> = {};
  const wrap = (o: any, k: string, name: string) => {
    const f = o[k].bind(o);
    o[k] = (...a: any[]) => {
      const t = performance.now();
      const r = f(...a);
      if (r?.then)
        return r.finally(() => {
          acc[name] = (acc[name] ?? 0) + performance.now() - t;
        });
      acc[name] = (acc[name] ?? 0) + performance.now() - t;
      return r;
    };
  };
  const E: any = wb.engine;
  wrap(E, "flush", "flush");
  wrap(E.calculation, "settle", "calc");
  wrap(E.calculation, "resolved", "resolved");
  wrap(E.calculation, "queueChangedMeanings", "queueChanged");
  wrap(E, "enter", "enter");
  wrap(E.calculation, "start", "start");
  await insertPlan({ inputs, links: {}, stages, shelf } as any, "new sheet");
  console.log(
    Math.round(t1),
    Math.round(performance.now() - t),
    JSON.stringify(Object.fromEntries(Object.entries(acc).map(([k, v]) => [k, Math.round(v)]))),
  );
  await wb.dispose();
}
