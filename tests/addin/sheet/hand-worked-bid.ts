/** The bid worked by hand (tests/functions/bid/hand-worked.ts), over plans on sheets that have its figures. */
import { type BidChoice, insertBid } from "../../../addin/sheet";
import { findPlans } from "../../../addin/sheet/plans";
import { FLOORS, JOB } from "../../functions/bid/hand-worked";
import { addLightPlans, addLightShelf } from "./light-plans";

/** What containers opened floor by floor cost beyond what is used: 0.2, 0.4 and 0.2 pails of 200. */
const WHOLE = [40, 80, 40];

const JOINTS = {
  ...{ name: "Joints", kind: "base", quantity: 100, unit: "ft", crewHours: 0.02, material: 2, waste: 0.1 },
  words: "Joints filled",
};

export async function handWorkedPlans(): Promise<void> {
  await addLightShelf();
  await addLightPlans(FLOORS.map((floor, i) => ({ ...floor, stageCost: floor.directCost + WHOLE[i]! })));
}

/** A floor that comes later, with a liquid that the bid doesn't buy yet. */
export const addAnnex = () =>
  addLightPlans(
    [{ ...FLOORS[1]!, floor: "Annex", stageCost: 900, uses: { "Metal 30": 0.5, Guard: 1 } }],
    FLOORS.length,
  );

/** Every plan of the workbook as the hand-worked bid has it, in their order; others are base. */
export async function handWorkedChoice(): Promise<BidChoice> {
  const plans = await Excel.run(findPlans);
  return {
    job: JOB,
    floors: plans.map(({ sheetId }, i) => ({ sheetId, kind: FLOORS[i]?.kind ?? "base", order: i + 1 })),
    extras: [JOINTS],
  };
}

export const insertHandWorked = async () => insertBid(await handWorkedChoice());
