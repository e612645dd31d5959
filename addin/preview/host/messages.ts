/** What the host sends the client, as the rich API's event stream carries it. */
export interface HostMessage {
  readonly messageCategory: number;
  readonly messageType: number;
  readonly targetId: string;
  readonly message: string;
}

/** The document's own selection event: it has no target, and in Windows a channel of its own. */
export const DOCUMENT_SELECTION_EVENT = 2;
