/** How many syncs and actions each command takes. On the web a sync takes tens to hundreds of milliseconds. */
import { it } from "vitest";
import { allTrips, paneTrips } from "../addin/sheet/trips";
import { report, table } from "./measure";

it("counts the trips to the spreadsheet program and back", async () => {
  const rows = Object.entries({ ...(await allTrips()), ...(await paneTrips()) }).map(([name, { syncs, actions }]) => [
    name,
    syncs,
    actions,
  ]);
  report("Trips", table(["command", "syncs", "actions"], rows));
});
