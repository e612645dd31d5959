/**
 * Mohs hardness, the anchors of a scratch test: a slab that a point of hardness 5 scratches and one of 4 does not lies between.
 * An order, not a measure: two readings cannot be averaged.
 * Source: the Mohs scale of minerals as printed in the New World Encyclopedia (seen; a second copy agrees).
 */
interface HardnessAnchor {
  readonly hardness: number;
  readonly name: string;
}

export const MOHS_MINERALS: readonly HardnessAnchor[] = [
  { hardness: 1, name: "talc" },
  { hardness: 2, name: "gypsum" },
  { hardness: 3, name: "calcite" },
  { hardness: 4, name: "fluorite" },
  { hardness: 5, name: "apatite" },
  { hardness: 6, name: "orthoclase" },
  { hardness: 7, name: "quartz" },
  { hardness: 8, name: "topaz" },
  { hardness: 9, name: "corundum" },
  { hardness: 10, name: "diamond" },
];

/** Everyday things to scratch with; a half means between two minerals. */
export const EVERYDAY_ANCHORS: readonly HardnessAnchor[] = [
  { hardness: 2.5, name: "fingernail" },
  { hardness: 3.5, name: "copper coin" },
  { hardness: 5.5, name: "knife blade" },
  { hardness: 6.5, name: "glass" },
];
