/** The workbook as a file: whether it can be had, and how it keeps our calls. */
import { documentBytes } from "../document-file";
import { inNamespace } from "../write";
import { CantTry, type Check, codeOf, shown, untriable } from "./check";
import { MARK, type Scratch } from "./scratch";
import { entriesOf } from "./zip";

type Answer = { readonly status: unknown; readonly value: any; readonly error: { readonly code: number } };
const asked = (ask: (done: (answer: Answer) => void) => void) => new Promise<Answer>((done) => ask(done));

/** The formula that has the mark, as the workbook's file keeps it, with what the file says about it. */
async function savedFormula(): Promise<RegExpExecArray | undefined> {
  const formula = new RegExp(`<f\\b([^>]*)>([^<]*${MARK}[^<]*)</f>`);
  for await (const sheet of entriesOf(await documentBytes(), /^xl\/worksheets\/[^/]+\.xml$/)) {
    const found = formula.exec(sheet);
    if (found) return found;
  }
  return undefined;
}

async function enterMarked(scratch: Scratch): Promise<void> {
  if (!Office.context.requirements.isSetSupported("CompressedFile")) throw new CantTry("there are no files here");
  await scratch.enter("A1", [[inNamespace(`=GRIT.SIZE(${MARK})`)]]);
  await scratch.values("A1");
}

export const FILES: readonly Check[] = [
  {
    id: "file-slices",
    words: "The workbook's file is available, and up to date",
    expects: "as it is now",
    async run(scratch) {
      await enterMarked(scratch);
      return (await savedFormula()) ? "as it is now" : "without what was just entered";
    },
  },
  {
    id: "saved-call",
    words: "The file keeps a call of ours as an array formula with a prefix",
    expects: "array formula _xldudf_GRIT_SIZE",
    isGuess: true,
    async run(scratch) {
      await enterMarked(scratch);
      const [, about = "", text = "no formula"] = (await savedFormula()) ?? [];
      const own = inNamespace("GRIT.").slice(0, -1);
      const kind = about.includes('t="array"') ? "array formula" : "formula";
      return `${kind} ${text.replace(`_${own}_`, "_GRIT_").replace(`(${MARK})`, "")}`;
    },
  },
  {
    id: "file-released",
    words: "A closed copy of the file can't be read",
    expects: "5001",
    isGuess: true,
    async run(scratch) {
      await enterMarked(scratch);
      const { value: file, error } = await asked((done) =>
        Office.context.document.getFileAsync(Office.FileType.Compressed, done as never),
      );
      if (!file) return `no file: ${codeOf(error)}`;
      await asked((done) => file.closeAsync(done));
      const slice = await asked((done) => file.getSliceAsync(0, done));
      return slice.value ? `read: ${shown(slice.value.size)} bytes` : codeOf(slice.error);
    },
  },
  untriable(
    "open-damaged-workbook",
    "A file that isn't a workbook isn't opened",
    "InvalidArgument",
    "it could open another window",
  ),
];
