/**
 * What a day's exposure is held against. A place with stricter values has its own: they are cells on the sheet.
 * Vibration: Directive 2002/44/EC, article 3 (hand-arm). Noise: on construction sites 29 CFR 1926.52 (Table D-2, no action
 * level), in general industry 29 CFR 1910.95 (Table G-16, the same hours, and an action level at half the dose); NIOSH
 * publication 98-126. Silica dust and shroud airflow: 29 CFR 1926.1153 (action level, limit, Table 1 for hand-held grinders).
 */

/** A(8), m/s². */
export const VIBRATION_LIMITS = { action: 2.5, limit: 5 } as const;

/**
 * Level that may last 8 hours, dBA; what halves the time, dB; doses, %. OSHA's tables end at the ceiling, with a quarter
 * of an hour, and begin at `limitFrom`: lower levels are not in its limit (1926.52(d), 1910.95(a) and (b); from memory). The
 * action value is general industry's alone.
 */
export const OSHA_NOISE = { criterion: 90, exchange: 5, action: 50, limit: 100, ceiling: 115, limitFrom: 90 } as const;
export const NIOSH_NOISE = { criterion: 85, exchange: 3, limit: 100 } as const;

/** Respirable crystalline silica, average over 8 hours, µg/m³. */
export const SILICA_LIMITS = { action: 25, limit: 50 } as const;

/** Airflow for each inch of wheel diameter, cfm. */
export const SHROUD_AIRFLOW = 25;

export const HOURS_IN_A_DAY = 24;
