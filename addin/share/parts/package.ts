/** An .xlsx file: a zip of parts, which relationships hold together. */
import { unzipSync, type Zippable, zipSync } from "fflate";
import { type Needed, type UnreadableWorkbook, unreadable } from "../refusals";
import { damagedFile } from "./checksums";
import { attribute, attributes, elements, escaped, root, Splices } from "./xml";

export interface Relationship {
  readonly id: string;
  readonly type: string;
  /** The part it leads to; of an external one, the address as it is written. */
  readonly target: string;
  readonly external: boolean;
}

export const CONTENT_TYPES = "[Content_Types].xml";

/** What old and encrypted workbooks begin with: they are OLE compound files. */
const OLE = [0xd0, 0xcf, 0x11, 0xe0];
const ZIP = [0x50, 0x4b];

const begins = (bytes: Uint8Array, signature: readonly number[]) => signature.every((byte, i) => bytes[i] === byte);

export class Package {
  private readonly parts: Map<string, Uint8Array>;
  private readonly texts = new Map<string, string>();

  constructor(parts: Record<string, Uint8Array> = {}) {
    this.parts = new Map(Object.entries(parts));
  }

  static open(bytes: Uint8Array): Package {
    if (bytes.length === 0) throw unreadable("empty");
    if (begins(bytes, OLE)) throw refusalOfOle(bytes);
    if (!begins(bytes, ZIP)) throw unreadable("noWorkbook");
    const files = unpacked(bytes);
    const damaged = damagedFile(bytes, files);
    if (damaged !== undefined) throw unreadable("badChecksum", { part: damaged });
    // Some writers part folders with backslashes.
    return new Package(
      Object.fromEntries(Object.entries(files).map(([name, file]) => [name.replaceAll("\\", "/"), file])),
    );
  }

  names(): string[] {
    return [...this.parts.keys()].filter((name) => !name.endsWith("/"));
  }

  has(name: string): boolean {
    return this.parts.has(name);
  }

  /** The text of a part; a refusal says what it is for. */
  text(name: string, needed: Needed | { readonly sheet: string } = "part"): string {
    const known = this.texts.get(name);
    if (known !== undefined) return known;
    const bytes = this.parts.get(name);
    if (!bytes) {
      if (typeof needed === "object") throw unreadable("sheetMissing", { part: name, ...needed });
      throw unreadable("partMissing", { part: name, needed });
    }
    const text = decoded(bytes);
    this.texts.set(name, text);
    return text;
  }

  write(name: string, text: string): void {
    this.texts.set(name, text);
    this.parts.set(name, new TextEncoder().encode(text));
  }

  /** Adds a part of a kind that the file may not have had yet. */
  add(name: string, contentType: string, text: string): void {
    this.write(name, text);
    const types = this.text(CONTENT_TYPES);
    const { innerEnd, prefix } = root(types);
    const override = `<${prefix}Override PartName="/${escaped(name)}" ContentType="${contentType}"/>`;
    this.write(CONTENT_TYPES, types.slice(0, innerEnd) + override + types.slice(innerEnd));
  }

  remove(name: string): void {
    this.parts.delete(name);
    this.texts.delete(name);
    const types = this.text(CONTENT_TYPES);
    const splices = new Splices(types);
    for (const override of elements(types, ["Override"])) {
      if (attribute(override, "PartName")?.toLowerCase() === `/${name}`.toLowerCase()) splices.remove(override);
    }
    this.write(CONTENT_TYPES, splices.result());
  }

  /** A part, what says where it leads to, and what nothing else leads to then. */
  removeWithAll(name: string): void {
    if (!this.has(name)) return;
    const leads = this.relationships(name);
    const list = relationshipsPart(name);
    if (this.has(list)) this.remove(list);
    this.remove(name);
    for (const { target, external } of leads) {
      if (!external && this.has(target) && !this.isLedTo(target)) this.removeWithAll(target);
    }
  }

  private isLedTo(name: string): boolean {
    const owners = this.names().filter((known) => known.endsWith(".rels"));
    return owners.some((list) => this.relationships(ownerOf(list)).some(({ target }) => target === name));
  }

  /** Where a part leads to; "" is the package itself. */
  relationships(part: string): Relationship[] {
    const list = relationshipsPart(part);
    if (!this.has(list)) return [];
    return [...elements(this.text(list), ["Relationship"])].map((element) => {
      const { Id = "", Type = "", Target = "", TargetMode } = Object.fromEntries(attributes(element));
      const external = TargetMode === "External";
      return { id: Id, type: Type, target: external ? Target : this.resolve(part, Target), external };
    });
  }

  /** Makes a part lead to another, and says by which id. */
  relate(part: string, type: string, target: string): string {
    const taken = new Set(this.relationships(part).map(({ id }) => id.toLowerCase()));
    let n = 1;
    while (taken.has(`rid${n}`)) n++;
    const list = relationshipsPart(part);
    const xml = this.text(list);
    const { innerEnd, prefix } = root(xml);
    const folder = part.slice(0, part.lastIndexOf("/") + 1);
    const path = target.startsWith(folder) ? target.slice(folder.length) : `/${target}`;
    const one = `<${prefix}Relationship Id="rId${n}" Type="${type}" Target="${escaped(path)}"/>`;
    this.write(list, xml.slice(0, innerEnd) + one + xml.slice(innerEnd));
    return `rId${n}`;
  }

  unrelate(part: string, id: string): void {
    const list = relationshipsPart(part);
    const xml = this.text(list);
    const splices = new Splices(xml);
    for (const one of elements(xml, ["Relationship"])) if (attribute(one, "Id") === id) splices.remove(one);
    this.write(list, splices.result());
  }

  /** A target as a part's name; names are compared without regard to case. */
  private resolve(part: string, target: string): string {
    const name = pathOf(part, target);
    if (this.has(name)) return name;
    const wanted = name.toLowerCase();
    return this.names().find((known) => known.toLowerCase() === wanted) ?? name;
  }

  zip(): Uint8Array {
    const files: Zippable = {};
    for (const [name, bytes] of this.parts) files[name] = bytes;
    // A third of the time of the usual level, for a file that is hardly larger.
    return zipSync(files, { level: 3 });
  }
}

function unpacked(bytes: Uint8Array): Record<string, Uint8Array> {
  try {
    return unzipSync(bytes);
  } catch (error) {
    throw unreadable("brokenZip", { detail: (error as Error).message });
  }
}

/** A part in whatever encoding it says; what is written again is UTF-8, and says so. */
function decoded(bytes: Uint8Array): string {
  const utf16 =
    bytes[0] === 0xff || bytes[1] === 0 ? "utf-16le" : bytes[0] === 0xfe || bytes[0] === 0 ? "utf-16be" : "";
  const head = utf16 ? "" : String.fromCharCode(...bytes.subarray(0, 200));
  const label = utf16 || (/^[^<]*<\?xml[^>]*\sencoding\s*=\s*["']([\w.:-]+)["']/.exec(head)?.[1] ?? "utf-8");
  const text = decoderOf(label).decode(bytes);
  return label.toLowerCase() === "utf-8"
    ? text
    : text.replace(/^(<\?xml[^>]*\sencoding\s*=\s*)["'][^"']*["']/, '$1"UTF-8"');
}

function decoderOf(label: string): TextDecoder {
  try {
    return new TextDecoder(label);
  } catch {
    return new TextDecoder();
  }
}

/** A target that is no path leads nowhere, and is left as it is. */
function pathOf(part: string, target: string): string {
  try {
    return decodeURIComponent(new URL(target, `part:///${part}`).pathname.slice(1));
  } catch {
    return target;
  }
}

function relationshipsPart(part: string): string {
  const slash = part.lastIndexOf("/") + 1;
  return `${part.slice(0, slash)}_rels/${part.slice(slash)}.rels`;
}

const ownerOf = (list: string) => list.replace(/_rels\/([^/]*)\.rels$/, "$1");

/** Old workbooks name their streams in UTF-16; an encrypted new one has a stream of this name. */
function refusalOfOle(bytes: Uint8Array): UnreadableWorkbook {
  const name = [..."EncryptedPackage"].flatMap((letter) => [letter.charCodeAt(0), 0]);
  for (let at = bytes.indexOf(name[0]!); at >= 0; at = bytes.indexOf(name[0]!, at + 1)) {
    if (name.every((byte, i) => bytes[at + i] === byte)) return unreadable("encrypted");
  }
  return unreadable("old");
}
