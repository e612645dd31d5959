/** The workbook as a file: its bytes, and a copy opened beside it. */
import { COPY_NOT_OPENED, refuseFile } from "./document-texts";
import { inWords } from "./in-workbook";

/** The client gives no more than this at once. */
const SLICE_BYTES = 4_194_304;
/** Web viewers of other programs than Excel (office-js#5297). */
const NOT_IN_VIEWER = 11_001;

/** The workbook as it is now, as the .xlsx file that saving it would give. */
export async function documentBytes(): Promise<Uint8Array> {
  if (!Office.context.requirements.isSetSupported("CompressedFile")) {
    throw refuseFile("noFiles");
  }
  const file = await answered<Office.File>((callback) =>
    Office.context.document.getFileAsync(Office.FileType.Compressed, { sliceSize: SLICE_BYTES }, callback),
  );
  try {
    return await joined(file);
  } finally {
    // The client keeps no more than two files open. What was read stays good if this fails.
    await answered<void>((callback) => file.closeAsync(callback)).catch(() => undefined);
  }
}

async function joined(file: Office.File): Promise<Uint8Array> {
  const slices: Uint8Array[] = [];
  for (let index = 0; index < file.sliceCount; index++) {
    const { data } = await answered<Office.Slice>((callback) => file.getSliceAsync(index, callback));
    slices.push(Uint8Array.from(data as ArrayLike<number>));
  }
  const size = slices.reduce((sum, { length }) => sum + length, 0);
  if (size === 0) throw refuseFile("empty");
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const slice of slices) {
    bytes.set(slice, at);
    at += slice.length;
  }
  return bytes;
}

/** The client answers by callbacks. */
function answered<T>(ask: (callback: (result: Office.AsyncResult<T>) => void) => void): Promise<T> {
  return new Promise((resolve, reject) => {
    ask(({ status, value, error }) => {
      if (status === Office.AsyncResultStatus.Succeeded) resolve(value);
      else if (error.code === NOT_IN_VIEWER) reject(refuseFile("notInViewer"));
      else reject(refuseFile("notRead", { message: error.message }));
    });
  });
}

/** Opens the bytes of an .xlsx file as a new workbook, which nobody has saved yet. */
export function openAsNewWorkbook(bytes: Uint8Array): Promise<void> {
  return inWords(() => Excel.createWorkbook(base64Of(bytes)), COPY_NOT_OPENED);
}

/** One call takes no more arguments than about this. */
const CHUNK = 0x8000;

function base64Of(bytes: Uint8Array): string {
  let text = "";
  for (let at = 0; at < bytes.length; at += CHUNK) text += String.fromCharCode(...bytes.subarray(at, at + CHUNK));
  return btoa(text);
}
