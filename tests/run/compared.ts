/** Cells that a test file compared with another program's; the run's summary adds them up. */
import { afterAll } from "vitest";

declare module "vitest" {
  interface TaskMeta {
    compared?: Readonly<Record<string, number>>;
  }
}

/** To be called once a file. `count` is asked when its tests are done. */
export function reportCompared(what: string, count: () => number): void {
  // biome-ignore lint/correctness/noEmptyPattern: Vitest reads the fixtures that a hook asks for out of its parameters.
  afterAll(({}, suite) => {
    suite.file.meta.compared = { [what]: count() };
  });
}
