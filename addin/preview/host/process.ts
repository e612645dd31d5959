/**
 * Answers one batch of the rich API as the host does: action by action, in order; what came before a failing action
 * stays done, what comes after is not tried. The protocol is inferred from the client's source.
 */
import { changes, refuseByCondition, refuseBySize } from "./conditions";
import { HostError, invalidArgument, itemNotFound, notImplemented } from "./errors";
import type { Model } from "./model";
import { HostCollection, HostObject, NULL_OBJECT, type OrNull } from "./objects/object";
import { Range } from "./objects/range";
import { AddinInternalService, CustomFunctions } from "./objects/services";
import { Workbook } from "./objects/workbook";

interface ArgumentInfo {
  readonly Arguments?: readonly unknown[];
  readonly ReferencedObjectPathIds?: readonly unknown[];
}

interface ObjectPath {
  readonly Id: number;
  readonly ObjectPathType: number;
  readonly Name: string;
  readonly ParentObjectPathId?: number;
  readonly ArgumentInfo?: ArgumentInfo;
}

interface QueryInfo {
  readonly Select?: readonly string[];
  readonly Expand?: readonly string[];
  readonly Top?: number;
  readonly Skip?: number;
}

interface Action {
  readonly Id: number;
  readonly ActionType: number;
  readonly Name?: string;
  readonly ObjectPathId: number;
  readonly ArgumentInfo?: ArgumentInfo;
  readonly QueryInfo?: QueryInfo;
  readonly ObjectState?: Record<string, unknown>;
}

export interface Batch {
  readonly Actions: readonly Action[];
  readonly ObjectPaths: Readonly<Record<string, ObjectPath>>;
}

export interface Response {
  readonly Results: { ActionId: number; Value: unknown }[];
  /** The trace actions that were reached: the client counts on them to register event handlers. */
  readonly TraceIds: number[];
  readonly Error?: {
    readonly Code: string;
    readonly Message: string;
    readonly Location: string;
    readonly HttpStatusCode: number;
    readonly ActionIndex: number;
  };
}

const ACTION = { instantiate: 1, query: 2, method: 3, set: 4, trace: 5, queryAsJson: 7, ensureUnchanged: 8, update: 9 };
const PATH = { global: 1, newObject: 2, method: 3, property: 4, indexer: 5, reference: 6, nothing: 7 };

/** Methods whose answer depends on what cells show. */
const READS_CELLS = /Spill|UsedRange|SurroundingRegion|^Add$|Total/;
/** Collections that are added to without a look at cells: to calculate at each of a plan's names would take seconds. */
const OF_NO_CELLS = /^(ConditionalFormats|Names|Tables|Worksheets)$/;

const camel = (wireName: string) => (wireName[0] === "_" ? wireName : wireName[0]!.toLowerCase() + wireName.slice(1));
const pascal = (name: string) => name[0]!.toUpperCase() + name.slice(1);

export async function processBatch(model: Model, batch: Batch): Promise<Response> {
  const run = new BatchRun(model, batch);
  const response: Response = { Results: [], TraceIds: [] };
  const tooLarge = refuseBySize(model.conditions, batch);
  if (tooLarge) return { ...response, Error: { ...refusal(tooLarge), Location: "", ActionIndex: 0 } };
  for (const [index, action] of batch.Actions.entries()) {
    try {
      response.Results.push({ ActionId: action.Id, Value: await run.act(action) });
      if (action.ActionType === ACTION.trace) response.TraceIds.push(action.Id);
    } catch (error) {
      return { ...response, Error: { ...refusal(error), Location: run.location(action), ActionIndex: index } };
    }
  }
  return response;
}

function refusal(error: unknown) {
  if (error instanceof HostError) return { Code: error.code, Message: error.message, HttpStatusCode: error.status };
  // Not the add-in's fault but this host's: say so where a developer looks.
  console.error(error);
  const message = `There was an internal error while processing the request. ${error}`;
  return { Code: "GeneralException", Message: message, HttpStatusCode: 500 };
}

const isOneColumn = (argument: unknown) => argument instanceof Range && argument._rect().columns === 1;

class BatchRun {
  private readonly objects = new Map<number, OrNull<HostObject>>();

  constructor(
    private readonly model: Model,
    private readonly batch: Batch,
  ) {}

  async act(action: Action): Promise<unknown> {
    if (this.readsCells(action) && this.model.engine.stale) await this.model.engine.settle();
    switch (action.ActionType) {
      case ACTION.instantiate:
        return identity(this.object(action.ObjectPathId));
      case ACTION.query:
        return query(this.object(action.ObjectPathId), action.QueryInfo ?? {});
      case ACTION.queryAsJson:
        return asJson(query(this.object(action.ObjectPathId), action.QueryInfo ?? {}));
      case ACTION.method:
        return this.invoke(action);
      case ACTION.set:
        this.asked(this.present(action), camel(action.Name!), true);
        this.present(action)._assign(camel(action.Name!), this.arguments(action.ArgumentInfo)[0]);
        return null;
      case ACTION.update:
        for (const name of Object.keys(action.ObjectState ?? {})) this.asked(this.present(action), camel(name), true);
        update(this.present(action), action.ObjectState ?? {});
        return null;
      case ACTION.trace:
        return null;
      default:
        throw notImplemented(`actions of type ${action.ActionType}`);
    }
  }

  /** Where an action failed, as `debugInfo.errorLocation` shows it. */
  location(action: Action): string {
    const path = this.batch.ObjectPaths[action.ObjectPathId];
    const known = this.objects.get(action.ObjectPathId);
    if (known && known !== NULL_OBJECT && action.Name) return `${(known as HostObject).typeName}.${camel(action.Name)}`;
    const parent = path?.ParentObjectPathId === undefined ? undefined : this.objects.get(path.ParentObjectPathId);
    const owner = parent && parent !== NULL_OBJECT ? (parent as HostObject).typeName : "";
    return `${owner}.${path?.Name ? camel(path.Name) : "getItem"}`;
  }

  private readsCells(action: Action): boolean {
    if (action.ActionType === ACTION.query || action.ActionType === ACTION.queryAsJson) return true;
    const path = this.batch.ObjectPaths[action.ObjectPathId];
    if (path?.ObjectPathType !== PATH.method || !READS_CELLS.test(path.Name)) return false;
    const parent = this.batch.ObjectPaths[path.ParentObjectPathId ?? 0];
    if (path.Name !== "Add") return true;
    // A chart looks at its cells for names and categories; those of a single column are its values.
    if (parent?.Name === "Charts") return !this.arguments(path.ArgumentInfo).some(isOneColumn);
    return !OF_NO_CELLS.test(parent?.Name ?? "");
  }

  private invoke(action: Action): unknown {
    const object = this.object(action.ObjectPathId);
    if (action.Name === "_KeepReference") {
      if (object !== NULL_OBJECT) (object as HostObject)._keep();
      return null;
    }
    this.asked(this.present(action), camel(action.Name!), changes(camel(action.Name!)));
    const result = this.present(action)._call(camel(action.Name!), this.methodArguments(action.ArgumentInfo));
    return result instanceof HostObject || result === NULL_OBJECT || result === undefined ? null : result;
  }

  private present({ ObjectPathId }: Action): HostObject {
    const object = this.object(ObjectPathId);
    if (object === NULL_OBJECT) throw itemNotFound();
    return object as HostObject;
  }

  private object(id: number): OrNull<HostObject> {
    const known = this.objects.get(id);
    if (known !== undefined) return known;
    const path = this.batch.ObjectPaths[id];
    if (!path) throw invalidArgument();
    const object = this.follow(path);
    this.objects.set(id, object);
    return object;
  }

  private follow(path: ObjectPath): OrNull<HostObject> {
    if (path.ObjectPathType === PATH.global) return new Workbook(this.model);
    if (path.ObjectPathType === PATH.nothing) return NULL_OBJECT;
    if (path.ObjectPathType === PATH.reference) return Range._tracked(this.model, path.Name);
    if (path.ObjectPathType === PATH.newObject) return this.service(path.Name);
    const parent = this.object(path.ParentObjectPathId!);
    if (parent === NULL_OBJECT) return NULL_OBJECT;
    const result = this.member(parent as HostObject, path);
    if (!(result instanceof HostObject) && result !== NULL_OBJECT) throw notImplemented(`${path.Name} as an object`);
    return result as OrNull<HostObject>;
  }

  private service(name: string): HostObject {
    if (name === "Microsoft.InternalService.AddinInternalService") return new AddinInternalService(this.model);
    if (name === "Microsoft.ExcelServices.CustomFunctions") return new CustomFunctions(this.model);
    throw notImplemented(`new ${name}`);
  }

  /** Before a member of an object is read, set or called. */
  private asked({ typeName }: HostObject, member: string, isChange: boolean) {
    refuseByCondition(this.model.conditions, `${typeName}.${member}`, isChange);
  }

  private member(parent: HostObject, path: ObjectPath): unknown {
    const isMethod = path.ObjectPathType === PATH.method;
    if (path.ObjectPathType !== PATH.indexer)
      this.asked(parent, camel(path.Name), isMethod && changes(camel(path.Name)));
    switch (path.ObjectPathType) {
      case PATH.property:
        return parent._read(camel(path.Name));
      case PATH.indexer:
        return parent._call("getItem", this.arguments(path.ArgumentInfo));
      case PATH.method:
        return parent._call(camel(path.Name), this.methodArguments(path.ArgumentInfo));
      default:
        throw notImplemented(`object paths of type ${path.ObjectPathType}`);
    }
  }

  /** Arguments with the objects among them in place of their ids. */
  private arguments(info: ArgumentInfo | undefined): unknown[] {
    const references = info?.ReferencedObjectPathIds ?? [];
    return (info?.Arguments ?? []).map((argument, i) => this.argument(argument, references[i]));
  }

  /** The client sends null for what was left out. */
  private methodArguments(info: ArgumentInfo | undefined): unknown[] {
    return this.arguments(info).map((argument) => argument ?? undefined);
  }

  private argument(argument: unknown, reference: unknown): unknown {
    if (Array.isArray(argument)) {
      const references = Array.isArray(reference) ? reference : [];
      return argument.map((item, i) => this.argument(item, references[i]));
    }
    if (typeof reference === "number" && reference !== 0) return this.argumentObject(reference);
    return this.withObjects(argument);
  }

  private withObjects(value: unknown): unknown {
    if (typeof value !== "object" || value === null) return value;
    if (Array.isArray(value)) return value.map((item) => this.withObjects(item));
    if ("_ObjectPathId" in value) return this.argumentObject(Number(value._ObjectPathId));
    return Object.fromEntries(Object.entries(value).map(([name, item]) => [name, this.withObjects(item)]));
  }

  private argumentObject(id: number): HostObject {
    const object = this.object(id);
    if (object === NULL_OBJECT) throw invalidArgument();
    return object as HostObject;
  }
}

/** What identifies an object in later batches. */
function identity(object: OrNull<HostObject>): Record<string, unknown> | null {
  if (object === NULL_OBJECT) return null;
  const { referenceId, key, _scalarNames } = object as HostObject;
  if (referenceId !== undefined) return { _ReferenceId: referenceId };
  if (key === undefined) return {};
  return { [_scalarNames.call(object).includes("id") ? "Id" : "_Id"]: key };
}

/** The properties asked for: "values", "format/fill/color", "*"; for a collection, those of its items. */
function query(
  object: OrNull<HostObject>,
  { Select = [], Expand = [], Top, Skip = 0 }: QueryInfo,
): Record<string, unknown> | null {
  if (object === NULL_OBJECT) return null;
  const paths = [...Select, ...Expand.map((path) => `${path}/*`)];
  if (object instanceof HostCollection) {
    const wanted = paths.filter((path) => path.toLowerCase() !== "count");
    const items = object._items().slice(Skip, Top === undefined ? undefined : Skip + Top);
    const found = items.map((item) => ({ _Id: item.key, ...select(item, wanted) }));
    return { Count: object.getCount(), _Items: found };
  }
  return select(object as HostObject, paths);
}

function select(object: HostObject, paths: readonly string[]): Record<string, unknown> {
  const found: Record<string, unknown> = identity(object) ?? {};
  for (const path of paths.length > 0 ? paths : ["*"]) {
    const [head, ...rest] = path.split(/[/.]/);
    if (head === "*") {
      selectAll(object, found);
      continue;
    }
    const value = object._read(camel(head!));
    const name = pascal(head!);
    if (value instanceof HostObject || value === NULL_OBJECT) {
      const inner = query(value as OrNull<HostObject>, { Select: rest.length > 0 ? [rest.join("/")] : ["*"] });
      found[name] = merged(found[name], inner);
    } else {
      found[name] = value;
    }
  }
  return found;
}

/** Two paths may lead through the same object, or the same collection: "font/bold" and "font/size". */
function merged(known: unknown, added: unknown): unknown {
  if (Array.isArray(known) && Array.isArray(added)) return added.map((item, i) => merged(known[i], item));
  const isObject = (value: unknown) => typeof value === "object" && value !== null && !Array.isArray(value);
  if (!isObject(known) || !isObject(added)) return added;
  const both: Record<string, unknown> = { ...(known as object) };
  for (const [name, value] of Object.entries(added as object)) both[name] = merged(both[name], value);
  return both;
}

function selectAll(object: HostObject, found: Record<string, unknown>) {
  for (const name of object._scalarNames()) {
    // A property that this object cannot answer (a whole column's values) is an answer of its own: it stays unloaded.
    const value = attempt(() => object._read(name));
    if (value !== undefined && !(value instanceof HostObject) && value !== NULL_OBJECT) found[pascal(name)] = value;
  }
}

function attempt<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch (error) {
    if (error instanceof HostError) return undefined;
    throw error;
  }
}

function update(object: HostObject, state: Record<string, unknown>) {
  for (const [name, value] of Object.entries(state)) {
    const known = attempt(() => object._read(camel(name)));
    if (known instanceof HostObject) update(known, value as Record<string, unknown>);
    else object._assign(camel(name), value);
  }
}

/** The answer to `retrieve`: the names that Office.js shows instead of the wire's. */
function asJson(value: unknown): unknown {
  if (Array.isArray(value) || typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).map(([name, item]) => {
    if (name === "_Items") return ["items", (item as unknown[]).map(asJson)];
    return [camel(name), asJson(item)];
  });
  return Object.fromEntries(entries);
}
