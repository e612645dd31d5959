/** On the web a trip to the spreadsheet program and back takes tens to hundreds of milliseconds: commands take few. */
import { beforeAll, expect, it, vi } from "vitest";
import { allTrips, type Trips } from "./trips";
import held from "./trips.json" with { type: "json" };

vi.setConfig({ hookTimeout: 300_000 });

/** The most that issue 11 allows. */
const TARGETS: readonly (readonly [name: RegExp, most: Partial<Trips>])[] = [
  [/^a plan (?!.*: undone$)/, { syncs: 8, actions: 700 }],
  [/: undone$/, { syncs: 6 }],
  [/^an audit(?!.*: undone$)/, { syncs: 8 }],
  [/^a list .* checked$/, { syncs: 3 }],
];

let trips: Readonly<Record<string, Trips>>;
beforeAll(async () => {
  trips = await allTrips();
});

it("every command that is counted has its trips held", () => {
  expect(Object.keys(trips).sort()).toEqual(Object.keys(held).sort());
});

it.each(Object.entries(held))("no more trips than before: %s", (name, { syncs, actions }) => {
  expect(trips[name]!.syncs).toBeLessThanOrEqual(syncs);
  expect(trips[name]!.actions).toBeLessThanOrEqual(actions);
});

it.each(TARGETS)("the targets are met by %s", (name, { syncs = Infinity, actions = Infinity }) => {
  const counted = Object.entries(trips).filter(([command]) => name.test(command));
  expect(counted.length).toBeGreaterThan(0);
  for (const [command, found] of counted) {
    expect(found.syncs, command).toBeLessThanOrEqual(syncs);
    expect(found.actions, command).toBeLessThanOrEqual(actions);
  }
});
