/** Writes the demo workbook into the preview. */
import { buildDemo } from "./demo-workbook";

Office.onReady(async () => {
  await buildDemo();
  // As when the user comes back to the pane: it looks at the shelf again.
  window.dispatchEvent(new Event("focus"));
  document.documentElement.dataset.demo = "ready";
});
