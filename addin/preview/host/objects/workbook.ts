/** The workbook, the application, and what the document carries besides sheets. */
import { openWorkbook } from "../../../share/parts/workbook";
import { UnreadableWorkbook } from "../../../share/refusals";
import { cellRect, parseAddress } from "../a1";
import { accessDenied, invalidArgument, invalidOperation, itemNotFound, notImplemented } from "../errors";
import type { Model } from "../model";
import { NamedItemCollection } from "./named-item";
import { HostCollection, HostObject, NULL_OBJECT, type OrNull } from "./object";
import { Range } from "./range";
import { TableCollection } from "./table";
import { WorksheetCollection } from "./worksheet";

export class Workbook extends HostObject {
  readonly typeName = "Workbook";

  get name(): string {
    return "Book1.xlsx";
  }

  get worksheets(): WorksheetCollection {
    return new WorksheetCollection(this.model);
  }

  get tables(): TableCollection {
    return new TableCollection(this.model, undefined);
  }

  get names(): NamedItemCollection {
    return new NamedItemCollection(this.model, undefined);
  }

  get application(): Application {
    return new Application(this.model);
  }

  get protection(): WorkbookProtection {
    return new WorkbookProtection(this.model);
  }

  get readOnly(): boolean {
    return this.model.readOnly;
  }

  get settings(): SettingCollection {
    return new SettingCollection(this.model);
  }

  getSelectedRange(): Range {
    const { engine } = this.model;
    return new Range(this.model, engine.active, engine.selection(engine.active));
  }

  getActiveCell(): Range {
    const { engine } = this.model;
    const { row, column } = engine.selection(engine.active);
    return new Range(this.model, engine.active, cellRect(row, column));
  }

  override _call(name: string, args: unknown[]): unknown {
    switch (name) {
      case "_RemoveReference":
        this.model.tracked.delete(String(args[0]));
        return undefined;
      case "_RemoveAllReferences":
        this.model.tracked.clear();
        return undefined;
      case "_GetRangeForEventByReferenceId":
      case "_GetRangeOrNullObjectForEventByReferenceId":
        return this._eventRange(String(args[0]));
      default:
        return super._call(name, args);
    }
  }

  /** The block of an event: "sheet id!address". */
  private _eventRange(reference: string): OrNull<Range> {
    const bang = reference.lastIndexOf("!");
    const rect = parseAddress(reference.slice(bang + 1));
    const sheetId = reference.slice(0, bang);
    return rect && this.model.engine.hasSheet(sheetId) ? new Range(this.model, sheetId, rect) : NULL_OBJECT;
  }
}

/** Protects which sheets there are, and what they are called. */
export class WorkbookProtection extends HostObject {
  readonly typeName = "WorkbookProtection";

  get protected(): boolean {
    return this.model.structure !== undefined;
  }

  protect(password?: unknown) {
    // Confirmed; guess(protect-twice): the code.
    if (this.protected) throw invalidOperation();
    this.model.structure = { password: typeof password === "string" && password !== "" ? password : undefined };
  }

  unprotect(password?: unknown) {
    const known = this.model.structure;
    if (known?.password !== undefined && known.password !== password) throw accessDenied();
    this.model.structure = undefined;
  }
}

export class Application extends HostObject {
  readonly typeName = "Application";

  get calculationState(): string {
    return "Done";
  }

  get calculationMode(): string {
    return "Automatic";
  }

  set calculationMode(_: unknown) {
    throw notImplemented("Application.calculationMode as anything but Automatic");
  }

  get decimalSeparator(): string {
    return this.model.separators.decimal;
  }

  calculate(type: unknown) {
    if (!["Recalculate", "Full", "FullRebuild"].includes(String(type))) throw invalidArgument();
    if (type !== "Recalculate") this.model.engine.calculation.calculateAll();
  }

  createWorkbook(base64: unknown): WorkbookCreated {
    const id = crypto.randomUUID();
    this.model.created.set(id, workbookFile(base64));
    return new WorkbookCreated(this.model, id);
  }

  override _call(name: string, args: unknown[]): unknown {
    if (name === "_GetWorkbookCreatedById") return new WorkbookCreated(this.model, String(args[0]));
    return super._call(name, args);
  }
}

/** The bytes of a workbook; without any it is a new one, which this host cannot open. guess(open-damaged-workbook): the code of the refusals. */
function workbookFile(base64: unknown): Uint8Array {
  if (base64 === undefined) throw notImplemented("Application.createWorkbook() without a file");
  try {
    const bytes = Uint8Array.from(atob(String(base64)), (character) => character.charCodeAt(0));
    openWorkbook(bytes);
    return bytes;
  } catch (error) {
    if (error instanceof UnreadableWorkbook) throw invalidArgument(error.message);
    throw invalidArgument("The workbook is not given as the base64 text of an .xlsx file.");
  }
}

/** A workbook that is not shown until it is opened. */
export class WorkbookCreated extends HostObject {
  readonly typeName = "WorkbookCreated";

  constructor(
    model: Model,
    private readonly created: string,
  ) {
    super(model);
    this.key = created;
  }

  get id(): string {
    return this.created;
  }

  open() {
    if (!this.model.created.has(this.created)) throw itemNotFound();
    this.model.open(this.created);
  }
}

export class SettingCollection extends HostCollection<Setting> {
  readonly typeName = "SettingCollection";

  _items(): Setting[] {
    return [...this.model.settings.keys()].map((key) => new Setting(this.model, key));
  }

  override _find(key: unknown): Setting | undefined {
    return this.model.settings.has(String(key)) ? new Setting(this.model, String(key)) : undefined;
  }

  add(key: unknown, value: unknown): Setting {
    if (typeof key !== "string" || key === "") throw invalidArgument();
    this.model.settings.set(key, value);
    return new Setting(this.model, key);
  }
}

export class Setting extends HostObject {
  readonly typeName = "Setting";

  constructor(
    model: Model,
    private readonly settingKey: string,
  ) {
    super(model);
    this.key = settingKey;
  }

  get value(): unknown {
    if (!this.model.settings.has(this.settingKey)) throw itemNotFound();
    return this.model.settings.get(this.settingKey);
  }

  set value(value: unknown) {
    this.model.settings.set(this.settingKey, value);
  }

  delete() {
    if (!this.model.settings.delete(this.settingKey)) throw itemNotFound();
  }

  override _read(name: string): unknown {
    return name === "key" ? this.settingKey : super._read(name);
  }

  override _scalarNames(): string[] {
    return ["key", "value"];
  }
}
