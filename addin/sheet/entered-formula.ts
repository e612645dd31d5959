/** A formula of ours as it must be entered for Excel to recognize it. */
import { ourId, tokensOf } from "../share/tokens";
import { inNamespace } from "./write";

/** The names that Excel keeps in its file, or a call with where it once found it: [2]!GRIT.SIZE(30). */
const NOT_AS_TYPED = /_xldudf_|!\s*(?:_xlfn\.)?GRIT/i;

/** Excel doesn't recognize a call that it shows with a prefix: entered again, it has our name alone. */
export function asEntered(formula: string): string {
  const typed = formula.replaceAll(inNamespace("GRIT."), "GRIT.");
  if (!NOT_AS_TYPED.test(typed)) return formula; // guess(formula-reads-back): no Excel has been seen to show this
  const words = tokensOf(typed).map((token) => (ourId(token) ? `GRIT.${ourId(token)}` : token.value));
  return inNamespace(words.join(""));
}
