/** Lists of rooms as people keep them. */
import { describe, expect, it } from "vitest";
import { guessRoomHeadings, readRooms, summed } from "../../../functions/bid/rooms";
import { startInputs } from "../../../functions/plan/inputs";

const FORM = { ...startInputs("us"), crew: 3, margin: 0.35, length: 10, width: 10, jointLength: 99, depth: 700 };
const read = (headings: string[], ...rows: unknown[][]) => readRooms(headings, guessRoomHeadings(headings), rows, FORM);

describe("headings", () => {
  it.each([
    [["Room", "Length", "Width", "Finish"], { floor: 0, length: 1, width: 2, finish: 3 }],
    [["Space", "Sq. Ft.", "Perimeter", "Level"], { floor: 0, area: 1, edgeLength: 2, finish: 3 }],
    [
      ["Name", "SF", "Edge (ft)", "Mohs", "Joints LF"],
      { floor: 0, area: 1, edgeLength: 2, hardness: 3, jointLength: 4 },
    ],
    [["Room", "Area", "Existing surface", "Aggregate"], { floor: 0, area: 1, surface: 2, exposure: 3 }],
  ])("%j are recognized", (headings, wanted) => {
    const found = guessRoomHeadings(headings);
    expect(found).toEqual(Object.fromEntries(Object.entries(wanted).map(([key, i]) => [key, headings[i]])));
  });

  it("that say nothing are left to the user", () => {
    expect(guessRoomHeadings(["Room", "X", "Notes"])).toEqual({ floor: "Room" });
  });
});

describe("rows", () => {
  it("become inputs beside what the form says for all rooms", () => {
    const { rooms, bad } = read(
      ["Room", "Length", "Width", "Edge", "Finish"],
      ["Hall", 80, 50, "", "Level 3"],
      ["Lobby", "20'", "12.5 ft", 60, ""],
    );
    expect(bad).toEqual([]);
    expect(rooms.map(({ row }) => row)).toEqual([0, 1]);
    const [hall, lobby] = rooms.map(({ inputs }) => inputs);
    expect(hall).toEqual({ ...FORM, floor: "Hall", length: 80, width: 50, jointLength: null });
    expect(lobby).toMatchObject({ floor: "Lobby", length: 20, width: 12.5, edgeLength: 60, crew: 3, margin: 0.35 });
  });

  it.each([
    ["level 1", { finish: "flat", lastGrit: null }],
    ["Satin (honed)", { finish: "satin" }],
    ["Polished", { finish: "polished" }],
    ["Level 4, class C", { finish: "highly polished", exposure: "C" }],
    [2, { finish: "satin" }],
    ["800 grit", { finish: "by grit", lastGrit: 800 }],
    // A polished floor is densified and guarded (ACI 310.1), which one that is only ground to a grit isn't.
    ["Polish to 1500 grit", { finish: "polished", lastGrit: 1500 }],
    ["polished, 3000 grit", { finish: "highly polished", lastGrit: 3000 }],
    ["Level 3, 400 grit", { finish: "polished", lastGrit: 400 }],
    ["Polished concrete, level 2", { finish: "satin", lastGrit: null }],
    ["ACI level 4", { finish: "highly polished" }],
    ["Grind and epoxy 20 mils", { finish: "coating", film: 20 }],
    ["Polish and seal", { finish: "polished" }],
    ["Epoxy 12 mil", { finish: "coating", film: 12 }],
    // NIST SP 811: a mil is 25.4 µm.
    ["Coating, 254 µm", { finish: "coating", film: 10 }],
    ["high gloss", { finish: "highly polished" }],
  ])("a finish of %j is understood", (finish, wanted) => {
    const { rooms, bad } = read(["Room", "Area", "Finish"], ["A", 500, finish]);
    expect(bad).toEqual([]);
    expect(rooms[0]!.inputs).toMatchObject(wanted);
  });

  it.each([
    "2 coats epoxy",
    "4 mil sealer, level 3",
    "Level 2, highly polished",
    "satin or high gloss",
    "unpolished",
    "Polished, epoxy 12 mil",
    "epoxy 10-15 mil",
    "CSP 3",
    "Grind and seal",
    "no coating",
  ])("a finish of %j may mean two things, and is listed", (finish) => {
    const { rooms, bad } = read(["Room", "Area", "Finish"], ["A", 500, finish]);
    expect(rooms).toEqual([]);
    expect(bad).toMatchObject([{ row: 0, key: "finish" }]);
  });

  it.each([
    ["old epoxy", { surface: "coated" }],
    ["carpet glue", { surface: "coated" }],
    ["ground, 80 grit", { surface: "ground", groundGrit: 80 }],
    ["new slab", { surface: "bare" }],
    ["uncoated", undefined],
    ["bare, no coating", undefined],
    ["coating, ground off", undefined],
  ])("a starting surface of %j is %j", (surface, wanted) => {
    const { rooms, bad } = read(["Room", "Area", "Surface"], ["A", 500, surface]);
    if (wanted) expect(rooms[0]!.inputs).toMatchObject(wanted);
    else expect([rooms, bad[0]!.key]).toEqual([[], "surface"]);
  });

  it("take the usual depth where they are made otherwise than the form says", () => {
    const { rooms } = read(["Room", "Area", "Finish", "Aggregate"], ["A", 500, "polished", "B"], ["B", 500, "", "C"]);
    expect(rooms.map(({ inputs }) => inputs.depth)).toEqual([700, null]);
  });

  it("in other units are converted, where the cell says so", () => {
    const { rooms } = read(["Room", "Area", "Edge"], ["A", "100 m²", "40 m"], ["B", "1,250 sf", ""]);
    // NIST SP 811: a foot is 0.3048 m.
    expect(rooms[0]!.inputs.area).toBeCloseTo(100 / 0.3048 ** 2, 6);
    expect(rooms[0]!.inputs.edgeLength).toBeCloseTo(40 / 0.3048, 6);
    expect(rooms[1]!.inputs.area).toBe(1250);
  });

  // A foot is 0.3048 m, a yard 3 ft (NIST SP 811).
  it.each([
    ["Area (m²)", "area", 100, 100 / 0.3048 ** 2],
    ["Area, sq m", "area", 100, 100 / 0.3048 ** 2],
    ["Area (SY)", "area", 100, 900],
    ["Sq. Ft.", "area", 100, 100],
    ["Edge (m)", "edgeLength", 30, 30 / 0.3048],
    ["Perimeter (ft)", "edgeLength", 30, 30],
    ["Edge (in)", "edgeLength", 360, 30],
  ])("under %j are in the unit that it names", (heading, key, cell, wanted) => {
    const others = key === "area" ? [] : [1000];
    const { rooms } = read(["Room", heading, ...others.map(() => "Area")], ["A", cell, ...others]);
    expect(rooms[0]!.inputs[key as "area"]).toBeCloseTo(wanted, 9);
  });

  it("keep their own unit under a heading that names another", () => {
    const { rooms } = read(["Room", "Length (m)", "Width (m)"], ["A", "20 ft", 3.048]);
    expect([rooms[0]!.inputs.length, rooms[0]!.inputs.width]).toEqual([20, expect.closeTo(10, 9)]);
  });

  it("that add up others, and blank ones, are no rooms", () => {
    const { rooms, bad, totals } = read(["Room", "Area"], ["A", 500], ["", ""], ["Total", 500]);
    expect([rooms.length, bad, totals]).toEqual([1, [], 1]);
  });

  it.each([
    [["", 500, ""], "floor", "has no name"],
    [["A", "big", ""], "area", 'Floor area must be a number; got the text "big"'],
    [["A", "40 ft", ""], "area", "Floor area is in ft, which doesn't measure it"],
    [["#REF!", 500, ""], "floor", "shows the error #REF!. Fix its formula"],
    [["A", "#N/A", ""], "area", "shows the error #N/A. Fix its formula"],
    [["A", "12'-6\"", ""], "area", 'Floor area must be a number; got the text "12\'-6""'],
    [["A", -5, ""], "area", "Floor area must be above 0 and at most 1,000,000,000; got -5"],
    [
      ["A", 500, "shiny"],
      "finish",
      'can\'t tell the finish the text "shiny". Type level 3, polished, 800 grit or epoxy 12 mil',
    ],
  ])("such as %j are listed with the cell at fault", (row, key, words) => {
    const { rooms, bad } = read(["Room", "Area", "Finish"], row as unknown[]);
    expect(rooms).toEqual([]);
    expect(bad).toEqual([{ row: 0, key, words }]);
  });

  it("without an area are listed", () => {
    const { bad } = read(["Room", "Length", "Width"], ["A", 20, ""]);
    expect(bad.length).toBeGreaterThan(0);
    expect(bad[0]!.row).toBe(0);
  });

  it("with a name that is there already are listed, whatever its case", () => {
    const { rooms, bad } = read(["Room", "Area"], ["Hall", 500], ["HALL", 600]);
    expect(rooms.map(({ inputs }) => inputs.area)).toEqual([500]);
    expect(bad).toEqual([{ row: 1, key: "floor", words: "“HALL” is in the list twice. Give each room its own name" }]);
  });
});

describe("one plan of their sum", () => {
  it("has their areas, edges and joints together", () => {
    const { rooms } = read(
      ["Room", "Length", "Width", "Area", "Edge", "Joints"],
      ["A", 30, 20, "", "", 50],
      ["B", "", "", 400, "", ""],
      ["C", "", "", 100, 30, 10],
    );
    // Edges: 2 × (30 + 20); of a square of 400 ft² 4 × 20; 30.
    expect(summed(rooms, "Rooms")).toEqual({
      ...FORM,
      ...{ floor: "Rooms", area: 1100, edgeLength: 210, obstacles: 0, jointLength: 60, length: null, width: null },
    });
  });

  it.each([
    [["Room", "Area", "Finish"], ["A", 500, "level 3"], ["B", 500, "level 2"], "Finish"],
    [["Room", "Area", "Mohs"], ["A", 500, 5], ["B", 500, 6], "Slab hardness"],
    [["Room", "Area", "Finish"], ["A", 500, "400 grit"], ["B", 500, "800 grit"], "Last grit"],
  ])("is refused where they differ: %j", (headings, one, other, label) => {
    const { rooms } = read(headings as string[], one as unknown[], other as unknown[]);
    expect(summed(rooms, "Rooms")).toBe(`${label} isn't the same in all of them, so they can't be one plan`);
  });
});
