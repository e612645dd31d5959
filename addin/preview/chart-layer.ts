/**
 * Lays charts over the grid: Univer's open packages draw none. Each chart belongs to the pane of the sheet that holds its
 * top left corner (the scrolling one, or one that freezing keeps still), is clipped to it and moves with it.
 */
import { type Scene, SHEET_VIEWPORT_KEY, type Viewport } from "@univerjs/preset-sheets-core";
import type { Chart } from "./chart-drawing";
import { describe, type Picture } from "./chart-picture";
import { renderOf, type Sheets } from "./univer-sheet";

/** Pixels from the corner of cell A1, at a zoom of 100%. */
export interface Place {
  left: number;
  top: number;
  width: number;
  height: number;
}

export interface PlacedChart {
  place: Place;
  picture: Picture;
}

interface Shown extends PlacedChart {
  /** All that its drawing depends on. */
  readonly look: string;
  /** There once it has been in view. */
  drawing: Chart | undefined;
}

const { VIEW_MAIN, VIEW_MAIN_TOP, VIEW_MAIN_LEFT, VIEW_MAIN_LEFT_TOP } = SHEET_VIEWPORT_KEY;
const PANES = [VIEW_MAIN, VIEW_MAIN_TOP, VIEW_MAIN_LEFT, VIEW_MAIN_LEFT_TOP];

export class ChartLayer {
  private readonly panes = new Map(PANES.map((key) => [key, paneElement(key)]));
  private readonly scene: Scene;
  private charts: Shown[] = [];
  private frame: number | undefined;

  constructor(
    sheets: Sheets,
    private readonly chartsInView: () => PlacedChart[],
  ) {
    const render = renderOf(sheets);
    if (!render) throw new Error("charts need a grid that is drawn");
    this.scene = render.scene;
    const canvas = render.engine.getCanvasElement();
    canvas.parentElement?.append(...this.panes.values());
    new ResizeObserver(() => this.arrange()).observe(canvas);
    const { api } = sheets;
    const { ActiveSheetChanged, Scroll, SheetSkeletonChanged, SheetZoomChanged } = api.Event;
    api.addEvent(ActiveSheetChanged, () => this.redraw());
    api.addEvent(Scroll, () => this.arrange());
    api.addEvent(SheetSkeletonChanged, () => this.arrange());
    api.addEvent(SheetZoomChanged, () => this.arrange());
  }

  /** Follows the charts of the sheet in view, once a frame however often it is asked. */
  redraw(): void {
    if (this.frame !== undefined) return;
    this.frame = requestAnimationFrame(() => {
      this.frame = undefined;
      this.follow();
    });
  }

  /** What looks as before keeps its drawing. */
  private follow(): void {
    const before = this.charts;
    this.charts = this.chartsInView().map(({ place, picture }) => {
      const look = JSON.stringify([place.width, place.height, picture, describe(picture)]);
      const same = before.findIndex((chart) => chart.look === look);
      return { place, picture, look, drawing: before.splice(same, same < 0 ? 0 : 1)[0]?.drawing };
    });
    for (const { drawing } of before) drawing?.remove();
    this.arrange();
  }

  /** Puts each chart where the grid has its cells now. */
  private arrange(): void {
    for (const [key, pane] of this.panes) fitPane(pane, this.viewport(key));
    const missing: Shown[] = [];
    for (const chart of this.charts) {
      const { key, left, top, isInView } = this.spotOf(chart.place);
      if (isInView && !chart.drawing) missing.push(chart);
      if (!chart.drawing) continue;
      const { element } = chart.drawing;
      element.style.transform = `translate(${left}px, ${top}px) scale(${this.scene.scaleX})`;
      this.panes.get(key)?.append(element);
    }
    if (missing.length > 0) void this.draw(missing);
  }

  /** What draws is loaded with the first chart that comes into view. */
  private async draw(missing: readonly Shown[]): Promise<void> {
    const { drawChart } = await import("./chart-drawing");
    for (const chart of missing) {
      if (this.charts.includes(chart)) chart.drawing ??= drawChart(chart.picture, chart.place);
    }
    this.arrange();
  }

  /** The pane that holds a chart, and where in it the chart is. */
  private spotOf(place: Place) {
    const zoom = this.scene.scaleX;
    const corner = this.viewport(VIEW_MAIN_LEFT_TOP);
    const key = paneOf(place, corner, zoom);
    const pane = this.viewport(key);
    const left = corner.left - pane.left + (place.left - pane.viewportScrollX) * zoom;
    const top = corner.top - pane.top + (place.top - pane.viewportScrollY) * zoom;
    const isAcross = left < (pane.width ?? 0) && left + place.width * zoom > 0;
    const isDown = top < (pane.height ?? 0) && top + place.height * zoom > 0;
    return { key, left, top, isInView: isAcross && isDown };
  }

  private viewport(key: SHEET_VIEWPORT_KEY): Viewport {
    const viewport = this.scene.getViewport(key);
    if (!viewport) throw new Error(`the grid has no viewport ${key}`);
    return viewport;
  }
}

function paneElement(key: SHEET_VIEWPORT_KEY): HTMLElement {
  const element = document.createElement("div");
  element.className = "chart-pane";
  element.dataset.pane = key;
  return element;
}

function fitPane({ style }: HTMLElement, { left, top, width, height }: Viewport): void {
  style.left = `${left}px`;
  style.top = `${top}px`;
  style.width = `${width}px`;
  style.height = `${height}px`;
}

/** The corner viewport is as large as what freezing keeps still: nothing, where nothing is frozen. */
function paneOf({ left, top }: Place, corner: Viewport, zoom: number): SHEET_VIEWPORT_KEY {
  const stillColumns = left * zoom < (corner.width ?? 0);
  const stillRows = top * zoom < (corner.height ?? 0);
  if (stillColumns) return stillRows ? VIEW_MAIN_LEFT_TOP : VIEW_MAIN_LEFT;
  return stillRows ? VIEW_MAIN_TOP : VIEW_MAIN;
}
