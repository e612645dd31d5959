import { Refusal } from "../../common/refusal";

/** Why the file is no workbook that can be copied, in words for the user. */
export class UnreadableWorkbook extends Refusal {}
