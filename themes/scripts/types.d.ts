// What the scripts and the engine say to each other; for the type checker alone, never published.
interface Reading {
  label: string;
  unit?: string;
  text?: string;
  also?: string;
  understood?: string;
  rounded?: string;
  choice?: string;
}
interface Verdict { check: string; is: "go" | "caution" | "stop"; because: string }
interface WorkingLine { name: string; label: string; formula: string; numbers: string; result: string; mathml?: string }
interface Problem { input: string; message: string; help?: string | null; doubtful: boolean }
interface Hit { title: string; where: string; kind: "calculator" | "row" | "page" | "heading" | "step" | "input" | "value" | "term"; url: string; excerpt: [string, boolean][] }

interface Entry { text: string; unit?: string; confirmed: boolean }
interface CalculateRequest { do: "calculate"; name: string; inputs: Record<string, Entry | string>; want: string[] }
interface SwitchRequest { do: "switch"; name: string; input: string; text: string; from: string; to: string }
interface SearchRequest { do: "search"; query: string; limit: number; spellings?: [string, string[]][] }
interface AskRequest { do: "ask"; query: string; meanings: [string, string[]][]; candidates: string[] }

interface Answer {
  calculator: string;
  inputs: Record<string, Reading>;
  outputs: Record<string, Reading>;
  verdicts: Verdict[];
  working: WorkingLine[];
  figure?: string;
  problems: Problem[];
  error?: string;
}
interface SwitchAnswer { text?: string; error?: string }
interface SearchAnswer { hits: Hit[]; near: string[]; meanings: [string, string[]][]; candidates: string[]; row?: boolean; error?: string }
interface AskedOutput { label: string; text: string; also: string; rounded: string }
interface AskedVerdict { is: "go" | "caution" | "stop"; because: string }
interface AskedReading {
  calculator: string;
  title: string;
  given: { name: string; text: string }[];
  understood: { label: string; text: string }[];
  assumed: { label: string; text: string; from: string }[];
  outputs: AskedOutput[];
  sure: boolean;
  verdict: AskedVerdict | null;
  problems: Problem[];
  doubts: Problem[];
}
interface Asked {
  readings: AskedReading[];
  conversion: { from: string; to: string; rounded: string } | null;
  told: { text: string; message: string; help: string }[];
  spellings: [string, string[]][];
}

interface Engine {
  (request: CalculateRequest): Answer;
  (request: SwitchRequest): SwitchAnswer;
  (request: SearchRequest): SearchAnswer;
  (request: AskRequest): Asked;
}

/** What the compiled engine's halves offer; each takes its own kind of data. */
interface EngineExports {
  memory: WebAssembly.Memory;
  reserve(length: number): number;
  call(at: number, length: number): bigint;
  take_catalog(length: number): bigint;
  take_index(length: number): bigint;
}

/** One input of a widget: its part of the page, and what the reader last typed. */
interface NumberField {
  kind: "number";
  name: string;
  part: HTMLElement;
  entry: HTMLInputElement;
  unit: HTMLSelectElement | null;
  given: { text: string; unit: string };
  typed: { text: string; unit: string };
  confirmed: boolean;
}
interface ChoiceField {
  kind: "choice";
  name: string;
  part: HTMLElement;
  radios: HTMLInputElement[];
  given: string;
}
type Field = NumberField | ChoiceField;

interface Gaugeleaf {
  root: string;
  store: {
    get(key: string): unknown;
    set(key: string, value: unknown): boolean;
    job(): string;
    ofJob(key: string): string;
  };
  /** Fetches a script once. */
  bring(path: string): Promise<void>;
  engine(): Promise<Engine>;
  finder(): Promise<Engine>;
  /** The cards of what a question came to. */
  answers(asked: Asked): HTMLElement[];
  address: {
    read(id: string): URLSearchParams | null;
    write(id: string, entries: [string, string][]): void;
  };
  show: {
    answer(widget: HTMLElement, fields: Field[], answer: Answer, quiet: string | null): void;
    summary(answer: Answer): string;
  };
}
declare var gaugeleaf: Gaugeleaf;
/** Bytes by the name of the script that carries them: gzipped, in base64. */
declare var gaugeleafCarried: Record<string, string>;
/** The job's values, as typed. */
declare var gaugeleafGiven: Record<string, string>;
