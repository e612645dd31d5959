/**
 * Plays the Windows host for office.js in a browser: `window.external` as the client calls it. To be installed before
 * office.js runs. What the client expects is inferred from its source.
 */
import { CopyRefused, DocumentCopies } from "./document-copy";
import type { Host } from "./host";
import { DOCUMENT_SELECTION_EVENT, type HostMessage } from "./messages";

/** As much of the host as the client needs: the page may pass one that waits for the grid. */
export type AnsweringHost = Pick<Host, "process" | "onMessages" | "file">;

export interface ExternalOptions {
  /** Read whenever the client asks for the theme. */
  readonly theme?: () => "light" | "dark";
  readonly locale?: string;
}

/** The client's numbers: what it may ask for, and the stream its events come by. */
const RICH_API_REQUEST = 93;
const COPY_REQUEST = 77;
const COPY_PIECE_REQUEST = 80;
const COPY_RELEASE_REQUEST = 81;
const RICH_API_EVENT = 33;
const SUCCEEDED = 0;
const NOT_SUPPORTED = 5000;
const HTTP_OK = 200;
/** Where in a request's message the batch stands. */
const REQUEST_BODY = 4;
/** Application "Excel", activated by insertion; a shared runtime with custom functions. */
const EXCEL = 1;
const SHARED_RUNTIME = 3;

/** The requirement sets of the Excel that is played. */
const REQUIREMENT_SETS = {
  ExcelApi: "1.17",
  SharedRuntime: "1.2",
  CustomFunctionsRuntime: "1.5",
  CustomFunctions: "1.9",
  RichApiRuntime: "1.2",
  RichApiRuntimeFlag: "1.2",
  DialogApi: "1.2",
  RibbonApi: "1.2",
  KeyboardShortcuts: "1.1",
  Settings: "1.1",
  File: "1.1",
  CompressedFile: "1.1",
  BindingEvents: "1.1",
  DocumentEvents: "1.1",
};

/** Excel's own grounds and inks, by the names that `Office.context.officeTheme` shows. */
const THEMES = {
  light: {
    bodyBackgroundColor: 0xffffff,
    bodyForegroundColor: 0x262626,
    controlBackgroundColor: 0xf5f5f5,
    controlForegroundColor: 0x262626,
  },
  dark: {
    bodyBackgroundColor: 0x292929,
    bodyForegroundColor: 0xffffff,
    controlBackgroundColor: 0x1f1f1f,
    controlForegroundColor: 0xffffff,
  },
};

type Callback = (result: unknown) => void;
type EventHandler = (eventId: number, entries: unknown) => void;

/** Arrays cross the client's boundary as the SAFEARRAYs of Windows. */
function safeArray(value: unknown): unknown {
  if (!Array.isArray(value)) return value;
  const items = value.map(safeArray);
  return { toArray: () => items.slice(), dimensions: () => 1 };
}

/** The settings that the document keeps for the add-in. */
class DocumentSettings {
  private readonly settings = new Map<string, unknown>();

  Read(keys: unknown[], values: unknown[]) {
    keys.push(...this.settings.keys());
    values.push(...this.settings.values());
  }

  Write(keys: string[], values: unknown[]) {
    this.settings.clear();
    for (const [i, key] of keys.entries()) this.settings.set(key, values[i]);
  }
}

/** What the host says about itself and the document. */
class DocumentContext {
  private readonly settings = new DocumentSettings();

  constructor(
    private readonly theme: () => "light" | "dark",
    private readonly locale: string,
  ) {}

  GetAppType() {
    return EXCEL;
  }
  GetSolutionRef() {
    return "00000000-0000-0000-0000-000000000001";
  }
  GetAppVersionMajor() {
    return 16;
  }
  GetAppVersionMinor() {
    return 1;
  }
  GetAppUILocale() {
    return this.locale;
  }
  GetAppDataLocale() {
    return this.locale;
  }
  GetDocUrl() {
    return "C:\\preview\\Book1.xlsx";
  }
  GetAppCapabilities() {
    return 0;
  }
  GetActivationMode() {
    return 2;
  }
  GetControlIntegrationLevel() {
    return 1;
  }
  GetSolutionToken() {
    return "";
  }
  GetCorrelationId() {
    return "preview";
  }
  GetInstanceId() {
    return "preview-1";
  }
  GetTouchEnabled() {
    return false;
  }
  GetCommerceAllowed() {
    return false;
  }
  GetSupportedMatrix() {
    return JSON.stringify(REQUIREMENT_SETS);
  }
  GetHostCustomMessage() {
    return "";
  }
  GetHostFullVersion() {
    // A report from here must not pass for one from Excel.
    return "16.0.17000.20000 (emulated by the preview, not Excel)";
  }
  GetInitialDisplayMode() {
    return 0;
  }
  GetOfficeThemeInfo() {
    return JSON.stringify(THEMES[this.theme()]);
  }
  GetSettings() {
    return this.settings;
  }
}

/** `window.external` of the Windows host. */
export class External {
  private readonly handlers = new Map<number, EventHandler[]>();
  private readonly context: DocumentContext;
  private readonly copies: DocumentCopies;

  constructor(
    private readonly host: AnsweringHost,
    private readonly soon: (task: () => void) => void,
    theme: () => "light" | "dark" = () => "light",
    private readonly locale = "en-US",
  ) {
    this.copies = new DocumentCopies(() => host.file());
    this.context = new DocumentContext(theme, locale);
  }

  GetHostInfo() {
    return `Excel$Win32$16.01$${this.locale}$$$disableLogging$${SHARED_RUNTIME}`;
  }

  GetContext() {
    return this.context;
  }

  GetLoggingAllowed() {
    return false;
  }

  Execute(id: number, parameters: unknown[], callback: Callback) {
    this.answer(id, parameters).then(
      (answer) => callback(safeArray([SUCCEEDED, ...answer])),
      (error: unknown) => {
        const code = error instanceof CopyRefused ? error.code : NOT_SUPPORTED;
        callback(safeArray([code, String(error)]));
      },
    );
  }

  /** What follows the sign of success. */
  private async answer(id: number, parameters: unknown[]): Promise<unknown[]> {
    switch (id) {
      case RICH_API_REQUEST: {
        const message = (Array.isArray(parameters[0]) ? parameters[0] : parameters) as string[];
        const response = await this.host.process(JSON.parse(message[REQUEST_BODY]!));
        return [[HTTP_OK, [], JSON.stringify(response)]];
      }
      case COPY_REQUEST:
        return [await this.copies.make(parameters[0])];
      case COPY_PIECE_REQUEST:
        return [this.copies.piece(parameters[0], parameters[1], parameters[2])];
      case COPY_RELEASE_REQUEST:
        this.copies.release(parameters[0]);
        return [];
      default:
        throw new Error(`The emulated host does not answer request ${id}.`);
    }
  }

  RegisterEvent(id: number, _targetId: string, handler: EventHandler, callback: Callback) {
    this.handlers.set(id, [...(this.handlers.get(id) ?? []), handler]);
    this.soon(() => callback(safeArray([SUCCEEDED])));
  }

  UnregisterEvent(id: number, _targetId: string, callback: Callback) {
    this.handlers.delete(id);
    this.soon(() => callback(safeArray([SUCCEEDED])));
  }

  /** Passes the host's events on; the document's selection event has a channel of its own. */
  tell(messages: readonly HostMessage[]) {
    if (messages.some(isDocumentSelection)) this.raise(DOCUMENT_SELECTION_EVENT, []);
    const entries = messages
      .filter((message) => !isDocumentSelection(message))
      .map((entry) => [entry.messageCategory, entry.messageType, entry.targetId, entry.message, ""]);
    if (entries.length > 0) this.raise(RICH_API_EVENT, entries);
  }

  private raise(eventId: number, entries: unknown[]) {
    for (const handle of this.handlers.get(eventId) ?? []) handle(eventId, safeArray(entries));
  }
}

const isDocumentSelection = ({ messageType, targetId }: HostMessage) =>
  messageType === DOCUMENT_SELECTION_EVENT && targetId === "";

export function installExternal(target: Window, host: AnsweringHost, options: ExternalOptions = {}) {
  const { theme, locale } = options;
  const external = new External(host, (task) => target.setTimeout(task, 0), theme, locale);
  Object.defineProperty(target, "external", { value: external, writable: true, configurable: true });
  return { stop: host.onMessages((messages) => external.tell(messages)) };
}
