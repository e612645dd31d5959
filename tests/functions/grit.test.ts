import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LADDER, NEAREST, SCRATCH, SEQUENCECHECK, SIZE, STEPCHECK, STEPCOUNT, STEPRATIO } from "../../functions/grit";
import { MESH, NAMED_SCALES } from "../../functions/scale";
import { APPEARANCE_LEVELS } from "../../functions/tables/appearance";
import { COATING_CLASSES, coatingClass, grindingSuits, PROFILE_NAMES } from "../../functions/tables/surface-profile";
import { COMMON_GRITS } from "../../functions/tables/trade-grits";
import { ask, column, error, expectClose, row, valueError } from "../helpers";

const notFound = (message: string) => error("#N/A", message);
const noAnswer = (message: string) => error("#NUM!", message);

const ALLOWED_SCALES =
  '"mesh", "f", "p", "jis" or "um" (the numbers are sizes in µm), or a range of two columns (grit, size in µm)';

describe("a scale as a word", () => {
  it("is mesh when it is left out or blank", () => {
    expect(ask(SIZE, 30)).toBe(600);
    expect(ask(SIZE, 30, null)).toBe(600);
    expect(ask(SIZE, 30, "")).toBe(600);
  });

  it("is taken in any letter case and with spaces around it", () => {
    expect(ask(SIZE, 120, "P")).toBe(125);
    expect(ask(SIZE, 1000, " Jis ")).toBe(11.5);
  });

  it("is refused with the words there are when it is another word or a number", () => {
    expect(ask(SIZE, 30, "tyler")).toEqual(valueError(`scale must be ${ALLOWED_SCALES}; got the text "tyler"`));
    expect(ask(SIZE, 30, 2)).toEqual(valueError(`scale must be ${ALLOWED_SCALES}; got 2`));
  });

  it("passes on an error from its cell", () => {
    expect(ask(SIZE, 30, { code: "#REF!" })).toEqual(valueError("scale is the error #REF!"));
  });

  it("um takes the numbers as sizes", () => {
    expect(ask(SIZE, 42.5, "um")).toBe(42.5);
    expect(ask(NEAREST, 42.5, "um")).toBe(42.5);
    expect(ask(STEPRATIO, 100, 40, "um")).toBe(2.5);
  });
});

describe("a scale as the maker's own numbers", () => {
  const makers = [
    [30, 500],
    [60, 260],
    [120, 120],
  ];

  it("gives the listed sizes exactly", () => {
    expect(ask(SIZE, column(30, 60, 120), makers)).toEqual(column(500, 260, 120));
    expect(ask(NEAREST, 250, makers)).toBe(60);
  });

  it("may come in any order, with blank rows and with a grit repeated", () => {
    const untidy = [
      [120, 120],
      [null, null],
      [30, 500],
      ["", ""],
      [60, 260],
      [30, 500],
      [0, 0],
    ];
    for (const grit of [30, 45, 60, 90, 120]) expect(ask(SIZE, grit, untidy)).toBe(ask(SIZE, grit, makers));
  });

  it("knows no grit beyond its ends", () => {
    expect(ask(SIZE, 20, makers)).toEqual(notFound("grit 20 is not on this scale, which runs from 30 to 120"));
    expect(ask(SIZE, 200, makers)).toEqual(notFound("grit 200 is not on this scale, which runs from 30 to 120"));
  });

  it("may hold a single grit", () => {
    expect(ask(SIZE, 30, row(30, 500))).toBe(500);
    expect(ask(NEAREST, 7, row(30, 500))).toBe(30);
    expect(ask(SIZE, 31, row(30, 500))).toEqual(notFound("grit 31 is not on this scale, which runs from 30 to 30"));
  });

  it("is refused where a row is half blank or not a number, naming the row", () => {
    const refusal = (...rows: unknown[][]) => ask(SIZE, 30, rows);
    expect(refusal([30, 500], [60, null])).toEqual(
      valueError("size in row 2 of scale is blank or 0; it must be above 0"),
    );
    expect(refusal(["Grit", "Size"], [30, 500])).toEqual(
      valueError('grit in row 1 of scale must be above 0; got the text "Grit"'),
    );
    expect(refusal([30, 500], [60, -1])).toEqual(valueError("size in row 2 of scale must be above 0; got -1"));
    expect(refusal([30, 500], [60, { code: "#DIV/0!" }])).toEqual(expect.objectContaining({ code: "#DIV/0!" }));
  });

  it("is refused where the size does not fall as the grit rises", () => {
    expect(ask(SIZE, 30, [...makers, [80, 260]])).toEqual(
      valueError("in scale the size must fall as the grit rises; grit 60 is 260 µm and grit 80 is 260 µm"),
    );
    expect(ask(SIZE, 30, [...makers, [60, 250]])).toEqual(
      valueError("scale lists grit 60 twice, as 260 µm and as 250 µm"),
    );
  });

  it("is refused in another shape, or with nothing in it", () => {
    expect(ask(SIZE, 30, row(30, 500, 60))).toEqual(valueError(`scale must be ${ALLOWED_SCALES}; got 1 × 3 cells`));
    expect(ask(SIZE, 30, column(30, 500))).toEqual(valueError(`scale must be ${ALLOWED_SCALES}; got 2 × 1 cells`));
    expect(ask(SIZE, 30, [row(null, null), row("", "")].flat())).toEqual(valueError("scale has no grits in it"));
  });

  it("serves every function of the room", () => {
    expectClose(ask(STEPRATIO, 30, 120, makers), 500 / 120);
    expect(ask(STEPCHECK, 30, 120, null, null, null, makers)).toBe("too far");
    expect(ask(SEQUENCECHECK, column(30, 60), null, null, makers)).toEqual(column("start", "ok"));
    expect(ask(STEPCOUNT, 30, 120, 2.1, makers)).toBe(2);
    expect(ask(LADDER, 30, 120, 2.5, null, makers)).toEqual(column(30, 60, 120));
    expect(ask(SCRATCH, 30, "metal", makers)).toBe(250);
  });
});

describe("SIZE", () => {
  it("always falls as the mesh number rises, across the end of the sieves too", () => {
    const sizes: number[] = ask(SIZE, column(...Array.from({ length: 9997 }, (_, i) => i + 4))).flat();
    expect(sizes).toHaveLength(9997);
    expect(sizes.findIndex((s, i) => i > 0 && s >= sizes[i - 1]!)).toBe(-1);
  });

  it("lies on a straight line in logarithms between two sieves", () => {
    const middle = Math.sqrt(30 * 60);
    const rows = [
      [30, 600],
      [60, 250],
    ];
    expectClose(ask(SIZE, middle, rows), Math.sqrt(600 * 250));
  });

  it("takes a range, tells a bad row alone and leaves a blank row blank", () => {
    expect(ask(SIZE, column(30, null, "coarse", 3, 120))).toEqual(
      column(
        600,
        "",
        valueError('grit must be above 0; got the text "coarse"'),
        notFound("grit 3 is not on the mesh scale, which runs from 4 to 10000"),
        125,
      ),
    );
  });

  it("needs a grit above 0", () => {
    expect(ask(SIZE, null)).toEqual(valueError("grit is blank or 0; it must be above 0"));
    expect(ask(SIZE, 0)).toEqual(valueError("grit is blank or 0; it must be above 0"));
  });

  it("reaches both ends of every named scale and nothing beyond", () => {
    for (const [name, coarsest, finest] of [
      ["mesh", 4, 10000],
      ["f", 4, 2000],
      ["p", 12, 2500],
      ["jis", 240, 8000],
    ] as const) {
      expect(ask(SIZE, column(coarsest, finest), name).flat()).toEqual([expect.any(Number), expect.any(Number)]);
      const off = (grit: number) =>
        notFound(`grit ${grit} is not on the ${name} scale, which runs from ${coarsest} to ${finest}`);
      expect(ask(SIZE, coarsest - 1, name)).toEqual(off(coarsest - 1));
      expect(ask(SIZE, finest + 1, name)).toEqual(off(finest + 1));
    }
  });
});

describe("NEAREST", () => {
  it("gives every listed grit back from its own size", () => {
    for (const [name, { grits, sizes }] of Object.entries(NAMED_SCALES)) {
      if (grits.length > 0) expect(ask(NEAREST, column(...sizes), name)).toEqual(column(...grits));
    }
  });

  it("gives the coarser of two equally near grits", () => {
    const rows = [
      [10, 400],
      [20, 100],
    ];
    expect(ask(NEAREST, column(200, 199.9, 200.1), rows)).toEqual(column(10, 20, 10));
  });

  it("gives the end of the scale for a size beyond it", () => {
    expect(ask(NEAREST, column(1e9, 0.001))).toEqual(column(4, 3000));
  });
});

describe("STEPCHECK", () => {
  const check = (from: number, to: number, fromBond?: string, toBond?: string, maxRatio?: number) =>
    ask(STEPCHECK, from, to, fromBond, toBond, maxRatio, "um");

  it("calls a bond that goes back backwards, whatever the grits", () => {
    expect(check(100, 50, "resin", "metal")).toBe("backwards");
    expect(check(100, 50, "resin", "transitional")).toBe("backwards");
    expect(check(100, 10, "hybrid", "metal")).toBe("backwards");
  });

  it("wants a transitional between metal and resin, whatever the grits", () => {
    expect(check(100, 50, "metal", "resin")).toBe("add a transitional");
    expect(check(100, 900, "Metal", "RESIN")).toBe("add a transitional");
  });

  it("calls the same size a repeat and a coarser one backwards within one bond", () => {
    expect(check(100, 100, "resin", "resin")).toBe("repeat");
    expect(check(100, 100.1, "resin", "resin")).toBe("backwards");
    expect(check(100, 99.9, "resin", "resin")).toBe("ok");
  });

  it("takes hybrid and transitional for the same bond", () => {
    expect(check(100, 100, "hybrid", "transitional")).toBe("repeat");
  });

  it("lets a hand-over overlap down to half", () => {
    expect(check(100, 100, "metal", "transitional")).toBe("ok");
    expect(check(100, 200, "metal", "transitional")).toBe("ok");
    expect(check(100, 200.1, "transitional", "resin")).toBe("backwards");
  });

  it("calls a ratio above the limit too far, at a hand-over too, and the limit itself ok", () => {
    expect(check(100, 40)).toBe("ok");
    expect(check(100, 39.9)).toBe("too far");
    expect(check(100, 39.9, "metal", "transitional")).toBe("too far");
    expect(check(100, 39.9, "metal", "metal", 3)).toBe("ok");
  });

  it("does not let the last digit of a division decide", () => {
    expect(check(0.3, 0.1, undefined, undefined, 3)).toBe("ok");
    expect(ask(STEPCHECK, 2000, 5000)).toBe("ok");
  });

  it("counts a bond left out as the other one's, and both left out as the same", () => {
    expect(check(100, 100, "metal")).toBe("repeat");
    expect(check(100, 100, undefined, "resin")).toBe("repeat");
    expect(check(100, 100)).toBe("repeat");
  });

  it("takes ranges, and a row with an unknown bond fails alone", () => {
    expect(ask(STEPCHECK, column(30, 30), column(60, 60), column("metal", "wax"))).toEqual(
      column("ok", valueError('fromBond must be "metal", "transitional" (or "hybrid") or "resin"; got the text "wax"')),
    );
  });

  it("needs a limit above 1", () => {
    expect(check(100, 50, "metal", "metal", 1)).toEqual(valueError("maxRatio must be above 1; got 1"));
  });
});

describe("SEQUENCECHECK", () => {
  it("starts with start and gives one verdict a row", () => {
    expect(ask(SEQUENCECHECK, column(30, 60, 60, 50, 400))).toEqual(
      column("start", "ok", "repeat", "backwards", "too far"),
    );
  });

  it("takes a row as well as a column, and a single grit", () => {
    expect(ask(SEQUENCECHECK, row(30, 60, 120))).toEqual(row("start", "ok", "ok"));
    expect(ask(SEQUENCECHECK, 30)).toBe("start");
  });

  it("leaves blank grits blank and compares across them, whatever stands beside a blank", () => {
    const grits = column(30, null, 60, "", 120);
    expect(ask(SEQUENCECHECK, grits)).toEqual(column("start", "", "ok", "", "ok"));
    const bonds = column("metal", "none", "metal", "densifier", "resin");
    expect(ask(SEQUENCECHECK, grits, bonds)).toEqual(column("start", "", "ok", "", "add a transitional"));
  });

  it("gives a bad row its own error and compares the next with the last good one", () => {
    expect(ask(SEQUENCECHECK, column("coarse", 30, 2, 60))).toEqual(
      column(
        valueError('grits must be above 0; got the text "coarse"'),
        "start",
        notFound("grit 2 is not on the mesh scale, which runs from 4 to 10000"),
        "ok",
      ),
    );
    expect(ask(SEQUENCECHECK, column(30, 60, 50), column("metal", "wax", "transitional"))).toEqual(
      column(
        "start",
        valueError('bonds must be "metal", "transitional" (or "hybrid") or "resin"; got the text "wax"'),
        "ok",
      ),
    );
  });

  it("says what STEPCHECK says of each two neighbors", () => {
    const bond = fc.constantFrom("metal", "transitional", "hybrid", "resin", null);
    const tool = fc.tuple(fc.integer({ min: 4, max: 3000 }), bond);
    fc.assert(
      fc.property(fc.array(tool, { minLength: 2, maxLength: 8 }), (tools) => {
        const grits = tools.map(([grit]) => [grit]);
        const bonds = tools.map(([, of]) => [of]);
        const pairwise = ask(STEPCHECK, grits.slice(0, -1), grits.slice(1), bonds.slice(0, -1), bonds.slice(1));
        expect(ask(SEQUENCECHECK, grits, bonds).slice(1).flat()).toEqual([pairwise].flat(2));
      }),
    );
  });

  it("takes one bond and one limit for all, or one for each grit", () => {
    expect(ask(SEQUENCECHECK, column(30, 120), "metal", 5)).toEqual(column("start", "ok"));
    expect(ask(SEQUENCECHECK, column(30, 120, 400), null, column(null, 5, null))).toEqual(
      column("start", "ok", "too far"),
    );
  });

  it("refuses bonds of another shape, and a block of grits", () => {
    expect(ask(SEQUENCECHECK, column(30, 60, 120), column("metal", "resin"))).toEqual(
      valueError("bonds must have the shape of grits, 3 × 1 cells; got 2 × 1 cells"),
    );
    expect(ask(SEQUENCECHECK, column(30, 60), row("metal", "resin"))).toEqual(
      valueError("bonds must have the shape of grits, 2 × 1 cells; got 1 × 2 cells"),
    );
    expect(ask(SEQUENCECHECK, [row(30, 60), row(80, 100)].flat())).toEqual(
      valueError("grits must be one column or one row; got 2 × 2 cells"),
    );
  });

  it("needs grits, yet leaves an empty list empty", () => {
    expect(ask(SEQUENCECHECK, null)).toEqual(valueError("grits is blank or 0; it must be above 0"));
    expect(ask(SEQUENCECHECK, column(null, ""))).toEqual(column("", ""));
  });
});

describe("STEPCOUNT", () => {
  it("is the least number of steps whose ratios together reach the ratio", () => {
    const sizeUm = fc.double({ min: 1, max: 5000, noNaN: true });
    fc.assert(
      fc.property(sizeUm, sizeUm, fc.double({ min: 1.1, max: 5, noNaN: true }), (a, b, limit) => {
        const ratio = Math.max(a, b) / Math.min(a, b);
        const steps: number = ask(STEPCOUNT, Math.max(a, b), Math.min(a, b), limit, "um");
        expect(limit ** steps * (1 + 1e-6)).toBeGreaterThanOrEqual(ratio);
        if (steps > 0) expect(limit ** (steps - 1)).toBeLessThan(ratio);
      }),
    );
  });

  it("does not add a step for the last digit of a logarithm", () => {
    expect(ask(STEPCOUNT, 1000, 1, 10, "um")).toBe(3);
    expect(ask(STEPCOUNT, 243, 1, 3, "um")).toBe(5);
  });

  it("has no answer from a finer to a coarser grit", () => {
    expect(ask(STEPCOUNT, column(100, 30), column(30, 100))).toEqual(
      column(noAnswer("from 100 to 30 goes coarser, and each step goes finer"), 2),
    );
  });
});

describe("LADDER", () => {
  it("gives one row where the ends are the same grit", () => {
    expect(ask(LADDER, 80, 80)).toBe(80);
  });

  it("keeps to its ends whether they are listed or not", () => {
    expect(ask(LADDER, 36, 70, 2.5, column(40, 50))).toEqual(column(36, 70));
    expect(ask(LADDER, 35, 110, 2.5, column(60, 50))).toEqual(column(35, 60, 110));
  });

  it("passes over blanks, repeats and grits outside its ends", () => {
    const available = [row(null, 50, 3000), row(6, 50, ""), row(1e6, 30, 100)].flat();
    expect(ask(LADDER, 30, 100, 2.5, available)).toEqual(column(30, 50, 100));
  });

  it("draws from the common grits when nothing is listed", () => {
    const steps: number[] = ask(LADDER, 16, 3000).flat();
    expect(COMMON_GRITS).toEqual(expect.arrayContaining(steps));
    expect(ask(LADDER, 16, 3000, 2.5, column(null, null)).flat()).toEqual(steps);
  });

  it("gives the coarser of two equally even ladders", () => {
    expect(ask(LADDER, 900, 100, 5, column(200, 450), "um")).toEqual(column(900, 450, 100));
    expect(ask(LADDER, 900, 100, 5, column(450, 200), "um")).toEqual(column(900, 450, 100));
  });

  it("names the gap where no ladder reaches", () => {
    expect(ask(LADDER, 30, 3000, 2.5, column(60, 400, 800))).toEqual(
      noAnswer("no ladder from 30 to 3000: nothing available within a ratio of 2.5 after 60"),
    );
    expect(ask(LADDER, 100, 30)).toEqual(noAnswer("from 100 to 30 goes coarser, and each step goes finer"));
  });

  it("refuses what is no grit, and ranges where one cell is wanted", () => {
    expect(ask(LADDER, 30, 100, 2.5, column(50, "none"))).toEqual(
      valueError('available must be a number; got the text "none"'),
    );
    expect(ask(LADDER, column(30, 40), 100)).toEqual(valueError("from must be one cell; got 2 × 1 cells"));
    expect(ask(LADDER, 30, null)).toEqual(valueError("to is blank or 0; it must be above 0"));
    expect(ask(LADDER, 30, 20000)).toEqual(notFound("grit 20000 is not on the mesh scale, which runs from 4 to 10000"));
  });

  it("needs the sizes there are on the scale um", () => {
    expect(ask(LADDER, 600, 100, 2.5, null, "um")).toEqual(
      valueError('available is missing; on the scale "um" it must list sizes in µm'),
    );
  });
});

describe("SCRATCH", () => {
  it("takes a bond left out for metal, and a share of one's own over the bond's", () => {
    expect(ask(SCRATCH, 100)).toBe(75);
    expect(ask(SCRATCH, 100, "resin", null, 0.5)).toBe(75);
  });

  it("gets shallower from metal to transitional to resin at the same grit", () => {
    const [metal, transitional, resin] = ask(SCRATCH, 100, column("metal", "hybrid", "resin")).flat();
    expect(metal).toBeGreaterThan(transitional);
    expect(transitional).toBeGreaterThan(resin);
  });

  it("refuses a share above 1", () => {
    expect(ask(SCRATCH, 100, null, null, 35)).toEqual(
      valueError("share must be above 0 and at most 1 (80% is 0.8); got 35"),
    );
  });
});

describe("the tables beside the functions", () => {
  it("list grits ascending with falling sizes on every scale", () => {
    for (const { grits, sizes } of Object.values(NAMED_SCALES)) {
      for (let i = 1; i < grits.length; i++) {
        expect(grits[i]).toBeGreaterThan(grits[i - 1]!);
        expect(sizes[i]).toBeLessThan(sizes[i - 1]!);
      }
    }
  });

  it("keep every common grit on the mesh scale", () => {
    expect(COMMON_GRITS.filter((grit) => grit < MESH.grits[0]! || grit > MESH.finest)).toEqual([]);
  });

  it("put a film in the gap between two classes with the thicker, and one on a border with the thinner", () => {
    expect([3, 3.5, 10, 45, 125].map((mil) => coatingClass(mil).name)).toEqual([
      "sealer",
      "thin film",
      "thin film",
      "self-leveling topping",
      "self-leveling topping",
    ]);
    expect(coatingClass(1000).name).toBe("concrete overlay or repair");
  });

  it("say that grinding does not reach the profile of a topping or an overlay", () => {
    expect(COATING_CLASSES.map(grindingSuits)).toEqual([true, true, true, false, false, false]);
    expect(PROFILE_NAMES).toHaveLength(10);
  });

  it("leave no gap between the image clarity of two appearance levels", () => {
    for (let i = 1; i < APPEARANCE_LEVELS.length; i++) {
      expect(APPEARANCE_LEVELS[i]!.imageClarity[0]).toBe(APPEARANCE_LEVELS[i - 1]!.imageClarity[1] + 1);
    }
  });
});

describe("a label coarser than any number", () => {
  const makers = [
    ["000", 3000],
    [16, 1180],
    [" 00 ", 2000],
    [30, 600],
  ];

  it("has the size of the maker's own scale, as it is written there", () => {
    expect(ask(SIZE, column("000", "00", 16), makers)).toEqual(column(3000, 2000, 1180));
    expect(ask(STEPRATIO, "00", 16, makers)).toBeCloseTo(2000 / 1180, 12);
    expect(ask(SCRATCH, "000", "metal", makers)).toBe(1500);
  });

  it("has none on a named scale, and says what to do", () => {
    const says = (scale: string, label = "00") =>
      notFound(`grit ${label} is a label without a size on ${scale}; give the maker's own grits and sizes as scale`);
    expect(ask(SIZE, "00")).toEqual(says("the mesh scale"));
    expect(ask(STEPCHECK, "00", 16, "metal", "metal", 2.5, "p")).toEqual(says("the p scale"));
    expect(ask(SIZE, "0", "um")).toEqual(says("µm", "0"));
    expect(ask(SIZE, column(16, "00", 30))).toEqual(column(1180, says("the mesh scale"), 600));
    expect(ask(SIZE, "0000", makers)).toEqual(notFound("grit 0000 is not on this scale"));
  });

  it("is ordered by its size, among the numbers", () => {
    expect(ask(SEQUENCECHECK, column("000", "00", 16, "00"), undefined, 2.5, makers)).toEqual(
      column("start", "ok", "ok", "backwards"),
    );
    expect(ask(STEPCOUNT, "000", 30, 2.5, makers)).toBe(2);
    expect(ask(LADDER, "000", 30, 2.6, column(16, "00"), makers)).toEqual(column("000", 16, 30));
    expect(ask(LADDER, "000", 30, 1.6, column(16, "00"), makers)).toEqual(
      error("#NUM!", "no ladder from 000 to 30: nothing available within a ratio of 1.6 after 00"),
    );
    expect(ask(NEAREST, column(2900, 1900, 1200), makers)).toEqual(column("000", "00", 16));
  });

  it("counts for every row where it is one cell", () => {
    expect(ask(STEPRATIO, "00", column(16, 30), makers).flat()).toEqual([2000 / 1180, 2000 / 600]);
  });

  it("may be all that a scale has, and has one size", () => {
    expect(ask(SIZE, "00", [["00", 2000]])).toBe(2000);
    expect(ask(SIZE, 30, [["00", 2000]])).toEqual(notFound("grit 30 is not on this scale, which has only 00"));
    expect(
      ask(SIZE, "00", [
        ["00", 2000],
        ["00", 1900],
      ]),
    ).toEqual(valueError("scale lists grit 00 twice, as 2000 µm and as 1900 µm"));
  });

  it("is told from other text, and from a blank", () => {
    expect(ask(SIZE, "coarse", makers)).toEqual(valueError('grit must be above 0; got the text "coarse"'));
    expect(ask(SIZE, 0, makers)).toEqual(valueError("grit is blank or 0; it must be above 0"));
  });
});
