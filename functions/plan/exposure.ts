/**
 * One person's day on the job, beside the exposure values it is compared with. The lines and their words stand here
 * once: the pane works them out on plain numbers, the sheet has the same arithmetic in formulas.
 */
import { isWithin } from "../domain";
import { dailyVibration, hoursUntil, permittedHours, REFERENCE_HOURS, shroudAirflow } from "../exposure";
import { HOURS_IN_A_DAY, NIOSH_NOISE, OSHA_NOISE, SILICA_LIMITS, VIBRATION_LIMITS } from "../tables/exposure-limits";
import { type System, symbol } from "../units";
import type { NumberField } from "./field";
import { FIELDS, type Key } from "./fields";
import type { Inputs } from "./inputs";
import type { Problems } from "./problems";

export const EXPOSURE_CAUTION =
  "Planning figures, not a permission: local law, manufacturers' instructions and a licensed professional come first.";

/** What stands where no number can. */
export const INSTEAD = {
  notGiven: "not given",
  wrong: "check the inputs",
  tooLong: "too many hours",
  still: "no vibration",
  noWheel: "no wheel",
} as const;

export const VERDICTS = {
  belowAction: "below the action value",
  fromAction: "at or above the action value",
  aboveLimit: "above the limit",
  belowLimit: "below the limit",
  fromLimit: "at or above the limit",
  inADay: "within a day",
  longerThanADay: "longer than a day",
} as const;

/** Added to the verdict on OSHA's dose: the sum counts every level, the rule does not. */
export const OSHA_REMARKS = {
  aboveCeiling: `; OSHA allows at most 15 minutes at ${OSHA_NOISE.ceiling} dBA and nothing above it`,
  belowLimitFrom: `; levels below ${OSHA_NOISE.limitFrom} dBA are counted here, but OSHA leaves them out of its limit`,
} as const;

/** The inputs of this group, all of them numbers. */
export type ExposureInput = {
  [K in Key]: (typeof FIELDS)[K]["group"] extends "exposure" ? K : never;
}[Key];

export const exposureInput = (key: ExposureInput): NumberField => FIELDS[key];

/** Shown beside a figure that this input keeps from being calculated. */
export const wrongWords = (key: ExposureInput): string => {
  const { label, domain } = exposureInput(key);
  return `${label} must be ${domain.words}`;
};

interface Line {
  readonly label: string;
  readonly unit: (units: System) => string;
  readonly action?: number;
  readonly limit?: number;
  /** The inputs its figures come from: with one of them wrong there is no figure, which could only be too low. */
  readonly from: readonly ExposureInput[];
  /** Shown where it is not given. */
  readonly needs: string;
}

const BOTH_HOURS = ["handHours", "machineHours"] as const;
const TWO_TOOLS = "of both (0 h for none)";

const EXPOSURE_LINES = {
  hours: {
    label: "Hours on tools and machine",
    unit: () => "h",
    limit: HOURS_IN_A_DAY,
    from: BOTH_HOURS,
    needs: "needs both (0 h for none)",
  },
  vibration: {
    label: "Hand-arm vibration A(8), EU values",
    unit: () => "m/s²",
    ...VIBRATION_LIMITS,
    from: [...BOTH_HOURS, "handVibration", "machineVibration"],
    needs: `needs hours and vibration ${TWO_TOOLS}`,
  },
  handUntil: {
    label: "Hand tool alone: hours to action and limit",
    unit: () => "h",
    from: ["handVibration"],
    needs: "needs its vibration",
  },
  machineUntil: {
    label: "Machine alone: hours to action and limit",
    unit: () => "h",
    from: ["machineVibration"],
    needs: "needs its vibration",
  },
  osha: {
    label: "Noise dose, OSHA (action: general industry)",
    unit: () => "%",
    action: OSHA_NOISE.action,
    limit: OSHA_NOISE.limit,
    from: [...BOTH_HOURS, "handNoise", "machineNoise"],
    needs: `needs hours and noise ${TWO_TOOLS}`,
  },
  niosh: {
    label: "Noise dose, NIOSH",
    unit: () => "%",
    limit: NIOSH_NOISE.limit,
    from: [...BOTH_HOURS, "handNoise", "machineNoise"],
    needs: `needs hours and noise ${TWO_TOOLS}`,
  },
  dust: {
    label: "Silica dust, 8-hour average",
    unit: () => "µg/m³",
    ...SILICA_LIMITS,
    from: ["dust", "dustHours"],
    needs: "needs a measurement and its hours (0 h for none)",
  },
  shroud: {
    label: "Minimum shroud airflow",
    unit: (units) => symbol("airflow", units),
    from: ["shroudDiameter"],
    needs: "needs the wheel's diameter",
  },
} as const satisfies Record<string, Line>;

export type ExposureKey = keyof typeof EXPOSURE_LINES;
export const EXPOSURE_LINE_KEYS = Object.keys(EXPOSURE_LINES) as ExposureKey[];
/** The line without its literal type, for code that treats all lines alike. */
export const exposureLine = (key: ExposureKey): Line => EXPOSURE_LINES[key];

/** A number, words instead of it, or nothing where the line has no such figure. */
export type Figure = number | string;

export interface ExposureFigures {
  readonly value: Figure;
  readonly action: Figure;
  readonly limit: Figure;
  readonly words: string;
}

/** How a figure stands beside its values; the last digits of a division decide nothing. */
function verdict(value: number, action: number | undefined, limit: number): string {
  const x = Number(value.toFixed(9));
  if (action === undefined) return x >= limit ? VERDICTS.fromLimit : VERDICTS.belowLimit;
  if (x > limit) return VERDICTS.aboveLimit;
  return x >= action ? VERDICTS.fromAction : VERDICTS.belowAction;
}

interface Part {
  readonly hours: number;
  readonly amount: number | null;
}

/** Problems tell of texts that could not be read: their inputs look as if they were blank. */
export function exposureOf(inputs: Inputs, problems: Problems = {}): Record<ExposureKey, ExposureFigures> {
  const isWrong = (key: ExposureInput) => {
    const value = inputs[key];
    return value === null ? problems[key] !== undefined : !isWithin(value, exposureInput(key).domain);
  };
  const figures = figuresOf(inputs);
  for (const key of EXPOSURE_LINE_KEYS) {
    const wrong = exposureLine(key).from.find(isWrong);
    if (wrong) figures[key] = withoutFigures(figures[key], wrong, key);
  }
  return figures;
}

/** The values a figure is held against stay; hours until they are reached are figures themselves. */
function withoutFigures(figures: ExposureFigures, wrong: ExposureInput, key: ExposureKey): ExposureFigures {
  const instead = { ...figures, words: wrongWords(wrong) };
  if (key === "handUntil" || key === "machineUntil") {
    return { ...instead, action: INSTEAD.wrong, limit: INSTEAD.wrong };
  }
  return { ...instead, value: INSTEAD.wrong };
}

function figuresOf(inputs: Inputs): Record<ExposureKey, ExposureFigures> {
  const { handHours, machineHours, handVibration, machineVibration, dust, dustHours, shroudDiameter } = inputs;
  const total = handHours === null || machineHours === null ? null : handHours + machineHours;

  /** Adds up both parts of the day, as far as they are known; an hour of something not known is no hour of nothing. */
  function overDay(hand: number | null, machine: number | null, of: (amount: number, hours: number) => number): Figure {
    if (total === null) return INSTEAD.notGiven;
    const parts: Part[] = [
      { hours: handHours!, amount: hand },
      { hours: machineHours!, amount: machine },
    ];
    const used = parts.filter(({ hours }) => hours > 0);
    if (used.some(({ amount }) => amount === null)) return INSTEAD.notGiven;
    if (total > HOURS_IN_A_DAY) return INSTEAD.tooLong;
    return used.reduce((sum, { hours, amount }) => sum + of(amount!, hours), 0);
  }

  const squares = overDay(handVibration, machineVibration, (a, t) => a ** 2 * t);
  const dose = ({ criterion, exchange }: { criterion: number; exchange: number }) =>
    overDay(
      inputs.handNoise,
      inputs.machineNoise,
      (level, t) => (100 * t) / permittedHours(level, criterion, exchange),
    );

  const until = (vibration: number | null, limit: number): Figure => {
    if (vibration === null) return INSTEAD.notGiven;
    return vibration > 0 ? hoursUntil(vibration, limit) : INSTEAD.still;
  };
  const untilBoth = (key: ExposureKey, vibration: number | null): ExposureFigures => ({
    value: "",
    action: until(vibration, VIBRATION_LIMITS.action),
    limit: until(vibration, VIBRATION_LIMITS.limit),
    words: vibration === null ? exposureLine(key).needs : "",
  });
  const held = (key: ExposureKey, value: Figure): ExposureFigures => {
    const { action, limit, needs } = exposureLine(key);
    const words = () => {
      if (value === INSTEAD.notGiven) return needs;
      return typeof value === "number" && limit !== undefined ? verdict(value, action, limit) : "";
    };
    return { value, action: action ?? "", limit: limit ?? "", words: words() };
  };

  const levels = [handHours ? inputs.handNoise : null, machineHours ? inputs.machineNoise : null];
  const isAny = (holds: (level: number) => boolean) => levels.some((level) => level !== null && holds(level));
  const osha = held("osha", dose(OSHA_NOISE));
  const oshaRemarks = () => {
    if (typeof osha.value !== "number") return "";
    const above = isAny((level) => level > OSHA_NOISE.ceiling) ? OSHA_REMARKS.aboveCeiling : "";
    const isCounted = osha.words === VERDICTS.aboveLimit && isAny((level) => level < OSHA_NOISE.limitFrom);
    return isCounted ? above + OSHA_REMARKS.belowLimitFrom : above;
  };

  /** No hours of dust need no measurement. */
  const dustAverage = (): Figure => {
    if (dustHours === 0) return 0;
    return dust === null || dustHours === null ? INSTEAD.notGiven : (dust * dustHours) / REFERENCE_HOURS;
  };
  const airflow = (): Figure => {
    if (shroudDiameter === null) return INSTEAD.notGiven;
    return shroudDiameter > 0 ? shroudAirflow(shroudDiameter, inputs.units) : INSTEAD.noWheel;
  };

  const hours = held("hours", total ?? INSTEAD.notGiven);
  const dayWords = total !== null && total > HOURS_IN_A_DAY ? VERDICTS.longerThanADay : VERDICTS.inADay;
  return {
    hours: total === null ? hours : { ...hours, words: dayWords },
    vibration: held("vibration", typeof squares === "number" ? dailyVibration(squares) : squares),
    handUntil: untilBoth("handUntil", handVibration),
    machineUntil: untilBoth("machineUntil", machineVibration),
    osha: { ...osha, words: osha.words + oshaRemarks() },
    niosh: held("niosh", dose(NIOSH_NOISE)),
    dust: held("dust", dustAverage()),
    shroud: held("shroud", airflow()),
  };
}
