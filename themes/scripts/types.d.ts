// What the scripts say to each other; what the engine says is in engine.d.ts. For the type checker alone, never published.
/** One of the requests that the engine knows. */
type RequestOf<T extends EngineRequest["do"]> = Extract<EngineRequest, { do: T }>;
/** An answer, or what is wrong with the request instead. */
type OrFault<T> = T & { error?: string };

interface Engine {
  hand(bytes: ArrayBuffer, take: Taking): void;
  (request: RequestOf<"calculate">): OrFault<Answer>;
  (request: RequestOf<"limits">): OrFault<LimitsAnswer>;
  (request: RequestOf<"switch">): OrFault<SwitchAnswer>;
  (request: RequestOf<"grade">): OrFault<GradeAnswer>;
  (request: RequestOf<"measure">): OrFault<MeasureAnswer>;
  (request: RequestOf<"job">): TakeAnswer;
  (request: RequestOf<"judge">): JobJudged;
  (request: RequestOf<"draw">): SheetDrawn;
  (request: RequestOf<"qr">): CodeAnswer;
  (request: RequestOf<"search">): OrFault<SearchAnswer>;
  (request: RequestOf<"ask">): Asked;
}

/** One question, put once more to a new engine where the first one stopped over it. */
interface Ask {
  (request: RequestOf<"calculate">): Promise<OrFault<Answer>>;
  (request: RequestOf<"switch">): Promise<OrFault<SwitchAnswer>>;
  (request: RequestOf<"grade">): Promise<OrFault<GradeAnswer>>;
  (request: RequestOf<"measure">): Promise<OrFault<MeasureAnswer>>;
  (request: RequestOf<"job">): Promise<TakeAnswer>;
  (request: RequestOf<"judge">): Promise<JobJudged>;
  (request: RequestOf<"ask">): Promise<Asked>;
}

/** An entry that was refused, as typed; what the job held before it still holds. */
interface Refused { text: string; unit: string; label: string; lost?: true; /** Nothing else was typed: whoever measured is not sure of what the job holds. */ doubt?: true }
/** A value that a job holds: who took it, and what was noted of it. */
type KeptValue = Taken & { by?: string; note?: string };
/** A job as this phone keeps it. */
interface KeptJob { version: 2; name: string; note: string; kit: string; /** Whoever measures now. */ who?: string; given: Record<string, KeptValue>; refused: Record<string, Refused>; made: string }
/** A change of what is kept, made anew where the phone refused it. */
type Act = (kept: unknown) => unknown;
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
  who: string;
  raw: string;
  given: Map<string, KeptValue>;
  refused: Map<string, { text: string; unit: string }>;
}
/** A job that a page of the handbook prepares. */
interface PreparedJob { name: string; title: string; url: string; kit: string; given: Record<string, string> }

/** What a page puts where a value stands: the job's, or what is lacking, and why. */
interface FoundValue { text?: string; lacks?: string; why?: string }

/** What the compiled engine's parts offer; each takes its own kind of data. */
interface EngineExports {
  memory: WebAssembly.Memory;
  reserve(length: number): number;
  call(at: number, length: number): bigint;
  take_catalog(length: number): bigint;
  take_drawings(length: number): bigint;
  take_index(length: number): bigint;
  take_texts(length: number): bigint;
}

/** A part of the engine, the data that it opens, and what makes room for another one after a fault. */
interface Starting { half: string; data?: string; take?: Taking; drop: () => void }
type Taking = "take_catalog" | "take_drawings" | "take_index" | "take_texts";

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
/** What a field held when it was last understood, and the engine's words for it. */
interface Understood { text: string; unit: string; confirmed: boolean; whose: Whose; words: string }
/** Whose the value is that stands in a field: the graph's, as the page shows it; one that the page or an address gives as an example; the reader's. */
type Whose = "graph" | "example" | "reader";

/** How an answer was judged; what it shows depends on the question. */
/** One variant of a card: what its lines say, the place of the right answer, and why it is right. */
interface CardCase { shown: Record<string, string>; right: number; because: string }
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
/** One try at a test, one occasion of a task, or what was gone through after two fails. */
interface Tried {
  when: string;
  by: string;
  passed: boolean;
  remedy?: true;
  /** It was a slip, and counts for nothing. */
  taken?: true;
  /** Its moment, the handbook's revision, and the mark of what it stood on. */
  at?: number;
  revision?: string;
  mark?: string;
  /** Of a test. */
  right?: number;
  of?: number;
  set?: string;
  try?: number;
  aloud?: boolean;
  /** Of a task. */
  missed?: number;
  prompted?: number;
  marks?: Record<string, string>;
}
/** Anything of a record that may be taken back; of tries, whether they passed. */
interface Kept { when: string; taken?: true; passed?: boolean; remedy?: true }
interface SupervisedStrokes { when: string; at?: number; taken?: true; count: number; by: string }
/** What a sign-off stands on, by page: its hazards by their hashes, and its values as they were printed. */
type SignedGround = Record<string, { hazards: string[]; values: Record<string, string> }>;
interface RoleTerms { name: string; first: string[]; tests: string[]; tasks: string[]; among: string[]; strokes: number; beside: string; months: number }
/** What a record holds of one thing that a role wants, and until when that counts. */
interface EvidenceState { done: boolean; text: string; until: string; changed: boolean }
interface Evidence extends EvidenceState { kind: string; place: string }
/** Today, and what is too old: before `since`, or not after the day of an incident, or on which a sign-off ended. */
interface Limits { day: string; since: string; after: string; months: number }
/** What the site says of every role, and of every test and task: the pages of the work beneath it, with their hazards and values. */
interface Grounds {
  shown: Record<string, { title: string; mark: string; pages: string[] }>;
  roles: Record<string, RoleTerms>;
  pages: Record<string, { title: string; hazards: Record<string, [string, string]>; values: Record<string, [string, string]> }>;
}
declare var gaugeleafGrounds: Grounds;
/** How many ticks each page has, and its fingerprint. */
/** The page that was read last in a job. */
interface LastRead {
  page: string;
  phase: string;
  title: string;
}
/** What a term means, by its address in the glossary. */
/** What a fingerprint is of; `changed` where the page says something else now, none where it is gone. */
interface Card { title: string; url: string | null; revision: string | null; issued: string | null; review?: string | null; changed?: [string, string | null, string | null][] | null }
declare var gaugeleafCards: Record<string, Card>;
declare var gaugeleafMeanings: Record<string, string>;
declare var gaugeleafSheets: Record<string, [number, string]>;
/** What a revision has changed of it: a hazard or a value, and where it stands. */
interface GroundChange { page: string; at: string; text: string }
interface Signed {
  role: string;
  /** The pages of the tests and tasks that were signed. */
  places: string[];
  when: string;
  until: string;
  assessor: string;
  teacher: string;
  language: string;
  /** The handbook's revision. */
  revision: string;
  ground: SignedGround;
  /** The assessor's own sheet was seen, as this device doesn't hold it. */
  sheets: boolean;
  /** What had changed since was gone through with the candidate. */
  through: boolean;
  at?: number;
  ended?: { when: string; why: string };
}
/** What ends every sign-off of somebody, and the way to those that are not signed yet. */
interface Incident { when: string; why: string; at?: number }
/** Somebody's record, by page. */
interface Person {
  version: 1;
  name: string;
  tests: Record<string, Tried[]>;
  tasks: Record<string, Tried[]>;
  strokes: Record<string, SupervisedStrokes[]>;
  signed: Record<string, Signed[]>;
  incidents: Incident[];
}
/** A try: on which day it was graded, and who reads it aloud; "" where it isn't, or nobody does. */
interface TestState { try: number; at: number; graded: string; reader: string; answers: Record<string, string[]> }

interface Gaugeleaf {
  meaning(term: HTMLAnchorElement): void;
  element<T extends keyof HTMLElementTagNameMap>(tag: T, className: string, ...parts: (string | Node)[]): HTMLElementTagNameMap[T];
  all(within: ParentNode, selector: string): HTMLElement[];
  root: string;
  store: {
    get(key: string): unknown;
    set(key: string, value: unknown): boolean;
    change(key: string, act: Act): boolean;
    keys(start: string): string[];
    unkept(): boolean;
    /** A job as it was kept, of whatever edition. */
    one(id: string): unknown;
    /** The day of a value whose later entry found no room. */
    LATER: string;
    own(key: string): string;
    job(): string;
    kept(): KeptJob | undefined;
    newer(): string | undefined;
    opened(found: unknown): KeptJob | undefined;
    fault(): "" | "full" | "refused";
    typed(entry: { text: string; unit: string }): string;
    ofJob(key: string): string;
    ticks(page: string, kept?: unknown): { at: Record<string, number>; of: string; cleared?: string };
    begun(): boolean;
  };
  questions: Question[];
  names: {
    /** Names of one person. */
    same(one: string, other: string): boolean;
    isName(name: string): boolean;
    /** Names of perhaps one person. */
    near(one: string, other: string): boolean;
    /** Names of two people; where they are near each other, the reader is asked. */
    apart(one: string, other: string): boolean;
  };
  /** A record, where it is one that this handbook can read. */
  record(held: unknown): Person | null;
  people: {
    all(): Record<string, Person>;
    inHand(): string;
    /** Whose records this handbook can't read; "?" where they say no name. */
    unread(): string[];
    /** Somebody on this device whose name is nearly this one. */
    nearTo(name: string): Person | undefined;
    /** What has ended since that day whatever somebody showed until then. */
    since(when: string): Incident | undefined;
    person(): Person | undefined;
    named(name: string): [string, Person] | undefined;
    today(): string;
    later(day: string, months: number): string;
    choose(id: string): boolean;
    add(name: string): boolean;
    change(act: (person: Person) => void): boolean;
    remove(id: string): void;
    standing<T extends Kept>(kept: T[] | undefined): T[];
    tries(kept: Tried[] | undefined): Tried[];
    takeBack(kept: Kept[] | undefined): void;
    last<T extends Kept>(kept: T[] | undefined): T | undefined;
    lastDay(person: Person): string;
    follow(show: () => void): void;
    stuck(tries: Tried[] | undefined): boolean;
    passed(tries: Tried[] | undefined): Tried | undefined;
    shown(tries: Tried[] | undefined): [Tried, Tried] | undefined;
    again(tries: Tried[] | undefined): Date | undefined;
    now(page: string): { when: string; at: number; revision: string; mark: string };
    file(name: string, type: string, text: string): void;
    place(link: HTMLAnchorElement): string;
  };
  remedied(form: HTMLFormElement, keep: (by: string) => boolean): void;
  stands: {
    ready(): Promise<void>;
    role(page: string): RoleTerms | undefined;
    /** The roles among whose supervised strokes a task is shown. */
    among(task: string): string[];
    title(place: string): string;
    /** Whether a try was made in the handbook as it stands. */
    isOf(place: string, tried: Tried): boolean;
    of(places: string[]): SignedGround;
    changed(signed: Signed, places: string[]): GroundChange[];
  };
  evidence: {
    MOST: number;
    rows(role: string, person: Person, day: string): Evidence[];
    next(role: string, person: Person, day: string): { page: string; title: string; role: string };
    fallWith(person: Person, role: string, all: boolean): string[];
    standing(role: string, person: Person, day: string): string;
    last(person: Person, role: string): Signed | undefined;
    places(terms: RoleTerms): string[];
    /** What comes before a role's supervised strokes, and isn't done. */
    before(role: string, person: Person, day: string): Evidence[];
    mayJudge(name: string, role: string, day: string): boolean;
  };
  engine(): Promise<Engine>;
  ask: Ask;
  finder(): Promise<Engine>;
  /** Loads a file of the site as a script, whatever its mark. */
  load(path: string): Promise<void>;
  marks(): Promise<Record<string, string>>;
  /** The same, once. */
  marked(): Promise<Record<string, string>>;
  start(of: Starting): Promise<Engine>;
  /** The bytes that a script carries. */
  carried(name: string): Promise<ArrayBuffer>;
  excerpts(): Promise<void>;
  sharer(): Promise<Engine>;
  /** Where the browser has no `DecompressionStream`. */
  inflate(packed: Uint8Array<ArrayBuffer>): ArrayBuffer;
  /** Loads a file of the site as a script, once. */
  bring(path: string): Promise<void>;
  /** Whose values hold on this page, as the engine is asked. */
  whose(): RequestOf<"job">;
  fields: {
    of(part: HTMLElement): Field;
    chosen(field: ChoiceField): string;
    choose(field: ChoiceField, value: string): void;
    put(field: NumberField, text: string, unit: string): void;
    give(field: Field, value: string): void;
    entries(fields: Field[]): Record<string, Entry | string>;
    asked(fields: Field[]): Record<string, Entry>;
  };
  /** What helps to type, once it has come. */
  typing?: {
    fingers: boolean;
    /** To the next field, or to what all of them come to. */
    next(entry: HTMLInputElement): void;
    /** What is wrong with an entry stands beside it now. */
    rested(): void;
    answered(widget: HTMLElement, fields: Field[], answer: Answer, again: () => void, quiet: string | null): void;
  };
  /** The main result where it is out of sight. */
  pinned?: (widget: HTMLElement) => void;
  jobs: {
    all(): Record<string, KeptJob>;
    inHand(): string;
    keep(id: string, job: unknown): boolean;
    change(id: string, act: (job: KeptJob) => KeptJob): boolean;
    doubt(id: string, name: string): void;
    named(name: string, id?: string): string;
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
    show(job: KeptJob | undefined, isSame?: boolean): void;
    /** Another window did. */
    deleted(id: string, job: KeptJob, words: string): void;
    /** Puts anew what may be chosen. */
    offer(job: KeptJob | undefined): void;
    told(kept: boolean): void;
    say(text: string): void;
  };
  /** Its fields, and the job whose values stand in them. */
  jobForm: { fill(): Promise<void>; leave(): Promise<unknown>; /** Shows what has changed in the job. */ follow(): void; shown(): { id: string; job: KeptJob | undefined } };
  /** The form's short list. */
  jobList?: { update(): void };
  share?: (place: HTMLElement, job: KeptJob | NewerJob) => void;
  /** A job as a line of text and as an address: what its code says. */
  carriedBy: (job: KeptJob | NewerJob) => { local: boolean; link: string; words: string };
  /** Fills the setup sheets of the page with the job in hand, and its front page's lamp. */
  jobSheet: (engine: Engine) => Promise<void>;
  /** Says that the job has changed where the page can't begin again. */
  stale: () => void;
  /** Gives a dialog what a browser without them lacks. */
  dialog: (dialog: HTMLDialogElement) => void;
  takeOver: (line: string) => Promise<void>;
  /** The cards of what a question came to. */
  answers(asked: Asked): HTMLElement[];
  address: {
    read(id: string): URLSearchParams | null;
    write(id: string, entries: [string, string][]): void;
  };
  /** Puts a result's working on the page; brought where a page needs it later. */
  working?(within: ParentNode, lines: WorkingLine[]): void;
  show: {
    answer(widget: HTMLElement, fields: Field[], answer: Answer | MeasureAnswer, quiet: string | null): void;
    /** What explains a result: its working and its drawings. */
    drawn(widget: HTMLElement, answer: Answer): void;
    limits(field: Field, answer: LimitsAnswer | null): void;
    summary(answer: Answer): string;
    banner(tag: "p" | "span", verdict: AskedVerdict, standing?: boolean): HTMLElement;
  };
}
declare var gaugeleaf: Gaugeleaf;
/** Whether this copy of the handbook is of one edition. */
declare var gaugeleafCopy: {
  (mark: string, name?: string): void;
  half(): void;
  tell(isTold: boolean): void;
  isOf(part: HTMLElement): boolean;
  /** Once the page's own scripts and styles have said theirs. */
  whole: Promise<unknown>;
};
/** The marks of what changes with every text, and of the pages. */
declare var gaugeleafEdition: { data: Record<string, string>; pages: string };
/** Bytes by the name of the script that carries them: gzipped, in base64. */
declare var gaugeleafCarried: Record<string, string>;
/** Jobs that pages of the handbook prepare. */
declare var gaugeleafPrepared: PreparedJob[];
/** The handbook's kits, the one first that serves where a job names none. */
declare var gaugeleafKits: { name: string; title: string }[];
