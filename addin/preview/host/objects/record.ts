/**
 * Objects that only hold settings (a chart's title, a page's margins): a schema says which there are, what they start
 * as and what they accept, and anything else is refused.
 */
import { invalidArgument, notImplemented } from "../errors";
import type { Model } from "../model";
import { HostObject, type OrNull } from "./object";

export interface Setting {
  readonly initial: unknown;
  /** The value to keep; throws when the host would refuse it. */
  readonly take: (value: unknown) => unknown;
}

export type Schema = Readonly<Record<string, Setting>>;
export type Settings = Record<string, unknown>;

const refuseUnless = (ok: boolean) => {
  if (!ok) throw invalidArgument();
};

const setting = (initial: unknown, accepts: (value: unknown) => boolean): Setting => ({
  initial,
  take(value) {
    refuseUnless(accepts(value));
    return value;
  },
});

export const text = (initial: string | null = "") => setting(initial, (value) => typeof value === "string");
export const flag = (initial: boolean) => setting(initial, (value) => typeof value === "boolean");
export const number = (initial: number | null, least = -Infinity, most = Infinity) =>
  setting(initial, (value) => typeof value === "number" && value >= least && value <= most);
export const choice = (initial: string | null, ...words: string[]) =>
  setting(initial, (value) => typeof value === "string" && words.includes(value));

/** The color names that the host knows besides #RRGGBB. */
const COLOR_NAMES: Readonly<Record<string, string>> = {
  black: "#000000",
  white: "#FFFFFF",
  red: "#FF0000",
  green: "#008000",
  blue: "#0000FF",
  yellow: "#FFFF00",
  orange: "#FFA500",
  gray: "#808080",
  grey: "#808080",
  silver: "#C0C0C0",
  purple: "#800080",
  navy: "#000080",
  teal: "#008080",
};

/** A color as the host keeps it: #RRGGBB. */
export function colorOf(value: unknown): string {
  if (typeof value !== "string") throw invalidArgument();
  if (/^#?[0-9a-f]{6}$/i.test(value)) return `#${value.replace("#", "").toUpperCase()}`;
  const named = COLOR_NAMES[value.toLowerCase()];
  if (!named) throw notImplemented(`the color "${value}"`);
  return named;
}

export const color = (initial: string): Setting => ({ initial, take: colorOf });

export interface RecordParts {
  readonly typeName: string;
  readonly schema: Schema;
  readonly children?: Readonly<Record<string, () => OrNull<HostObject>>>;
  readonly methods?: Readonly<Record<string, (...args: any[]) => unknown>>;
}

export class RecordObject extends HostObject {
  readonly typeName: string;

  constructor(
    model: Model,
    private readonly parts: RecordParts,
    private readonly settings: Settings,
  ) {
    super(model);
    this.typeName = parts.typeName;
  }

  override _scalarNames(): string[] {
    return Object.keys(this.parts.schema);
  }

  override _read(name: string): unknown {
    const child = this.parts.children?.[name];
    if (child) return child();
    return readSetting(this.parts.schema, this.settings, name, this.typeName);
  }

  override _assign(name: string, value: unknown) {
    const known = this.parts.schema[name];
    if (!known) throw notImplemented(`${this.typeName}.${name} =`);
    this.settings[name] = known.take(value);
    this.model.changed();
  }

  override _call(name: string, args: unknown[]): unknown {
    const method = this.parts.methods?.[name];
    if (!method) throw notImplemented(`${this.typeName}.${name}()`);
    const result = method(...args);
    this.model.changed();
    return result;
  }
}

export function readSetting(schema: Schema, settings: Settings, name: string, typeName: string): unknown {
  const known = schema[name];
  if (!known) throw notImplemented(`${typeName}.${name}`);
  return settings[name] === undefined ? known.initial : settings[name];
}

/** The settings of a part, made when first asked for. */
export function part(settings: Settings, name: string): Settings {
  settings[name] ??= {};
  return settings[name] as Settings;
}
