/**
 * What every object of the rich API has in common. A class's accessors and methods bear Office.js's own names: they,
 * and nothing else, are what an add-in can reach. Fields and members that begin with "_" stay inside.
 */
import { HostError, invalidArgument, itemNotFound, notImplemented } from "../errors";
import type { Model } from "../model";

/** Stands for an object that is not there: what `getItemOrNullObject` gives. */
export const NULL_OBJECT = Symbol("null object");
export type OrNull<T> = T | typeof NULL_OBJECT;

export function present<T>(object: OrNull<T>): T {
  if (object === NULL_OBJECT) throw itemNotFound();
  return object as T;
}

/** The value that all share, or null as Excel says "mixed". */
export function same<T>(values: readonly T[]): T | null {
  return values.length > 0 && values.every((value) => value === values[0]) ? values[0]! : null;
}

export abstract class HostObject {
  /** The class's name in Office.js, for messages. */
  abstract readonly typeName: string;
  /** Set once the add-in tracks the object: later batches ask for it by this id. */
  referenceId: string | undefined;
  /** What names the object in its collection in later batches. */
  key: string | number | undefined;

  constructor(readonly model: Model) {}

  /** Takes hold of the object beyond the batch. */
  _keep() {
    throw notImplemented(`tracking a ${this.typeName}`);
  }

  _scalarNames(): string[] {
    const members = [...membersOf(this)];
    return members.filter(([, { get }]) => get !== undefined).map(([name]) => name);
  }

  _read(name: string): unknown {
    const descriptor = membersOf(this).get(name);
    if (!descriptor?.get) throw notImplemented(`${this.typeName}.${name}`);
    return descriptor.get.call(this);
  }

  _assign(name: string, value: unknown) {
    const descriptor = membersOf(this).get(name);
    if (!descriptor?.set) {
      if (descriptor?.get) throw new HostError("InvalidArgument", `${this.typeName}.${name} is read-only.`);
      throw notImplemented(`${this.typeName}.${name} =`);
    }
    descriptor.set.call(this, value);
  }

  _call(name: string, args: unknown[]): unknown {
    const method = membersOf(this).get(name)?.value;
    if (typeof method !== "function") throw notImplemented(`${this.typeName}.${name}()`);
    return method.apply(this, args);
  }
}

const MEMBERS = new WeakMap<object, Map<string, PropertyDescriptor>>();

/** Accessors and methods of a class and of those it extends, its own first; the base class's are not an add-in's business. */
function membersOf(object: HostObject): Map<string, PropertyDescriptor> {
  const own = Object.getPrototypeOf(object) as object;
  const known = MEMBERS.get(own);
  if (known) return known;
  const members = new Map<string, PropertyDescriptor>();
  for (
    let prototype = own;
    prototype !== HostObject.prototype;
    prototype = Object.getPrototypeOf(prototype) as object
  ) {
    for (const [name, descriptor] of Object.entries(Object.getOwnPropertyDescriptors(prototype))) {
      if (name === "constructor" || name.startsWith("_") || members.has(name)) continue;
      members.set(name, descriptor);
    }
  }
  MEMBERS.set(own, members);
  return members;
}

/** A collection whose members are found by a key; `items` are made anew for each request. */
export abstract class HostCollection<T extends HostObject> extends HostObject {
  abstract _items(): T[];

  get count(): number {
    return this._items().length;
  }

  getCount(): number {
    return this._items().length;
  }

  getItemAt(index: unknown): T {
    const item = typeof index === "number" ? this._items()[index] : undefined;
    if (!item) throw invalidArgument();
    return item;
  }

  getItem(key: unknown): T {
    const item = this._find(key);
    if (!item) throw itemNotFound();
    return item;
  }

  getItemOrNullObject(key: unknown): OrNull<T> {
    return this._find(key) ?? NULL_OBJECT;
  }

  _find(key: unknown): T | undefined {
    const wanted = String(key).toLowerCase();
    return this._items().find((item) => String(item.key).toLowerCase() === wanted);
  }
}

export function ordinal(value: unknown, most = Number.MAX_SAFE_INTEGER): number {
  if (typeof value !== "number" || !Number.isInteger(value) || value < 0 || value > most) throw invalidArgument();
  return value;
}
