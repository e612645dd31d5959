/** Time for the page in the middle of long work. */

const BREATH_MS = 20;
/** As long as nobody notices that the page stands still. */
const WORK_MS = 40;

let lastBreath = Number.NEGATIVE_INFINITY;

/** About as long as a page takes to show what has changed, and to hear a click; none where it has just had that. */
export async function breath(): Promise<void> {
  if (performance.now() - lastBreath < WORK_MS) return;
  await new Promise<void>((resume) => setTimeout(resume, BREATH_MS));
  lastBreath = performance.now();
}
