/**
 * Concrete surface profiles and the profile a coating asks for.
 * Source: ICRI 310.2R-2013 (before: 03732). Its title and the range CSP 1 to 10 were seen; the names, the classes and
 * their profiles are from memory, so the coating maker's data sheet comes first.
 */

/** The replica chips by number, CSP 1 (nearly flat) to CSP 10 (very rough); from memory. */
export const PROFILE_NAMES: readonly string[] = [
  "acid etched",
  "grinding",
  "light shotblast",
  "light scarification",
  "medium shotblast",
  "medium scarification",
  "heavy abrasive blast",
  "scabbled",
  "heavy scarification",
  "concrete breaker and abrasive blast",
];

/** The profiles that grinding can leave; a rougher one needs another method. From memory. */
export const GRINDING_PROFILES = { least: 1, most: 3 } as const;

interface CoatingClass {
  readonly name: string;
  /** Thickest film of the class, in mil; the class begins above the one before. */
  readonly upToMil: number;
  readonly leastProfile: number;
  readonly mostProfile: number;
}

/**
 * What a film of some thickness asks for; from memory.
 * The published classes leave gaps (3 to 4 mil, 40 to 50 mil). We close them towards the thicker class, whose profile
 * is never the smoother one: too smooth a floor lets a film go, too rough a one only takes more material.
 * A thickness on the border of two classes (10 mil, 1/8 in, 1/4 in) belongs to the thinner.
 */
export const COATING_CLASSES: readonly CoatingClass[] = [
  { name: "sealer", upToMil: 3, leastProfile: 1, mostProfile: 3 },
  { name: "thin film", upToMil: 10, leastProfile: 1, mostProfile: 3 },
  { name: "high-build coating", upToMil: 40, leastProfile: 3, mostProfile: 5 },
  { name: "self-leveling topping", upToMil: 125, leastProfile: 4, mostProfile: 6 },
  { name: "polymer overlay", upToMil: 250, leastProfile: 5, mostProfile: 9 },
  { name: "concrete overlay or repair", upToMil: Number.POSITIVE_INFINITY, leastProfile: 5, mostProfile: 10 },
];

/** The class of a film this thick. */
export const coatingClass = (filmMil: number): CoatingClass => COATING_CLASSES.find((c) => filmMil <= c.upToMil)!;

/** Whether grinding alone can leave a profile that suits this coating. */
export const grindingSuits = (coating: CoatingClass): boolean => coating.leastProfile <= GRINDING_PROFILES.most;
