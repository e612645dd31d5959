/** What the client asks of the host when it starts, besides the workbook. */
import { HostObject } from "./object";

/** Called when the add-in's ribbon commands are ready. */
export class AddinInternalService extends HostObject {
  readonly typeName = "AddinInternalService";

  notifyActionHandlerReady() {}
}

/** The runtime that would call custom functions for the host; here the grid calls them itself. */
export class CustomFunctions extends HostObject {
  readonly typeName = "CustomFunctions";

  override _call(name: string, args: unknown[]): unknown {
    if (name === "_SetOsfControlContainerReadyForCustomFunctions") return undefined;
    if (name === "_GetEnabledFeatures") return [];
    return super._call(name, args);
  }
}
