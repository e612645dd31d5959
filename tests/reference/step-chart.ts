/**
 * Draws the picture of DEVELOPERS.md: what the way down costs by the ratio of its steps. `npm run step-chart` writes it
 * (about-double.svg). It brings its own paper for light and dark pages; the lines differ in dash and carry their names.
 */
import { AT_DOUBLE, bestRatio, costPerLn, searchedCostPerLn } from "./about-double";

const WIDTH = 640;
const HEIGHT = 400;
const PLOT = { left: 52, right: 470, top: 52, bottom: 318 };
const RATIOS = { from: 1, to: 4 };
const COSTS = { from: 1, to: 4 };

/** Costs of a step, in times what grinding off a scratch costs, whose best ratios are 1.5, 2 and 2.5. */
const LINES = [
  { fixed: 0.79, dash: "2 4" },
  { fixed: AT_DOUBLE, dash: "none" },
  { fixed: 0.11, dash: "9 4" },
];

const TITLE = "What the way down costs, by step ratio";
const DESCRIPTION =
  "Three curves of cost against step ratio from 1 to 4. Where a step costs 0.11, 0.39 or 0.79 of grinding off one " +
  "scratch, the least cost is at a ratio of 1.5, 2 and 2.5; each curve is flat about its least.";

const STYLE = `
  text { font: 13px system-ui, "Segoe UI", sans-serif; fill: #1f2328 }
  .title { font-size: 15px; font-weight: 600 }
  .paper { fill: #ffffff }
  .band { fill: #eaeef2 }
  .grid { stroke: #d1d9e0 }
  .line { stroke: #1f2328; stroke-width: 2; fill: none }
  .dot { fill: #1f2328 }
  .best { fill: #ffffff; stroke: #1f2328; stroke-width: 2 }
  @media (prefers-color-scheme: dark) {
    text { fill: #f0f6fc }
    .paper { fill: #0d1117 }
    .band { fill: #21262d }
    .grid { stroke: #3d444d }
    .line { stroke: #f0f6fc }
    .dot { fill: #f0f6fc }
    .best { fill: #0d1117; stroke: #f0f6fc }
  }
`;

const along = (share: number, from: number, to: number) => (from + share * (to - from)).toFixed(1);
const x = (ratio: number) => along((ratio - RATIOS.from) / (RATIOS.to - RATIOS.from), PLOT.left, PLOT.right);
const y = (cost: number) => along((cost - COSTS.from) / (COSTS.to - COSTS.from), PLOT.bottom, PLOT.top);

const text = (words: string, at: string) => `<text ${at}>${words}</text>`;

/** Ratios in steps of a fiftieth, as far as the cost is on the paper. */
const curve = (fixed: number) =>
  Array.from({ length: 150 }, (_, i) => 1.02 + i / 50)
    .filter((ratio) => costPerLn(ratio, fixed) <= COSTS.to)
    .map((ratio) => `${x(ratio)},${y(costPerLn(ratio, fixed))}`)
    .join(" ");

function line({ fixed, dash }: (typeof LINES)[number]): string[] {
  const best = bestRatio(fixed);
  const [atX, atY] = [x(best), y(costPerLn(best, fixed))];
  const end = y(costPerLn(RATIOS.to, fixed));
  return [
    `<polyline class="line" stroke-dasharray="${dash}" points="${curve(fixed)}"/>`,
    `<circle class="best" cx="${atX}" cy="${atY}" r="5"/>`,
    text(best.toFixed(1), `x="${atX}" y="${Number(atY) + 22}" text-anchor="middle"`),
    text(`${fixed.toFixed(2)} of a scratch`, `x="${PLOT.right + 10}" y="${Number(end) + 4}"`),
  ];
}

/** What CHEAPESTSTEPS itself counts for such a step, on the middle line. */
const dots = [1.25, 1.5, 1.75, 2.25, 2.5, 2.75, 3, 3.25, 3.5, 3.75].map(
  (ratio) => `<circle class="dot" cx="${x(ratio)}" cy="${y(searchedCostPerLn(ratio, AT_DOUBLE))}" r="3.5"/>`,
);

const grid = [1, 2, 3, 4].flatMap((tick) => [
  `<path class="grid" d="M${PLOT.left} ${y(tick)}H${PLOT.right}"/>`,
  text(String(tick), `x="${PLOT.left - 10}" y="${Number(y(tick)) + 4}" text-anchor="end"`),
  text(String(tick), `x="${x(tick)}" y="${PLOT.bottom + 20}" text-anchor="middle"`),
]);

export function stepChart(): string {
  const parts = [
    `<title id="title">${TITLE}</title>`,
    `<desc id="desc">${DESCRIPTION}</desc>`,
    `<style>${STYLE}</style>`,
    `<rect class="paper" width="${WIDTH}" height="${HEIGHT}"/>`,
    `<rect class="band" x="${x(1.5)}" y="${PLOT.top}" width="${Number(x(2.5)) - Number(x(1.5))}" height="${PLOT.bottom - PLOT.top}"/>`,
    ...grid,
    ...LINES.flatMap(line),
    ...dots,
    text(TITLE, `class="title" x="${PLOT.left}" y="22"`),
    text("cost per unit of ln size, in times grinding off one scratch", `x="${PLOT.left}" y="42"`),
    text("about double", `x="${x(2)}" y="${PLOT.top + 18}" text-anchor="middle"`),
    text("a step costs", `x="${PLOT.right + 10}" y="${Number(y(costPerLn(RATIOS.to, LINES[0]!.fixed))) - 16}"`),
    text("size of a tool over the size of the next", `x="${x(2.5)}" y="${PLOT.bottom + 42}" text-anchor="middle"`),
    text("lines: the derivation; dots: CHEAPESTSTEPS; rings: least cost", `x="${PLOT.left}" y="${HEIGHT - 12}"`),
  ];
  const root = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" role="img" aria-labelledby="title desc">`;
  return `${[root, ...parts.map((part) => `  ${part}`)].join("\n")}\n</svg>\n`;
}
