/** Parts of the add-in that most days nobody needs are loaded when they are asked for. */
import { Refusal } from "./refusal";

export const later = <Part>(part: Promise<Part>, does: string): Promise<Part> =>
  part.catch(() => {
    throw new Refusal(`The part of the add-in that ${does} could not be loaded. Check the connection, then try again.`);
  });
