/**
 * Lays charts over the grid: Univer's open packages draw none. Each chart belongs to the pane of the sheet that holds its
 * top left corner (the scrolling one, or one that freezing keeps still), is clipped to it and moves with it.
 */
import { type Scene, SHEET_VIEWPORT_KEY, type Viewport } from "@univerjs/preset-sheets-core";
import { drawChart } from "./chart-drawing";
import type { Picture } from "./chart-picture";
import { renderOf, type Sheets } from "./univer-sheet";

/** Pixels from the corner of cell A1, at a zoom of 100 %. */
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

interface Drawn {
  place: Place;
  element: SVGElement;
}

const { VIEW_MAIN, VIEW_MAIN_TOP, VIEW_MAIN_LEFT, VIEW_MAIN_LEFT_TOP } = SHEET_VIEWPORT_KEY;
const PANES = [VIEW_MAIN, VIEW_MAIN_TOP, VIEW_MAIN_LEFT, VIEW_MAIN_LEFT_TOP];

export class ChartLayer {
  private readonly panes = new Map(PANES.map((key) => [key, paneElement(key)]));
  private readonly scene: Scene;
  private drawn: Drawn[] = [];
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

  /** Draws the charts of the sheet in view anew, once a frame however often it is asked. */
  redraw(): void {
    if (this.frame !== undefined) return;
    this.frame = requestAnimationFrame(() => {
      this.frame = undefined;
      this.draw();
    });
  }

  private draw(): void {
    for (const { element } of this.drawn) element.remove();
    this.drawn = this.chartsInView().map(({ place, picture }) => ({
      place,
      element: drawChart(picture, place.width, place.height),
    }));
    this.arrange();
  }

  /** Puts each chart where the grid has its cells now. */
  private arrange(): void {
    const zoom = this.scene.scaleX;
    for (const [key, pane] of this.panes) fitPane(pane, this.viewport(key));
    const corner = this.viewport(VIEW_MAIN_LEFT_TOP);
    for (const { place, element } of this.drawn) {
      const key = paneOf(place, corner, zoom);
      const viewport = this.viewport(key);
      const left = corner.left - viewport.left + (place.left - viewport.viewportScrollX) * zoom;
      const top = corner.top - viewport.top + (place.top - viewport.viewportScrollY) * zoom;
      element.style.transform = `translate(${left}px, ${top}px) scale(${zoom})`;
      this.panes.get(key)?.append(element);
    }
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
