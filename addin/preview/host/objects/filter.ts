/** Filters: that of a sheet, and those of tables. Of what they may ask for, only values that are shown, and one comparison. */
import { endRow, intersection, type Rect } from "../a1";
import { criterionTest } from "../criteria";
import { accessDenied, invalidArgument, itemNotFound, notImplemented } from "../errors";
import { bodyRect } from "../formula";
import type { FilterCriteria, Model } from "../model";
import type { TableModel } from "../names";
import { HostObject, NULL_OBJECT, type OrNull } from "./object";
import { Range, rangeAt } from "./range";

type Cell = number | string | boolean | null;

/** What a filter filters, the sheet's or a table's. */
interface Filtered {
  readonly sheetId: string;
  /** With the headings, and without totals. */
  readonly rect: Rect;
  /** By column, from 0. */
  readonly criteria: ReadonlyMap<number, FilterCriteria>;
}

function filterOfSheet(model: Model, sheetId: string): Filtered | undefined {
  const { filter } = model.sheet(sheetId);
  return filter && { sheetId, ...filter };
}

function filterOfTable(table: TableModel): Filtered {
  const body = bodyRect(table);
  const rect = { ...body, row: table.rect.row, rows: endRow(body) - table.rect.row + 1 };
  const asked = table.columns.flatMap(({ id }, i) => {
    const criteria = table.filter.get(id);
    return criteria ? [[i, criteria] as const] : [];
  });
  return { sheetId: table.sheetId, rect, criteria: new Map(asked) };
}

const filtersOn = (model: Model, sheetId: string): Filtered[] => [
  ...[filterOfSheet(model, sheetId) ?? []].flat(),
  ...model.engine.book.tables.filter((table) => table.sheetId === sheetId).map(filterOfTable),
];

const hasCriteria = ({ criteria }: Filtered) => criteria.size > 0;
const belowHeadings = ({ rect }: Filtered): Rect => ({ ...rect, row: rect.row + 1, rows: rect.rows - 1 });

/** Whether a filter hides any row of a block; a row among them that was hidden by hand is taken for one of those. */
export function hasFilteredRows(model: Model, sheetId: string, block: Rect): boolean {
  return filtersOn(model, sheetId).some((filtered) => {
    const common =
      hasCriteria(filtered) && intersection({ ...belowHeadings(filtered), column: block.column, columns: 1 }, block);
    if (!common) return false;
    return rowsOf(common).some((row) => model.engine.sizes.rowHidden(sheetId, row));
  });
}

const rowsOf = ({ row, rows }: Rect): number[] => Array.from({ length: rows }, (_, i) => row + i);

/** Hides what the criteria leave out, and shows the rest. */
function filterRows({ engine }: Model, filtered: Filtered) {
  const { sheetId, rect, criteria } = filtered;
  const shows = (row: number) =>
    [...criteria].every(([i, asked]) => {
      const column = rect.column + i;
      return passes(asked, engine.value(sheetId, row, column), engine.text(sheetId, row, column));
    });
  for (const row of rowsOf(belowHeadings(filtered))) {
    const hidden = !shows(row);
    if (engine.sizes.rowHidden(sheetId, row) !== hidden)
      engine.sizes.hideRows(sheetId, { ...rect, row, rows: 1 }, hidden);
  }
}

function passes({ filterOn, values = [], criterion1 }: FilterCriteria, value: Cell, shown: string): boolean {
  if (filterOn === "Values") return values.includes(shown);
  const test = criterion1 === undefined ? undefined : criterionTest(criterion1);
  if (filterOn !== "Custom" || !test) throw notImplemented(`a filter on ${filterOn} by ${criterion1}`);
  return test(value ?? "");
}

function checked(criteria: unknown): FilterCriteria {
  const { filterOn, values, criterion1, ...others } = (criteria ?? {}) as Record<string, unknown>;
  const more = Object.entries(others).find(([, value]) => value !== undefined && value !== null);
  if (more) throw notImplemented(`a filter by ${more[0]}`);
  if (typeof filterOn !== "string") throw invalidArgument();
  if (values !== undefined && !(Array.isArray(values) && values.every((value) => typeof value === "string")))
    throw invalidArgument();
  if (criterion1 !== undefined && typeof criterion1 !== "string") throw invalidArgument();
  return { filterOn, values: values as string[] | undefined, criterion1 };
}

/** The filter of a sheet; a table has one of its own. */
export class AutoFilter extends HostObject {
  readonly typeName = "AutoFilter";

  constructor(
    model: Model,
    private readonly sheetId: string,
    private readonly table?: TableModel,
  ) {
    super(model);
  }

  get enabled(): boolean {
    return this._filtered() !== undefined;
  }

  get isDataFiltered(): boolean {
    const filtered = this._filtered();
    return filtered !== undefined && hasCriteria(filtered);
  }

  get criteria(): unknown {
    const filtered = this._filtered();
    if (!filtered) return [];
    return Array.from({ length: filtered.rect.columns }, (_, i) => filtered.criteria.get(i) ?? {});
  }

  /** Over a range, which a table's filter cannot choose; without a column it only shows the buttons. */
  apply(range: unknown, column?: unknown, criteria?: unknown) {
    this._guard();
    const block = range instanceof Range ? range : rangeAt(this.model, String(range), this.sheetId);
    if (this.table) throw notImplemented("AutoFilter.apply() of a table");
    const known = this.model.sheet(this.sheetId).filter;
    const asked = new Map(known?.criteria);
    if (column !== undefined) asked.set(Number(column), checked(criteria));
    this.model.sheet(this.sheetId).filter = { rect: block._rect(), criteria: asked };
    filterRows(this.model, this._filtered()!);
  }

  clearCriteria() {
    this._guard();
    clearFilter(this.model, this.sheetId, this.table);
  }

  remove() {
    this.clearCriteria();
    if (this.table) this.table.showFilterButton = false;
    else this.model.sheet(this.sheetId).filter = undefined;
  }

  reapply() {
    this._guard();
    const filtered = this._filtered();
    if (filtered) filterRows(this.model, filtered);
  }

  getRangeOrNullObject(): OrNull<Range> {
    const filtered = this._filtered();
    return filtered ? new Range(this.model, this.sheetId, filtered.rect) : NULL_OBJECT;
  }

  getRange(): Range {
    const range = this.getRangeOrNullObject();
    if (range === NULL_OBJECT) throw itemNotFound();
    return range as Range;
  }

  private _filtered(): Filtered | undefined {
    return this.table ? filterOfTable(this.table) : filterOfSheet(this.model, this.sheetId);
  }

  private _guard() {
    if (this.model.sheet(this.sheetId).protection?.options.allowAutoFilter === false) throw accessDenied();
  }
}

/** Shows again what a filter hides. */
export function clearFilter(model: Model, sheetId: string, table?: TableModel) {
  const criteria = table ? table.filter : model.sheet(sheetId).filter?.criteria;
  if (!criteria || criteria.size === 0) return;
  criteria.clear();
  filterRows(model, table ? filterOfTable(table) : filterOfSheet(model, sheetId)!);
}

/** The filter of one column of a table. */
export class Filter extends HostObject {
  readonly typeName = "Filter";

  constructor(
    model: Model,
    private readonly table: TableModel,
    private readonly columnId: number,
  ) {
    super(model);
  }

  get criteria(): unknown {
    return this.table.filter.get(this.columnId) ?? {};
  }

  apply(criteria: unknown) {
    this._set(checked(criteria));
  }

  applyValuesFilter(values: unknown) {
    this._set(checked({ filterOn: "Values", values }));
  }

  clear() {
    this._set(undefined);
  }

  private _set(criteria: FilterCriteria | undefined) {
    if (this.model.sheet(this.table.sheetId).protection?.options.allowAutoFilter === false) throw accessDenied();
    if (criteria) this.table.filter.set(this.columnId, criteria);
    else this.table.filter.delete(this.columnId);
    filterRows(this.model, filterOfTable(this.table));
  }
}
