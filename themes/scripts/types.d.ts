// What the scripts and the engine say to each other; for the type checker alone, never published.
interface Reading {
  label: string;
  unit?: string;
  /** The exact quantity, in SI units. */
  si?: number | null;
  text?: string;
  also?: string;
  understood?: string;
  rounded?: string;
  choice?: string;
  /** What a result may be inside the inputs' tolerances. */
  span?: { text?: string };
  /** The exact number; null for a result that doesn't exist. */
  value?: number | null;
  /** What it stands on, and where it comes from in a few words. */
  ground?: Ground;
  from?: string;
  /** The job whose value a result is, where it is an example. */
  of?: string;
  /** Why a result isn't known. */
  why?: string;
  /** What is unusual in a measurement that was confirmed. */
  doubt?: string | null;
  /** A measurement as it is to be kept. */
  keep?: string;
}
type Ground = "none" | "example" | "doubted" | "assumed" | "public" | "rated" | "measured";
/** A value that a verdict or a result hangs on. */
interface Leaf { name: string; label: string; what: "measurement" | "rating" | "input"; ground: Ground; from: string }
/** An input that nobody has measured or set. */
interface Unset { input: string; label: string; from: string; needs: Leaf[] }
interface Verdict {
  check: string;
  is: "go" | "caution" | "open" | "stop";
  /** What the numbers come to, whatever they stand on; null where one is lacking. */
  would: "go" | "caution" | "stop" | null;
  because: string;
  needs: Leaf[];
  /** A rule that always holds, and no job's verdict. */
  standing: boolean;
  /** The calculator whose check it is, where this one only reads the same measurement. */
  of: string | null;
}
interface WorkingLine { name: string; label: string; formula: string; numbers: string; result: string; mathml?: string }
interface Problem { input: string; message: string; help?: string | null; doubtful: boolean; label?: string }
interface Hit { title: string; where: string; kind: "calculator" | "row" | "page" | "heading" | "step" | "input" | "value" | "term"; url: string; excerpt: [string, boolean][] }

interface Entry {
  text: string;
  unit?: string;
  confirmed: boolean;
  /** Nobody typed it: it stands there to show how the calculator is used. */
  example?: boolean;
}
interface CalculateRequest { do: "calculate"; name: string; inputs: Record<string, Entry | string>; want: string[] }
interface LimitsRequest { do: "limits"; name: string; inputs: Record<string, Entry | string>; input: string; want: string[] }
interface GradeRequest {
  do: "grade";
  name: string;
  output: string;
  tolerance: string;
  inputs: Record<string, string>;
  given: Record<string, string>;
  typed: string;
}
interface MeasureRequest { do: "measure"; inputs: Record<string, Entry | string | null> }
/** Whose values hold: those of the job in hand and no others, a prepared job's, or a page's. */
interface JobRequest { do: "job"; whose?: "hand" | "prepared" | "page"; name?: string; kit?: string; given?: Record<string, Taken | string> }
interface JudgeRequest { do: "judge" }
interface CodeRequest { do: "qr"; text: string }
interface SwitchRequest { do: "switch"; name: string; input?: string; text: string; from: string; to: string }
interface SearchRequest { do: "search"; query: string; limit: number; spellings?: [string, string[]][] }
interface AskRequest { do: "ask"; query: string; meanings: [string, string[]][]; candidates: string[]; want: string[] }

interface Answer {
  calculator: string;
  inputs: Record<string, Reading>;
  outputs: Record<string, Reading>;
  verdicts: Verdict[];
  working: WorkingLine[];
  figure?: string;
  plot?: string;
  map?: string;
  problems: Problem[];
  /** What is unusual and was confirmed. */
  doubts?: Problem[];
  unset?: Unset[];
  /** The handbook's equipment is invented. */
  training?: boolean;
  error?: string;
}
type Is = Verdict["is"];
/** How a whole job stands. */
interface JobJudged {
  worst: Is | null;
  verdicts: Record<Is, number>;
  needs: Leaf[];
  /** Titles of calculators that gave no verdict. */
  stuck: string[];
  measured: { taken: number; of: number };
  training: boolean;
}
/** How far an input may go before a check changes its verdict; an end is null where it never does. */
interface Limit { check: string; line: string; is: "go" | "caution" | "stop"; words: string; low: object | null; high: object | null }
interface LimitsAnswer { limits?: Limit[]; problems?: Problem[]; error?: string }
interface SwitchAnswer { text?: string; error?: string }
interface GradeAnswer { right?: boolean; expected?: string; working?: WorkingLine[]; problem?: Problem; error?: string }
interface CodeAnswer { svg?: string; level?: "quartile" | "medium" | "low"; problem?: string }
interface SearchAnswer { hits: Hit[]; near: string[]; meanings: [string, string[]][]; candidates: string[]; row?: boolean; error?: string }
interface AskedOutput { label: string; text: string; of: string; also: string; rounded: string }
interface AskedVerdict { is: "go" | "caution" | "open" | "stop"; because: string }
interface AskedReading {
  calculator: string;
  title: string;
  given: { name: string; text: string }[];
  understood: { label: string; text: string }[];
  assumed: { label: string; text: string; from: string; ground: Ground }[];
  unset: { label: string; from: string }[];
  hazard: { word: string; text: string } | null;
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
  hand(bytes: ArrayBuffer, take: Taking): void;
  (request: CalculateRequest): Answer;
  (request: LimitsRequest): LimitsAnswer;
  (request: SwitchRequest): SwitchAnswer;
  (request: GradeRequest): GradeAnswer;
  (request: MeasureRequest): Answer;
  (request: JobRequest): { ok: boolean };
  (request: JudgeRequest): JobJudged;
  (request: CodeRequest): CodeAnswer;
  (request: SearchRequest): SearchAnswer;
  (request: AskRequest): Asked;
}

/** One question, put once more to a new engine where the first one stopped over it. */
interface Ask {
  (request: CalculateRequest): Promise<Answer>;
  (request: SwitchRequest): Promise<SwitchAnswer>;
  (request: GradeRequest): Promise<GradeAnswer>;
  (request: MeasureRequest): Promise<Answer>;
  (request: JobRequest): Promise<{ ok: boolean }>;
  (request: JudgeRequest): Promise<JobJudged>;
  (request: AskRequest): Promise<Asked>;
}

/** An entry that was refused, as typed; what the job held before it still holds. */
interface Refused { text: string; unit: string; label: string }
/** A value as typed, and the day it was taken: `2026-11-26`, or in words. */
interface Taken { text: string; when: string; refused?: string }
/** A job as this phone keeps it. */
interface KeptJob { version: 2; name: string; note: string; kit: string; given: Record<string, Taken>; refused: Record<string, Refused>; made: string }
/** A job that a newer handbook made: nothing but its name is known. */
interface NewerJob { version: number; name: string }
/** A job's line taken apart. */
interface Arrived {
  version: string;
  name: string;
  of: string;
  rev: string;
  kit: string;
  note: string;
  raw: string;
  given: Map<string, Taken>;
  refused: Map<string, { text: string; unit: string }>;
}
/** One change of a tube map, and the marks that it took the place of. */
interface Change { words: string; before: Record<string, string>; plan: string }
/** A job that a page of the handbook prepares. */
interface PreparedJob { name: string; title: string; url: string; kit: string; given: Record<string, string> }

/** What a page puts where a value stands: the job's, or what is lacking, and why. */
interface FoundValue { text?: string; same?: boolean; lacks?: string; why?: string }

/** What the compiled engine's parts offer; each takes its own kind of data. */
interface EngineExports {
  memory: WebAssembly.Memory;
  reserve(length: number): number;
  call(at: number, length: number): bigint;
  take_catalog(length: number): bigint;
  take_index(length: number): bigint;
  take_texts(length: number): bigint;
}

type Taking = "take_catalog" | "take_index" | "take_texts";

/** One input of a widget: its part of the page, and what the reader last typed. */
interface NumberField {
  kind: "number";
  name: string;
  part: HTMLElement;
  whose: Whose;
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
  whose: Whose;
  radios: HTMLInputElement[];
  given: string;
}
type Field = NumberField | ChoiceField;
/** Whose the value is that stands in a field: the graph's, as the page shows it; one that the page or an address gives as an example; the reader's. */
type Whose = "graph" | "example" | "reader";

/** How an answer was judged; what it shows depends on the question. */
interface Judged { is: "right" | "wrong" | "open"; show(): void }
/** What questions of each kind do their own way. */
interface Kind {
  answer(): string[];
  put(answer: string[]): void;
  judge(): Promise<Judged>;
  again(turn: number): void;
  lock(locked: boolean): void;
}
interface Question {
  part: HTMLElement;
  key: string;
  critical: boolean;
  answer(): string[];
  put(answer: string[]): void;
  judge(): Promise<Judged>;
  show(judged: Judged): void;
  again(turn: number): void;
}
interface TestState { turn: number; graded: boolean; answers: Record<string, string[]> }

interface Gaugeleaf {
  element<T extends keyof HTMLElementTagNameMap>(tag: T, className: string, ...parts: (string | Node)[]): HTMLElementTagNameMap[T];
  root: string;
  store: {
    get(key: string): unknown;
    set(key: string, value: unknown): boolean;
    own(key: string): string;
    job(): string;
    kept(): KeptJob | undefined;
    newer(): string | undefined;
    opened(found: unknown): KeptJob | undefined;
    fault(): "" | "full" | "refused";
    typed(entry: { text: string; unit: string }): string;
    ofJob(key: string): string;
  };
  questions: Question[];
  engine(): Promise<Engine>;
  ask: Ask;
  finder(): Promise<Engine>;
  excerpts(): Promise<void>;
  sharer(): Promise<Engine>;
  /** Loads a file of the site as a script, once. */
  bring(path: string): Promise<void>;
  /** Whose values hold on this page, as the engine is asked. */
  whose(): JobRequest;
  fields: {
    of(part: HTMLElement): Field;
    chosen(field: ChoiceField): string;
    choose(field: ChoiceField, value: string): void;
    put(field: NumberField, text: string, unit: string): void;
    give(field: Field, value: string): void;
    entries(fields: Field[]): Record<string, Entry | string>;
    asked(fields: Field[]): Record<string, Entry>;
  };
  jobs: {
    all(): Record<string, KeptJob>;
    inHand(): string;
    keep(id: string, job: unknown): boolean;
    choose(id: string): boolean;
    add(parts: Partial<KeptJob>): boolean;
    prepare(job: PreparedJob): boolean;
    remove(id: string): KeptJob | undefined;
    settle(id: string, name: string): boolean;
    newer(): Record<string, NewerJob>;
    addNewer(job: object): boolean;
    today(): string;
    lasting(): Promise<"folder" | "lasting" | "passing">;
  };
  /** The head of a job's form. */
  jobHead: {
    show(job: KeptJob | undefined): void;
    /** Puts anew what may be chosen. */
    offer(job: KeptJob | undefined): void;
    told(kept: boolean): void;
    say(text: string): void;
  };
  /** Its fields, and the job whose values stand in them. */
  jobForm: { fill(): Promise<void>; shown(): { id: string; job: KeptJob | undefined } };
  share?: (place: HTMLElement, job: KeptJob | NewerJob) => void;
  /** Fills the setup sheets of the page with the job in hand, and its front page's lamp. */
  jobSheet: (engine: Engine) => void;
  takeOver: (line: string) => Promise<void>;
  /** The cards of what a question came to. */
  answers(asked: Asked): HTMLElement[];
  address: {
    read(id: string): URLSearchParams | null;
    write(id: string, entries: [string, string][]): void;
  };
  show: {
    answer(widget: HTMLElement, fields: Field[], answer: Answer, quiet: string | null): void;
    limits(field: Field, answer: LimitsAnswer | null): void;
    summary(answer: Answer): string;
    working(within: ParentNode, lines: WorkingLine[]): void;
    banner(tag: "p" | "span", verdict: AskedVerdict, standing?: boolean): HTMLElement;
  };
}
declare var gaugeleaf: Gaugeleaf;
/** Bytes by the name of the script that carries them: gzipped, in base64. */
declare var gaugeleafCarried: Record<string, string>;
/** Jobs that pages of the handbook prepare. */
declare var gaugeleafPrepared: PreparedJob[];
/** The handbook's kits, the one first that serves where a job names none. */
declare var gaugeleafKits: { name: string; title: string }[];
