/**
 * Copies of the document, handed over piece by piece: what stands behind `Office.context.document.getFileAsync`. What the
 * client sends and expects is read from its source, and its numbers are its own.
 */

/** A refusal, by the number under which the client has the words for it. */
export class CopyRefused extends Error {
  constructor(readonly code: number) {
    super(`The emulated host refuses the document's file (${code}).`);
  }
}

/** The kind of file that is the whole workbook. */
const COMPRESSED = 5;
const FILE_TYPE_NOT_SUPPORTED = 1009;
/** guess(file-released): which of the client's numbers a host answers with for a copy that was released. */
const INTERNAL_ERROR = 5001;
const MEMORY_FILE_LIMIT = 11_000;
/** What other hosts' web viewers answer (office-js#5297). */
export const NOT_IN_VIEWER = 11_001;
/** The documentation of Office.File: no more than two documents in memory. */
const MOST_OPEN = 2;

export class DocumentCopies {
  private readonly open = new Map<number, Uint8Array>();
  private next = 1;

  constructor(private readonly file: () => Promise<Uint8Array>) {}

  /** By which handle the client is to ask for pieces, and how many bytes there are. */
  async make(kind: unknown): Promise<readonly [handle: number, size: number]> {
    if (kind !== COMPRESSED) throw new CopyRefused(FILE_TYPE_NOT_SUPPORTED);
    if (this.open.size >= MOST_OPEN) throw new CopyRefused(MEMORY_FILE_LIMIT);
    const handle = this.next++;
    // Its place is taken while it is made.
    this.open.set(handle, new Uint8Array());
    try {
      const bytes = await this.file();
      this.open.set(handle, bytes);
      return [handle, bytes.length];
    } catch (error) {
      this.open.delete(handle);
      if (error instanceof CopyRefused) throw error;
      // Not the add-in's fault but this host's: say so where a developer looks.
      console.error(error);
      throw error;
    }
  }

  /** Bytes as numbers, and how many there are. */
  piece(handle: unknown, from: unknown, size: unknown): readonly [bytes: readonly number[], size: number] {
    const bytes = this.open.get(Number(handle));
    if (!bytes) throw new CopyRefused(INTERNAL_ERROR);
    const piece = Array.from(bytes.subarray(Number(from), Number(from) + Number(size)));
    return [piece, piece.length];
  }

  release(handle: unknown) {
    if (!this.open.delete(Number(handle))) throw new CopyRefused(INTERNAL_ERROR);
  }
}
