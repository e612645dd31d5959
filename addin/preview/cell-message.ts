/** Says in the status bar why the selected cell shows an error, as Excel's error card would. */
import type { Host } from "./host/host";

export function followSelectedCell(host: Host, bar: HTMLElement): void {
  const { engine } = host;
  const show = () => {
    const { row, column } = engine.selection(engine.active);
    const message = host.errorMessage(engine.active, row, column);
    bar.textContent = message ? `${engine.value(engine.active, row, column)} ${message}` : "";
  };
  engine.listen(({ kind }) => {
    if (kind === "selection" || kind === "calculated" || kind === "activated") show();
  });
}
