/** ConditionalFormats: kept by the host, not drawn by the grid. */
import { intersection, subtract } from "../a1";
import { accessDenied, invalidArgument, notImplemented } from "../errors";
import type { ConditionalFormatData } from "../model";
import { HostCollection, HostObject, NULL_OBJECT, type OrNull, ordinal } from "./object";
import type { Range } from "./range";
import { color, flag, part, RecordObject, type Schema, type Setting } from "./record";

/** A rule is an object with some of these members. */
function rule(required: readonly string[], optional: readonly string[] = []): Setting {
  return {
    initial: null,
    take(value) {
      if (typeof value !== "object" || value === null) throw invalidArgument();
      const names = Object.keys(value);
      if (!required.every((name) => names.includes(name))) throw invalidArgument();
      if (!names.every((name) => required.includes(name) || optional.includes(name))) throw invalidArgument();
      return value;
    },
  };
}

interface Kind {
  readonly member: string;
  readonly typeName: string;
  readonly schema: Schema;
  readonly hasFormat: boolean;
}

const KINDS: Readonly<Record<string, Kind>> = {
  CellValue: {
    member: "cellValue",
    typeName: "CellValueConditionalFormat",
    schema: { rule: rule(["formula1", "operator"], ["formula2"]) },
    hasFormat: true,
  },
  ContainsText: {
    member: "textComparison",
    typeName: "TextConditionalFormat",
    schema: { rule: rule(["operator", "text"]) },
    hasFormat: true,
  },
  TopBottom: {
    member: "topBottom",
    typeName: "TopBottomConditionalFormat",
    schema: { rule: rule(["rank", "type"]) },
    hasFormat: true,
  },
  PresetCriteria: {
    member: "preset",
    typeName: "PresetCriteriaConditionalFormat",
    schema: { rule: rule(["criterion"]) },
    hasFormat: true,
  },
  Custom: { member: "custom", typeName: "CustomConditionalFormat", schema: {}, hasFormat: true },
  ColorScale: {
    member: "colorScale",
    typeName: "ColorScaleConditionalFormat",
    schema: { criteria: rule(["minimum", "maximum"], ["midpoint"]) },
    hasFormat: false,
  },
};

export class ConditionalFormatCollection extends HostCollection<ConditionalFormat> {
  readonly typeName = "ConditionalFormatCollection";

  constructor(private readonly range: Range) {
    super(range.model);
  }

  _items(): ConditionalFormat[] {
    const block = this.range._rect();
    return this._data()
      .conditionalFormats.filter(({ rects }) => rects.some((rect) => intersection(rect, block)))
      .map((data) => new ConditionalFormat(this.range, data));
  }

  add(type: unknown): ConditionalFormat {
    if (this._data().protection) throw accessDenied();
    if (!KINDS[String(type)]) throw notImplemented(`conditional formats of type "${type}"`);
    const id = `{${crypto.randomUUID().toUpperCase()}}`;
    const data: ConditionalFormatData = { id, type: String(type), rects: [this.range._rect()], settings: {} };
    this._data().conditionalFormats.unshift(data);
    return new ConditionalFormat(this.range, data);
  }

  _clearAll() {
    const data = this._data();
    for (const format of data.conditionalFormats) {
      format.rects = format.rects.flatMap((rect) => subtract(rect, this.range._rect()));
    }
    data.conditionalFormats = data.conditionalFormats.filter(({ rects }) => rects.length > 0);
  }

  private _data() {
    return this.model.sheet(this.range._sheetId());
  }
}

export class ConditionalFormat extends HostObject {
  readonly typeName = "ConditionalFormat";

  constructor(
    private readonly range: Range,
    private readonly data: ConditionalFormatData,
  ) {
    super(range.model);
    this.key = data.id;
  }

  get id(): string {
    return this.data.id;
  }

  get type(): string {
    return this.data.type;
  }

  get priority(): number {
    return this._all().indexOf(this.data);
  }

  set priority(priority: unknown) {
    const all = this._all();
    const to = ordinal(priority, all.length - 1);
    all.splice(all.indexOf(this.data), 1);
    all.splice(to, 0, this.data);
  }

  getRange(): Range {
    const [rect, ...others] = this.data.rects;
    if (others.length > 0) throw invalidArgument();
    return this.range._at(rect!);
  }

  delete() {
    const all = this._all();
    all.splice(all.indexOf(this.data), 1);
  }

  override _read(name: string): unknown {
    const member = name.replace(/OrNullObject$/, "");
    const kind = Object.values(KINDS).find((known) => known.member === member);
    if (!kind) return super._read(name);
    const own = KINDS[this.data.type]!.member === member;
    if (!own && name === member) throw invalidArgument();
    return own ? this._details(kind) : NULL_OBJECT;
  }

  private _details(kind: Kind): OrNull<HostObject> {
    const settings = part(this.data.settings, kind.member);
    const children: Record<string, () => HostObject> = {};
    if (kind.hasFormat) children.format = () => this._format(part(settings, "format"));
    if (kind.member === "custom") {
      const parts = { typeName: "ConditionalFormatRule", schema: { formula: formulaSetting } };
      children.rule = () => new RecordObject(this.model, parts, part(settings, "rule"));
    }
    return new RecordObject(this.model, { typeName: kind.typeName, schema: kind.schema, children }, settings);
  }

  private _format(settings: Record<string, unknown>): HostObject {
    const fill = part(settings, "fill");
    const children = {
      font: () =>
        new RecordObject(this.model, { typeName: "ConditionalRangeFont", schema: FONT }, part(settings, "font")),
      fill: () => {
        const methods = {
          clear: () => {
            fill.color = "";
          },
        };
        return new RecordObject(
          this.model,
          { typeName: "ConditionalRangeFill", schema: { color: color("") }, methods },
          fill,
        );
      },
    };
    return new RecordObject(this.model, { typeName: "ConditionalRangeFormat", schema: {}, children }, settings);
  }

  private _all(): ConditionalFormatData[] {
    return this.model.sheet(this.range._sheetId()).conditionalFormats;
  }
}

const FONT: Schema = { bold: flag(false), italic: flag(false), strikethrough: flag(false), color: color("") };

const formulaSetting: Setting = {
  initial: "",
  take(value) {
    if (typeof value !== "string" || value === "") throw invalidArgument();
    return value;
  },
};
