/**
 * Classes of aggregate exposure of a polished concrete floor.
 * Source: ASCC Concrete Polishing Council chart as revised in November 2017, seen in a trade press report: three classes by
 * the share of the surface, no depths. The older chart (CPAA, seen on a page restating it) had four classes with approximate
 * depths of cut (A below 1/16 in, B 1/16 in, C medium 1/8 in, D large 1/4 in), which the revision withdrew: what depth
 * shows an aggregate depends on the slab.
 */
interface ExposureClass {
  readonly letter: "A" | "B" | "C";
  readonly name: string;
  /** What the surface shows, as shares of it. */
  readonly surface: string;
  /**
   * Depth of cut to start a plan from, and its usual range, µm. Common practice, no source: a test strip or a mock-up
   * decides. The literature has the cement skin about 0.1 mm thick and the mortar skin about 5 mm (P. C. Kreijger, "The
   * skin of concrete", Materials and Structures 17, 1984), so sand shows within tenths of a millimeter and stone within
   * millimeters.
   */
  readonly usualCut: number;
  readonly usualRange: readonly [least: number, most: number];
}

const EXPOSURE_CLASSES: readonly ExposureClass[] = [
  {
    letter: "A",
    name: "cement fines",
    surface: "85–95% cement fines, 5–15% fine aggregate",
    usualCut: 100,
    usualRange: [50, 200],
  },
  {
    letter: "B",
    name: "fine aggregate",
    surface: "85–95% fine aggregate, 5–15% blend of cement fines and coarse aggregate",
    usualCut: 500,
    usualRange: [300, 900],
  },
  {
    letter: "C",
    name: "coarse aggregate",
    surface: "80–90% coarse aggregate, 10–20% blend of cement fines and fine aggregate",
    usualCut: 3200,
    usualRange: [2400, 6400],
  },
];

export const exposureClass = (letter: string): ExposureClass => EXPOSURE_CLASSES.find((c) => c.letter === letter)!;
