/** What a plan asks about the crew's dust, noise and vibration. */
import { ABOVE_0, type Domain, FROM_0 } from "../../domain";
import { HOURS, LEVEL } from "../../exposure";
import { both, type Field } from "../field";

/** No air measures 0: a blank says that it was not measured. */
const DUST: Domain = { ...ABOVE_0, words: "above 0 (leave it blank if not measured)" };
/** Beside what is not known of the crew's exposure nothing is calculated. */
const NOT_GIVEN = "not given";

export const EXPOSURE_FIELDS = {
  handHours: {
    kind: "number",
    name: "Crew_HandHours",
    group: "exposure",
    label: "Hours with hand tools",
    note: "One person's busiest day; 0 if none",
    domain: HOURS,
    unit: "h",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  machineHours: {
    kind: "number",
    name: "Crew_MachineHours",
    group: "exposure",
    label: "Hours at the machine",
    note: "Same person, same day; 0 if none",
    domain: HOURS,
    unit: "h",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  handVibration: {
    kind: "number",
    name: "Crew_HandVibration",
    group: "exposure",
    label: "Hand-tool vibration",
    note: "From its plate or the manufacturer's data sheet",
    domain: ABOVE_0,
    unit: "m/s²",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  machineVibration: {
    kind: "number",
    name: "Crew_MachineVibration",
    group: "exposure",
    label: "Machine vibration",
    note: "At the handle; 0 if nobody holds the handle",
    domain: FROM_0,
    unit: "m/s²",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  handNoise: {
    kind: "number",
    name: "Crew_HandNoise",
    group: "exposure",
    label: "Hand-tool noise",
    note: "At the ear, measured or from the data sheet",
    domain: LEVEL,
    unit: "dBA",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  machineNoise: {
    kind: "number",
    name: "Crew_MachineNoise",
    group: "exposure",
    label: "Machine noise",
    note: "At the ear, measured or from the data sheet",
    domain: LEVEL,
    unit: "dBA",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  dust: {
    kind: "number",
    name: "Crew_Dust",
    group: "exposure",
    label: "Measured silica dust",
    note: "Respirable crystalline silica in the air people breathe",
    domain: DUST,
    unit: "µg/m³",
    // Less than samplers find; 0.1 is most often meant as mg/m³ (common practice, no source).
    usualLeast: 1,
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  dustHours: {
    kind: "number",
    name: "Crew_DustHours",
    group: "exposure",
    label: "Hours at that dust level",
    note: "Per day, 0 if none; other hours count as dust-free",
    domain: HOURS,
    unit: "h",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
  shroudDiameter: {
    kind: "number",
    name: "Crew_Shroud",
    group: "exposure",
    label: "Shrouded wheel diameter",
    note: "Hand grinder used dry; 0 if none",
    domain: FROM_0,
    quantity: "toolSize",
    start: both(null),
    blankMeans: NOT_GIVEN,
  },
} as const satisfies Record<string, Field>;
