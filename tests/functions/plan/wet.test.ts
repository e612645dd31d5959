/** Wet work changes a tool's speed and life only where the shelf says so. */
import { describe, expect } from "vitest";
import { estimate } from "../../../functions/plan/estimate";
import type { Tool } from "../../../functions/plan/shelf";
import { expectClose, reference } from "../../helpers";
import { inputs, shelf, stages, tool } from "./fixtures";

const firstRow = (grinding: "dry" | "wet", over: Partial<Tool>) =>
  estimate({ ...inputs, grinding }, { ...shelf, tools: [tool("M30", over)] }, [stages[0]]).rows[0]!;

describe("wet work", () => {
  reference(
    "takes the shelf's speed and life factors",
    "hand: 3200 ft² twice at 2 × 20 × 60 × 0.8 × 0.8 = 1536 ft²/h; 6400 over 10000 × 1.25 at 500",
    () => {
      const row = firstRow("wet", { wetSpeed: 0.8, wetLife: 1.25 });
      expectClose(row.machineHours, 6400 / 1536);
      expectClose(row.setsUsed, 0.512);
      expectClose(row.parts.tooling, 256);
    },
  );

  reference(
    "is as dry work where a factor is blank, and the factors leave dry work alone",
    "hand: 6400 ft² at 1920 ft²/h, 6400 over 10000 at 500",
    () => {
      for (const row of [firstRow("wet", {}), firstRow("dry", { wetSpeed: 0.8, wetLife: 1.25 })]) {
        expectClose(row.machineHours, 6400 / 1920);
        expect(row.setsUsed).toBe(0.64);
        expect(row.parts.tooling).toBe(320);
      }
    },
  );
});
