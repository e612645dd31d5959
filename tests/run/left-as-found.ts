/** Test files share a worker's modules and globals: what one has replaced is put back before the next begins. */
import { afterAll, vi } from "vitest";

afterAll(() => {
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
  vi.useRealTimers();
  vi.resetConfig();
});
