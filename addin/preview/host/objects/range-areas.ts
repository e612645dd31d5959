/** Several blocks of one sheet: what Excel answers where one address has many parts. */
import type { Model } from "../model";
import { HostObject } from "./object";
import type { Range } from "./range";

export class RangeAreas extends HostObject {
  readonly typeName = "RangeAreas";

  constructor(
    model: Model,
    private readonly blocks: readonly Range[],
  ) {
    super(model);
  }

  /** It is made anew, of the blocks as they are then, whenever a later batch asks for it. */
  override _keep() {}

  get address(): string {
    return this.blocks.map((block) => block.address).join(",");
  }

  get areaCount(): number {
    return this.blocks.length;
  }

  get cellCount(): number {
    return this.blocks.reduce((sum, block) => sum + block.cellCount, 0);
  }
}
