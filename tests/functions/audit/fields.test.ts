import { describe, expect, it } from "vitest";
import { JOB_KEYS, jobField, OTHER_HALF } from "../../../functions/audit/fields";

const OWN_LABELS = JOB_KEYS.map((key) => jobField(key).label);

describe("the fields of a job list", () => {
  it("have headers that a structured reference takes as they are", () => {
    expect(OWN_LABELS.filter((label) => /[/[\]#'@]/.test(label))).toEqual([]);
    expect(new Set(OWN_LABELS.map((label) => label.toLowerCase())).size).toBe(OWN_LABELS.length);
  });

  it("come in halves that name each other, one quoted and one actual", () => {
    const halves = JOB_KEYS.filter((key) => jobField(key).side);
    expect(halves).toHaveLength(14);
    for (const key of halves) {
      const other = OTHER_HALF[key]!;
      expect(OTHER_HALF[other]).toBe(key);
      expect([jobField(key).side, jobField(other).side].sort()).toEqual(["actual", "quoted"]);
    }
  });

  it("are each recognized by no words that mean another", () => {
    const phrases = JOB_KEYS.flatMap((key) => {
      const { words, side } = jobField(key);
      return words.map((phrase) => [...phrase.split(" "), ...(side ? [side] : [])].sort().join(" "));
    });
    expect(phrases.filter((phrase, i) => phrases.indexOf(phrase) !== i)).toEqual([]);
  });
});

it("notes of fields have at most ten words", () => {
  expect(JOB_KEYS.filter((key) => jobField(key).note.split(" ").length > 10)).toEqual([]);
});
