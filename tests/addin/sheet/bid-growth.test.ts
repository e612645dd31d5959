/** A bid of many floors goes to the spreadsheet program and back as often as one of few. */
import { expect, it, vi } from "vitest";
import { insertBid, readBid, undo, updateBid } from "../../../addin/sheet";
import { handWorkedChoice } from "./hand-worked-bid";
import { addLightPlans, addLightShelf } from "./light-plans";
import { type GritWorkbook, openGrit } from "./workbook";

vi.setConfig({ testTimeout: 60_000 });

async function syncsOf({ host }: GritWorkbook, work: () => Promise<unknown>): Promise<number> {
  const process = vi.spyOn(host, "process");
  await work();
  const { length } = process.mock.calls;
  process.mockRestore();
  return length;
}

async function trips(floors: number) {
  const workbook = await openGrit();
  try {
    await addLightShelf();
    await addLightPlans(
      Array.from({ length: floors }, (_, i) => ({
        ...{ floor: `Floor ${i + 1}`, area: 400, hours: 2, waits: 0, stageCost: 300, crewCost: 100, dust: 9, power: 0 },
        uses: { "Metal 30": 0.1, Densifier: 2 },
      })),
    );
    const choice = await handWorkedChoice();
    const insert = await syncsOf(workbook, () => insertBid({ ...choice, floors: choice.floors.slice(1) }));
    const read = await syncsOf(workbook, readBid);
    let inserted: Awaited<ReturnType<typeof updateBid>> | undefined;
    const update = await syncsOf(workbook, async () => {
      inserted = await updateBid(choice);
    });
    const undone = await syncsOf(workbook, () => undo(inserted!));
    return { insert, read, update, undone };
  } finally {
    await workbook.dispose();
  }
}

it("takes as many trips for 30 floors as for 3", async () => {
  const few = await trips(3);
  expect(await trips(30)).toEqual(few);
  expect(few.insert).toBeLessThanOrEqual(8);
  expect(few.read).toBeLessThanOrEqual(8);
  expect(few.undone).toBeLessThanOrEqual(6);
});
