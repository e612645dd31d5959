/**
 * Classes of aggregate exposure of a polished concrete floor.
 * Source: ASCC Concrete Polishing Council chart as revised in November 2017, seen in a trade press report: three classes by
 * the share of the surface, no depths. The older chart (CPAA, seen on a page restating it) had four classes with approximate
 * depths of cut: A below 1/16 in, B 1/16 in, C medium 1/8 in, D large 1/4 in.
 */
interface ExposureClass {
  readonly letter: "A" | "B" | "C";
  readonly name: string;
  /** What the surface shows, as shares of it. */
  readonly surface: string;
  /**
   * Planning default only: depth of cut in µm, from and to, of the older chart.
   * Its medium and large classes are both put with today's C, which is our reading.
   */
  readonly olderCut: readonly [least: number, most: number];
}

const SIXTEENTH_INCH = 1587.5; // µm

export const EXPOSURE_CLASSES: readonly ExposureClass[] = [
  {
    letter: "A",
    name: "cement fines",
    surface: "85–95% cement fines, 5–15% fine aggregate",
    olderCut: [0, SIXTEENTH_INCH],
  },
  {
    letter: "B",
    name: "fine aggregate",
    surface: "85–95% fine aggregate, 5–15% blend of cement fines and coarse aggregate",
    olderCut: [SIXTEENTH_INCH, SIXTEENTH_INCH],
  },
  {
    letter: "C",
    name: "coarse aggregate",
    surface: "80–90% coarse aggregate, 10–20% blend of cement fines and fine aggregate",
    olderCut: [2 * SIXTEENTH_INCH, 4 * SIXTEENTH_INCH],
  },
];
