/** An error as the client throws it. */
export interface OfficeError {
  readonly code: string;
  readonly message: string;
  readonly debugInfo?: { readonly errorLocation?: string };
}

export const isOfficeError = (error: unknown): error is OfficeError =>
  typeof error === "object" && error !== null && "code" in error && "message" in error;
