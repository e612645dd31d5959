/** Time for the page in the middle of long work. */

const BREATH_MS = 20;

/** About as long as a page takes to show what has changed, and to hear a click, before the work goes on. */
export const breath = () => new Promise<void>((resume) => setTimeout(resume, BREATH_MS));
