import type { Rect } from "./host/a1";
import type { Engine } from "./host/engine";
import { type Batch, Host, type Response } from "./host/host";
import { renderOf, type Sheets } from "./univer-sheet";

/** Batches of one task follow each other faster than this. */
const QUIET_MS = 150;
const LONGEST_MS = 5000;
const ROWS_ABOVE = 4;
const COLUMNS_LEFT = 2;

/**
 * The host of a grid that is drawn. The grid rests while the add-in writes: to draw a half-written sheet again and again
 * takes longer than to write it.
 */
export class GridHost extends Host {
  private running = 0;
  private wrote = false;
  private selected: Rect | undefined;
  private restingSince: number | undefined;
  private timer: number | undefined;

  constructor(
    engine: Engine,
    private readonly sheets: Sheets,
  ) {
    super(engine);
    engine.listen((event) => {
      if (event.kind === "cells" && !event.byUser) this.wrote = true;
      if (event.kind === "selection" && this.running > 0) this.selected = event.rect;
    });
  }

  override async process(batch: Batch): Promise<Response> {
    this.running++;
    this.rest();
    try {
      return await super.process(batch);
    } finally {
      this.running--;
      if (this.running === 0) this.drawSoon();
    }
  }

  private rest(): void {
    window.clearTimeout(this.timer);
    this.restingSince ??= performance.now();
    if (this.left > 0) renderOf(this.sheets)?.deactivate();
  }

  /** What was only read needs no rest: the grid draws on at once, so that the selection never lags. */
  private drawSoon(): void {
    const wait = this.wrote ? Math.max(0, Math.min(QUIET_MS, this.left)) : 0;
    this.timer = window.setTimeout(() => this.draw(), wait);
  }

  private draw(): void {
    this.wrote = false;
    this.restingSince = undefined;
    renderOf(this.sheets)?.activate();
    // Only a grid that was drawn knows what it shows.
    requestAnimationFrame(() => this.showSelected());
  }

  private showSelected(): void {
    if (this.selected) showCell(this.sheets, this.selected);
    this.selected = undefined;
  }

  private get left(): number {
    return (this.restingSince ?? 0) + LONGEST_MS - performance.now();
  }
}

/** What the add-in selects comes into view, as in Excel, with some of what is above and left of it. */
function showCell({ api }: Sheets, { row, column }: Rect): void {
  const sheet = api.getActiveWorkbook()?.getActiveSheet();
  const shown = sheet?.getVisibleRange();
  if (!sheet || !shown) return;
  const isShown =
    row >= shown.startRow && row <= shown.endRow && column >= shown.startColumn && column <= shown.endColumn;
  if (!isShown) sheet.scrollToCell(Math.max(0, row - ROWS_ABOVE), Math.max(0, column - COLUMNS_LEFT));
}
