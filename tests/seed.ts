/**
 * Property tests try the same cases every time, so that a red run can be run again; `GRIT_SEED=random` tries others,
 * and `GRIT_SEED=<number>` those that a failure has printed.
 */
import fc from "fast-check";

const asked = process.env.GRIT_SEED ?? "20261125";
if (asked !== "random") fc.configureGlobal({ seed: Number(asked) });
