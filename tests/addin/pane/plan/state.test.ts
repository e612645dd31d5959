import { describe, expect, it } from "vitest";
import { derive, digest, planOf } from "../../../../addin/pane/plan/derived";
import { allDoubts, blankValue, doubtAbout, settle } from "../../../../addin/pane/plan/doubts";
import { addStage, moveStage, removeStage, setTool, setWork, worksFor } from "../../../../addin/pane/plan/stages";
import {
  allProblems,
  fillInExample,
  isShown,
  link,
  showAllProblems,
  startPlan,
  textIn,
  toggleGroup,
  typeNumber,
  unlink,
} from "../../../../addin/pane/plan/state";
import { troubleWords } from "../../../../addin/pane/plan/texts";
import { type NotedPlan, proposeAgain, setChoice } from "./noted";

const example = (): NotedPlan => ({ ...fillInExample(startPlan()) });
const tools = (state: NotedPlan) => derive(state).stages.map((stage) => stage.tool);

describe("typing", () => {
  it("keeps the text as typed until the field is left, then shows the usual form", () => {
    const typed = typeNumber(startPlan(), "area", "5000.");
    expect(textIn(typed, "area")).toBe("5000.");
    expect(typed.inputs.area).toBe(5000);
    expect(textIn(settle(typed, "area"), "area")).toBe("5,000");
  });

  it("keeps a text that is no number, with a problem, after the field is left", () => {
    const left = settle(typeNumber(example(), "area", "5 000"), "area");
    expect(textIn(left, "area")).toBe("5 000");
    expect(derive(left).problems.area).toContain('got the text "5 000"');
    expect(derive(left).estimate).toBeNull();
  });

  it("tells an unreadable text of a hidden field only once the field matters", () => {
    const coating = typeNumber(setChoice(example(), "finish", "coating"), "film", "thick");
    expect(derive(coating).problems.film).toContain('got the text "thick"');
    expect(derive(setChoice(coating, "finish", "satin")).problems.film).toBeUndefined();
  });

  it("takes percentages as percent", () => {
    expect(typeNumber(startPlan(), "margin", "35").inputs.margin).toBe(0.35);
    expect(textIn(startPlan(), "margin")).toBe("30"); // starts at 0.3
  });

  it("doubts a percentage below one, which is most often a fraction", () => {
    expect(doubtAbout(typeNumber(startPlan(), "overlap", "0.2"), "overlap")).toBe("Taken as 0.2%; for 20% type 20");
    expect(doubtAbout(typeNumber(startPlan(), "overlap", "20"), "overlap")).toBe("");
    expect(doubtAbout(typeNumber(startPlan(), "overlap", "0"), "overlap")).toBe("");
  });

  it("doubts a number that reads otherwise where the spreadsheet writes decimals after a comma, and keeps it in sight", () => {
    const german = { ...startPlan(), decimalComma: true };
    const told = "Taken as 1.5, because decimals come after a point here; for 1500 type 1500";
    const left = settle(typeNumber(german, "area", "1.500"), "area");
    expect([doubtAbout(left, "area"), textIn(left, "area"), left.inputs.area]).toEqual([told, "1.500", 1.5]);
    expect(allDoubts(left)).toContain(`Floor area: t${told.slice(1)}.`);
    const fixed = settle(typeNumber(left, "area", "1500"), "area");
    expect([doubtAbout(fixed, "area"), textIn(fixed, "area")]).toEqual(["", "1,500"]);
    expect(doubtAbout(settle(typeNumber(startPlan(), "area", "1.500"), "area"), "area")).toBe("");
  });

  it("doubts an area that is not length × width, and tells where the edges come from", () => {
    const typed = (area: string) => typeNumber(example(), "area", area); // the example is 80 × 50, by hand 4,000
    expect(doubtAbout(typed("5,000"), "area")).toBe(
      "Length × width is 4,000 ft², but the price uses the area given here; edge length comes from length and width",
    );
    expect(doubtAbout(typeNumber(typed("5,000"), "edgeLength", "300"), "area")).toMatch(/the area given here$/);
    expect(doubtAbout(link(example(), "area", "Quote!C6", 5000), "area")).toContain("4,000 ft²");
    expect(doubtAbout(typed("4,010"), "area")).toBe(""); // a quarter of a per cent: lengths measured to the foot
    expect(doubtAbout(typed(""), "area")).toBe("");
    expect(doubtAbout(typeNumber(typed("5,000"), "width", ""), "area")).toBe("");
  });

  it("tells every doubt by the name of its field, but none of a field that does not matter", () => {
    const doubtful = typeNumber(typeNumber(example(), "margin", "0.3"), "confidence", "0.8");
    expect(allDoubts(doubtful)).toEqual(["Target margin: taken as 0.3%; for 30% type 30."]);
    expect(allDoubts(example())).toEqual([]);
  });
});

it("a dust measurement below what samplers find is doubted: 0.1 is most often mg/m³, a thousand times as much", () => {
  const little = typeNumber(startPlan(), "dust", "0.1");
  expect(doubtAbout(little, "dust")).toBe("Less than the usual 1 µg/m³; check the number and its unit");
  expect(doubtAbout(typeNumber(startPlan(), "dust", "25"), "dust")).toBe("");
});

describe("a number larger than jobs have", () => {
  // common practice, no source: the limits are ours, set far above any job
  it("is told beside the price, in the units of the plan, and still taken", () => {
    const heavy = typeNumber(startPlan(), "load", "6000");
    expect(doubtAbout(heavy, "load")).toBe("More than the usual 5,000 lbf; check the number and its unit");
    expect(allDoubts(heavy)).toContain(
      "Load on the tools: more than the usual 5,000 lbf; check the number and its unit.",
    );
    expect(allProblems(heavy).load).toBeUndefined();
    expect(doubtAbout(typeNumber(startPlan("metric"), "load", "2600"), "load")).toContain("the usual 2,500 kgf;");
    expect(doubtAbout(typeNumber(startPlan(), "load", "5000"), "load")).toBe("");
  });

  it("is refused where no job could have it", () => {
    expect(allProblems(typeNumber(startPlan(), "load", "1000000000")).load).toBe(
      "Load on the tools must be above 0 and at most 100,000; got 1,000,000,000",
    );
  });

  it("is none at the start of a plan, nor in the example", () => {
    for (const units of ["us", "metric"] as const) expect(allDoubts(fillInExample(startPlan(units)))).toEqual([]);
  });
});

describe("a blank", () => {
  it("shows the area and the edge that the sheet will work out", () => {
    const room = typeNumber(typeNumber(startPlan(), "length", "60"), "width", "20");
    expect(blankValue(room, "area")).toBe("1,200"); // by hand: 60 × 20
    expect(blankValue(room, "edgeLength")).toBe("160"); // by hand: 2 × (60 + 20)
  });

  it("shows the edge of a square when only the area is known", () => {
    const square = typeNumber(startPlan(), "area", "3,600");
    expect(blankValue(square, "edgeLength")).toBe("240"); // by hand: 4 × √3600
  });

  it("says nothing where nothing is known, or where the finish itself is the grit", () => {
    expect(blankValue(startPlan(), "area")).toBe("");
    expect(blankValue(startPlan(), "lastGrit")).not.toBe("");
    expect(blankValue(setChoice(startPlan(), "finish", "by grit"), "lastGrit")).toBe("");
    const coating = setChoice(startPlan(), "finish", "coating");
    expect(blankValue(typeNumber(coating, "film", "-1"), "lastGrit")).toBe("");
  });
});

describe("switching units", () => {
  it("converts what is filled in", () => {
    const metric = setChoice(typeNumber(startPlan(), "area", "5000"), "units", "metric");
    expect(metric.inputs.area).toBe(464.5152); // NIST SP 811: 1 ft = 0.3048 m; 5000 × 0.09290304
    expect(textIn(metric, "area")).toBe("464.5152");
  });

  it("takes quantities from their cells no longer, says so, and leaves other links alone", () => {
    const linked = link(link(startPlan(), "area", "Quote!C5", 5000), "margin", "Quote!C9", 0.25);
    const metric = setChoice(linked, "units", "metric");
    expect(metric.links).toEqual({ margin: "Quote!C9" });
    expect(metric.note).toContain("Floor area");
    expect(metric.note).not.toContain("margin");
  });

  it("keeps the same units as they are", () => {
    const state = startPlan();
    expect(setChoice(state, "units", "us")).toBe(state);
  });

  it("prices nothing from a shelf that was read in the other units", () => {
    const metric = setChoice(example(), "units", "metric");
    expect(derive(metric).estimate).toBeNull();
    expect(troubleWords(derive(metric).trouble)).toContain("Reading the shelf");
  });
});

describe("a link", () => {
  it("takes the number and hands the address to the sheet", () => {
    const linked = link(typeNumber(example(), "area", "x"), "area", "Quote!C5", 4200);
    expect(textIn(linked, "area")).toBe("4,200");
    expect(planOf(linked).links).toEqual({ area: "Quote!C5" });
  });

  it("is kept from the sheet where its field does not matter", () => {
    const linked = link(setChoice(example(), "finish", "coating"), "film", "Quote!C7", 10);
    expect(planOf(linked).links).toEqual({ film: "Quote!C7" });
    expect(planOf(setChoice(linked, "finish", "satin")).links).toEqual({});
  });

  it("keeps the number when it is cut", () => {
    const cut = unlink(link(example(), "area", "Quote!C5", 4200), "area");
    expect([cut.inputs.area, cut.links]).toEqual([4200, {}]);
  });
});

describe("the sequence", () => {
  it("follows the proposal until the user changes it, and again when asked to", () => {
    const state = example();
    const proposed = tools(state);
    const own = removeStage(state, 1);
    expect(tools(own)).toEqual([proposed[0], ...proposed.slice(2)]);
    expect(derive(own).stages.every((stage) => stage.reason === undefined)).toBe(true);
    expect(tools(proposeAgain(own))).toEqual(proposed);
  });

  it("keeps the user's stages when an input changes", () => {
    const own = addStage(example(), "Guard");
    expect(tools(typeNumber(own, "lastGrit", "400"))).toEqual(tools(own));
  });

  it("moves a stage, and leaves the ends where they are", () => {
    const state = example();
    const [first, second, ...rest] = tools(state);
    expect(tools(moveStage(state, 0, 1))).toEqual([second, first, ...rest]);
    expect(tools(moveStage(state, 0, -1))).toEqual(tools(state));
  });

  it("gives another tool its usual work, which the user may change", () => {
    const state = setTool(example(), 0, "Resin 3000");
    expect(derive(state).stages[0]).toMatchObject({ tool: "Resin 3000", work: "polish" });
    expect(derive(setWork(state, 0, "hone")).stages[0]?.work).toBe("hone");
    expect(derive(setTool(state, 0, "Densifier")).stages[0]?.work).toBe("densify");
  });

  it("says in words when a step is out of order", () => {
    const state = { ...example(), ownStages: [] };
    const order = ["Resin 200", "Metal 30 medium"].reduce(addStage, state);
    expect(derive(order).estimate?.rows.map((row) => row.verdict)).toEqual(["start", "backwards"]); // functions.md: STEPCHECK, rule 1
  });

  it("says what is missing instead of a price when the shelf lost a tool", () => {
    const lost = { ...example(), ownStages: [{ work: "grind", tool: "Metal 7" } as const] };
    expect(derive(lost).estimate).toBeNull();
    expect(troubleWords(derive(lost).trouble)).toContain("Metal 7");
    expect(tools(lost)).toEqual(["Metal 7"]);
  });

  it("asks for a stage when there is none", () => {
    expect(troubleWords(derive({ ...example(), ownStages: [] }).trouble)).toContain("No stages yet");
  });

  it("offers a liquid for its own work alone", () => {
    const { shelf } = example().shelf;
    expect(worksFor("Densifier", shelf)).toEqual(["densify"]);
    expect(worksFor("Resin 200", shelf)).toEqual(["grind", "hone", "polish"]);
    // Common practice: coatings come off with PCD or coarse metal.
    expect(worksFor("Metal 16 soft", shelf)).toEqual(["grind", "hone", "polish", "strip"]);
    expect(worksFor("PCD", shelf)).toEqual(["strip"]);
  });

  it("refuses a grit off the scale in words", () => {
    const state = typeNumber(example(), "lastGrit", "99999");
    expect(derive(state).estimate).toBeNull();
    expect(troubleWords(derive(state).trouble)).not.toBe("");
  });
});

describe("problems", () => {
  it("of inputs that go against each other are shown at the field they name, though nobody has been in it", () => {
    const full = typeNumber(example(), "obstacles", "5000");
    expect(full.touched).not.toContain("machineArea");
    expect(derive(full).problems.machineArea).toContain("leave nothing for the machine");
    expect(isShown("machineArea", full)).toBe(true);
    const alone = typeNumber(example(), "crew", "1");
    expect(derive(alone).problems.edgeWork).toContain("crew of 2");
    expect(isShown("edgeWork", alone)).toBe(true);
    expect(isShown("machineArea", example())).toBe(false);
  });

  it("are not told on a fresh form, and all of them after a try to insert", () => {
    const fresh = startPlan();
    expect(derive(fresh).firstProblem).toBe("area");
    expect(fresh.touched).toEqual([]);
    expect(isShown("area", fresh)).toBe(false);
    expect(showAllProblems(fresh).touched).toContain("area");
  });

  it("open the section they are in", () => {
    const bad = toggleGroup(typeNumber(example(), "speed", "0"), "machine", false);
    expect(showAllProblems(bad).openGroups).toContain("machine");
    expect(troubleWords(derive(bad).trouble)).toBe("One field needs attention: Machine.");
  });

  it.each(["-2", "two"])(
    "of the crew's exposure (%s) keep the price, and are named before anything is written",
    (text) => {
      const good = example();
      const bad = typeNumber(good, "handHours", text);
      const derived = derive(bad);
      expect(derived.estimate?.price).toBe(derive(good).estimate!.price);
      expect(derived.comparison).not.toBeNull();
      expect(derived.firstProblem).toBe("handHours");
      expect(troubleWords(derived.trouble)).toMatch(/^Crew exposure: Hours with hand tools must be .*got/);
      const both = derive(typeNumber(bad, "rate", "-1"));
      expect(both.estimate).toBeNull();
      expect(troubleWords(both.trouble)).toBe("2 fields need attention: Crew, Crew exposure.");
    },
  );

  it("name every section that has one", () => {
    const bad = typeNumber(typeNumber(example(), "speed", ""), "rate", "-1");
    expect(troubleWords(derive(bad).trouble)).toBe("2 fields need attention: Machine, Crew.");
  });
});

it("the example is a whole plan in both systems of units", () => {
  for (const units of ["us", "metric"] as const) {
    const { problems, trouble, estimate } = derive(fillInExample(startPlan(units)));
    expect([problems, trouble]).toEqual([{}, null]);
    expect(estimate!.price).toBeGreaterThan(estimate!.cost);
  }
});

it("a closed section tells its values with their units", () => {
  expect(digest("edges", startPlan().inputs)).toBe(
    "edge rate 60 ft/h · edge passes 1 · edge strip 6 in · alongside the machine",
  );
  expect(digest("job", startPlan().inputs)).toBe("US (ft, in, gal)");
});
