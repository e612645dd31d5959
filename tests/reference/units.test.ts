import { unit } from "mathjs";
import { describe, expect } from "vitest";
import { FILM } from "../../functions/liquids";
import { convert, QUANTITIES, type Quantity, si } from "../../functions/units";
import { ask, expectClose, reference } from "../helpers";

/** Each quantity's two units as mathjs writes them. */
const AS_MATHJS: Record<Quantity, [us: string, metric: string]> = {
  floorArea: ["ft^2", "m^2"],
  length: ["ft", "m"],
  toolSize: ["in", "mm"],
  travelSpeed: ["ft/minute", "m/minute"],
  areaRate: ["ft^2/hour", "m^2/hour"],
  edgeRate: ["ft/hour", "m/hour"],
  volume: ["gallon", "liter"],
  coverage: ["ft^2/gallon", "m^2/liter"],
  slidingSpeed: ["ft/minute", "m/s"],
  load: ["lbf", "kgf"],
  segmentArea: ["in^2", "mm^2"],
  pressure: ["psi", "kPa"],
  filmThickness: ["mil", "um"],
  // 1 mm over 1000 ft² is 1 µm over 1 ft², and 100 m² are a square decameter.
  wearRate: ["um/ft^2", "mm/dam^2"],
  waterRate: ["gallon/minute", "liter/minute"],
  mass: ["lb", "kg"],
  density: ["lb/ft^3", "kg/m^3"],
  airflow: ["ft^3/minute", "m^3/hour"],
};

describe("units", () => {
  for (const quantity of Object.keys(QUANTITIES) as Quantity[]) {
    reference(`${quantity} converts from us to metric`, "library: mathjs 15.2.0", () => {
      const [us, metric] = AS_MATHJS[quantity];
      // mathjs keeps the psi to eleven digits only.
      const tolerance = quantity === "pressure" ? 1e-10 : 1e-14;
      expectClose(convert(1, quantity, "us", "metric"), unit(1, us).toNumber(metric), tolerance);
    });
  }

  const SP_811 = "published: NIST SP 811 (2008), appendix B, exact by definition (from memory)";

  reference("1 in is 25.4 mm, 1 ft 0.3048 m and 1 mil 25.4 µm", SP_811, () => {
    expectClose(convert(1, "toolSize", "us", "metric"), 25.4);
    expectClose(convert(1, "length", "us", "metric"), 0.3048);
    expectClose(convert(1, "filmThickness", "us", "metric"), 25.4);
  });

  reference("1 ft² is 0.09290304 m² and 1 in² 645.16 mm²", SP_811, () => {
    expectClose(convert(1, "floorArea", "us", "metric"), 0.09290304);
    expectClose(convert(1, "segmentArea", "us", "metric"), 645.16);
  });

  reference("1 US gal is 3.785411784 L, which is 231 in³", SP_811, () => {
    expectClose(convert(1, "volume", "us", "metric"), 3.785411784);
    expectClose(si("volume", "us") / si("toolSize", "us") ** 3, 231);
  });

  reference("1 lbf is 4.4482216152605 N, 1 kgf 9.80665 N and 1 psi 6894.757293168361 Pa", SP_811, () => {
    expect(si("load", "us")).toBe(4.4482216152605);
    expect(si("load", "metric")).toBe(9.80665);
    expectClose(si("pressure", "us"), 6894.757293168361);
  });
});

describe("FILM", () => {
  reference(
    "a gallon over one square foot lies 1604.1667 mil thick",
    "hand: 231 in³ / 144 in² = 1.604166… in (NIST SP 811, 1 US gal = 231 in³)",
    () => expectClose(ask(FILM, 1), 231000 / 144),
  );

  reference("a liter over one square meter lies a millimeter thick", "hand: 0.001 m³ / 1 m² = 0.001 m", () =>
    expectClose(ask(FILM, 1, 1, "metric"), 1000),
  );

  reference("thickness at 160 ft²/gal and 55 % solids", "library: mathjs 15.2.0", () => {
    const wet = unit(1, "gallon").to("m^3").toNumber("m^3") / unit(160, "ft^2").toNumber("m^2");
    expectClose(ask(FILM, 160, 0.55), unit(0.55 * wet, "m").toNumber("mil"));
  });
});
