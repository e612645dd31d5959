/** Five invented jobs with figures round enough to work out on paper. */
import type { Cells } from "./job-lists";

// Each pair is quoted, then actual. The tools and the passes of job 105 were not written down.
const LIST = `
Job; Area; Passes; Bond; Mohs; Machine; Quoted price; Actual price; Quoted cost; Actual cost; Quoted hours; Actual hours; Quoted labor rate; Actual labor rate; Quoted sets; Actual sets; Quoted set price; Actual set price; Quoted liquids; Actual liquids
101; 4000; 2; metal; 5; Wide;   5000; 5000;    3500; 3900;   40; 44; 40; 42;      1; 1.5;    300; 320; 100; 110
102; 3000; 3; metal; 7; Wide;   4000; 4200;    3000; 3360;   30; 30; 40; 40;      2; 2;      300; 300; 0; 50
103; 5000; 1; metal; 6; Wide;   8000; 8000;    6000; 5000;   50; 40; 40; 41.25;   1; 0.5;    300; 300; 200; 150
104; 2000; 5; resin; 3; Narrow; 2500; 2500;    2000; 2250;   20; 25; 38; 38;      0.4; 0.55; 200; 210; 300; 290
105; 1000;  ; resin; 4; Narrow; 1200; 1000.55;  900; 901.10; 10; 10; 38; 38.333;  ; ; ; ; 60; 60
`;

/** A text that reads as a number is one. */
const cellOf = (text: string) => (text === "" ? "" : Number.isNaN(Number(text)) ? text : Number(text));

/** The headings, then one row a job. */
export const FIVE_JOBS: Cells = LIST.trim()
  .split("\n")
  .map((line) => line.split(";").map((text) => cellOf(text.trim())));
