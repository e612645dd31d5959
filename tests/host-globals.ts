/** The one global the functions need: the host's error class, with the public shape of the real runtime's. */
class HostError extends Error {
  constructor(
    readonly code: string,
    message?: string,
  ) {
    super(message ?? code);
  }
}

Object.assign(globalThis, {
  CustomFunctions: {
    Error: HostError,
    ErrorCode: {
      invalidValue: "#VALUE!",
      notAvailable: "#N/A",
      divisionByZero: "#DIV/0!",
      invalidNumber: "#NUM!",
      nullReference: "#NULL!",
      invalidName: "#NAME?",
      invalidReference: "#REF!",
    },
    associate: () => undefined,
  },
});
