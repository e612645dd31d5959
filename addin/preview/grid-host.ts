import type { Engine } from "./host/engine";
import { type Batch, Host, type Response } from "./host/host";
import { renderOf, type Sheets } from "./univer-sheet";

/** Batches of one task follow each other faster than this. */
const QUIET_MS = 150;
const LONGEST_MS = 5000;

/**
 * The host of a grid that is drawn. The grid rests while the add-in writes: to draw a half-written sheet again and again
 * takes longer than to write it.
 */
export class GridHost extends Host {
  private running = 0;
  private wrote = false;
  private restingSince: number | undefined;
  private timer: number | undefined;

  constructor(
    engine: Engine,
    private readonly sheets: Sheets,
  ) {
    super(engine);
    engine.listen((event) => {
      if (event.kind === "cells" && !event.byUser) this.wrote = true;
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
  }

  private get left(): number {
    return (this.restingSince ?? 0) + LONGEST_MS - performance.now();
  }
}
