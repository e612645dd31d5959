/** The errors an Excel host answers with. Wording and codes follow the public documentation; where not, a guess is marked. */

/** A refusal that reaches the add-in as `OfficeExtension.Error` with this code. */
export class HostError extends Error {
  constructor(
    readonly code: string,
    message: string,
    readonly status = 400,
  ) {
    super(message);
  }
}

export const invalidArgument = (message = "The argument is invalid or missing or has an incorrect format.") =>
  new HostError("InvalidArgument", message);

export const itemNotFound = () => new HostError("ItemNotFound", "The requested resource doesn't exist.", 404);

export const itemAlreadyExists = () =>
  new HostError("ItemAlreadyExists", "A resource with the same name or identifier already exists.", 409);

export const accessDenied = () => new HostError("AccessDenied", "You cannot perform the requested operation.", 403);

export const invalidOperation = (message = "This operation is not permitted for the current object.") =>
  new HostError("InvalidOperation", message);

export const invalidReference = () =>
  new HostError("InvalidReference", "This reference is not valid for the current operation.");

/** Whatever this host does not model is refused by name, never quietly remembered. */
export const notImplemented = (member: string) =>
  new HostError("NotImplemented", `The emulated host does not implement ${member}.`, 501);
