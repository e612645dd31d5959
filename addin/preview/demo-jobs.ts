/** The demo's past jobs: an owner's own list, with the mistakes that such lists have. All of it is invented. */

// A blank row, a date typed as text, the same job twice, a price with its sign, and a job without hours are on purpose.
const LIST = `
Job #; Finished; Sq ft; Passes; Bond; Mohs; Machine; Bid price; Billed; Bid cost; Final cost; Bid hours; Hours worked; Bid labor rate; Actual labor rate; Sets bid; Sets used; Bid set price; Actual set price; Bid liquids; Actual liquids
2401; 45679; 3200; 3; metal; 5; Machine A, 28 in; 3290; 3090; 2235.6; 2219.3; 34; 33.5; 39; 39; 0.36; 0.38; 510; 510; 0; 0
2402; 45693; 5100; 3; metal; 6.5; Machine A, 28 in; 5000; 5000; 3402.7; 3754.4; 54; 59; 39; 39; 0.57; 0.74; 510; 510; 0; 0
2403; 45712; 1800; 7; resin; 4.5; Machine B, 20 in; 2830; 2830; 1922.95; 1881.7; 25; 24; 39; 39; 0.43; 0.42; 265; 285; 234; 240
2404; 45730; 4400; 7; resin; 5; Machine A, 28 in; 6370; 6370; 4333.25; 4444.5; 61; 63.5; 39; 39; 1.05; 1.2; 265; 255; 572; 523
2405; 3 April; 2600; 3; metal; 7; Machine B, 20 in; 2690; 2490; 1828.9; 2120.4; 27; 32.5; 39; 39; 0.29; 0.29; 510; 510; 0; 0
2406; 45770; 6200; 7; resin; 5.5; Machine A, 28 in; 8830; 8830; 6006.2; 6346.05; 86; 89; 39; 39; 1.48; 1.33; 265; 285; 806; 880
2407; 45791; 2900; 7; resin; 3.5; Machine B, 20 in; 4310; 4310; 2929.85; 2656.8; 40; 35.5; 39; 39; 0.69; 0.78; 265; 285; 377; 363
;;;;;;;;;;;;;;;;;;;;
2408; 45810; 3600; 3; metal; 6.5; Machine A, 28 in; 3630; 3630; 2468; 2862.47; 38; 43.5; 39; 41.25; 0.4; 0.41; 510; 510; 0; 0
2409; 45832; 7400; 7; resin; 5; Machine A, 28 in; 10500; 10300; 7137.4; 7335.8; 103; 98; 39; 40.5; 1.76; 1.96; 265; 280; 962; 1076
2410; 45855; 2200; 3; metal; 4; Machine B, 20 in; 2340; 2340; 1591.4; 1726.7; 23; 23; 39; 39; 0.24; 0.27; 510; 510; 0; 0
2411; 45876; 4800; 7; resin; 6.5; Machine A, 28 in; 6950; 6950; 4727.1; 9099.98; 67; 140.5; 39; 41.25; 1.14; 0.99; 265; 265; 624; 705
2412; 45897; 3300; 7; resin; 4.5; Machine B, 20 in; 4890; 4890; 3326.35; 3443.62; 46; 46.5; 39; 41.25; 0.79; 0.9; 265; 255; 429; 395
2413; 45918; 5600; 3; metal; 5; Machine A, 28 in; 5430; 5430; 3693.2; 3658.75; 59; 60; 39; 39; 0.62; 0.55; 510; 525; 0; 0
2414; 45939; 1500; 7; resin; 6; Machine B, 20 in; 2430; 2580; 1653.4; 1833.05; 21; 24; 39; 40.5; 0.36; 0.31; 265; 255; 195; 196
2403; 45712; 1800; 7; resin; 4.5; Machine B, 20 in; 2830; 2830; 1922.95; 1881.7; 25; 24; 39; 39; 0.43; 0.42; 265; 285; 234; 240
2415; 45953; 3900; 7; resin; 5; Machine A, 28 in; 5770; $5,770; 3930.4; 4021.75; 54; 56; 39; 39; 0.93; 1.01; 265; 265; 507; 521
2416; 45960; 2500; 3; metal; 5.5; Machine B, 20 in; 2650; 2650; 1801.9; 1640; 26; 0; 39; 39; 0.28; 0.25; 510; 510; 0; 0
`;

/** Text that reads as a number is one. */
const cellOf = (text: string) => (text === "" || Number.isNaN(Number(text)) ? text : Number(text));

/** The headings, then one row a job. */
export const PAST_JOBS: (string | number)[][] = LIST.trim()
  .split("\n")
  .map((line) => line.split(";").map((text) => cellOf(text.trim())));
