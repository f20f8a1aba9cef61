// What the scripts of the tube map and of its run say to each other. For the type checker alone, never published.
/** One change of a tube map, and the marks that it took the place of; the event that it added to the run, or the run that it ended. */
interface Change { words: string; before: Record<string, string>; plan: string; event?: RunEvent["is"]; run?: KeptRun }
/** What happened in a run, in seconds of the phone's clock; of a stroke its number, how many of its tubes, and which where not all. */
interface RunEvent { is: "start" | "done" | "blocked" | "later" | "take" | "break" | "on" | "hand" | "end"; at: number; stroke?: number; tubes?: number; took?: number[] }
interface HandOver { from: string; to: string; open: string }
interface TubeRun { log: RunEvent[]; hands: HandOver[]; who: string; straight: boolean }
/** The same as it is kept. */
interface KeptRun { log: string; hands?: HandOver[]; who?: string; straight?: boolean }
/** The marks of a sheet, by tube, the sheet that they were made on, and the run. */
interface TubeMarks { plan: string; marks: Record<string, string>; done: Change[]; run: TubeRun }
/** One stroke of the sheet; `nth` is its row's place from the top, `open` the number of its tubes without a mark. */
interface TubeStroke { stroke: number; row: string; nth: number; tubes: string[]; open: number }
interface TubePlace { circle: SVGElement; stroke: TubeStroke }
interface TubeBoard {
  locked(is: string | undefined): boolean;
  named(is: string | undefined): string;
  mark(which: string[], is: string, words: string, more?: { isAsked?: boolean; event?: RunEvent; hand?: HandOver; anew?: boolean }): void;
  undo(say: (words: string) => void): void;
  recall(isOwn?: boolean): void;
  held(which: string[]): string;
  settle(act: (kept: TubeMarks) => TubeMarks): void;
  begin(plan: string): void;
  follow(show: (changed: string[]) => void): void;
  told(words: string): string;
  count(is: string): number;
  readonly left: number;
  readonly kept: TubeMarks;
  readonly tubes: Map<string, TubePlace>;
  readonly strokes: Map<number, TubeStroke>;
  readonly rows: number;
  readonly last: Change | undefined;
  readonly plan: string;
}
interface TubeView {
  set(to: number, x?: number, y?: number): void;
  fit(wide: number, limit?: number): void;
  show(x: number, y: number): void;
  cull(isOn: boolean): void;
  readonly zoom: number;
  readonly isLeast: boolean;
  readonly isMost: boolean;
}
/** Why no run may be, or no mark; "" where one may. */
interface TubeGuard { noRun(): string; noMarks(): string; judge(engine: Engine, answer: Answer): void; stopped(): void }
interface Run { open(): void; leave(): void }
interface ReportRow { row: string; cleaned: number[]; blocked: number[]; plugged: number[]; todo: number[]; strokes_run: number }
/** Which stroke is next, and how it is shown. */
interface RunNext {
  next(): TubeStroke | undefined;
  /** Its tubes without a mark. */
  open(stroke: TubeStroke): string[];
  isBack(stroke: TubeStroke): boolean;
  /** A tube, by its side of the stroke first. */
  side(stroke: TubeStroke, tube: string): string;
  sides(stroke: TubeStroke, tubes: string[]): string;
  /** What is to be known before a lance goes in. */
  warning(stroke: TubeStroke): string;
  /** Gives its middle, in the map's units. */
  light(stroke: TubeStroke | undefined): { x: number; y: number } | undefined;
}
/** What a run's clock says: the strokes that give the pace, breaks, and where the clock was put back. */
interface RunTimes {
  /** Time from mark to mark, in seconds, and the tubes of these marks. */
  worked: number;
  tubes: number;
  started: number | undefined;
  ended: number | undefined;
  breaks: { from: number; to: number | undefined }[];
  gaps: { from: number; to: number }[];
  /** The clock's time before it was put back, and after. */
  back: { before: number; after: number }[];
  isBreak: boolean;
  /** The mark that the next one is timed from, and how long each stroke took. */
  from: number | undefined;
  each: number[];
}

interface Gaugeleaf {
  /** What is kept of a tube map. */
  tubeMarks: {
    read(kept: unknown, plan: string): TubeMarks;
    write(marks: Omit<TubeMarks, "run"> & { run?: TubeRun }): unknown;
    unpacked(kept: Record<string, string>): Record<string, string>;
    run(kept: KeptRun | undefined): TubeRun;
    keptRun(run: TubeRun): KeptRun | undefined;
  };
  tubeAsk: {
    (map: HTMLElement, question: string, ways: [string, () => void][], more?: HTMLElement[], leaves?: number): Promise<void>;
    help(): HTMLAnchorElement[];
    key(text: string, act: () => void, name?: string): HTMLButtonElement;
    DEAD: number;
  };
  tubeBoard(map: HTMLElement, sheet: HTMLElement): TubeBoard;
  tubeView(sheet: HTMLElement): TubeView;
  run(map: HTMLElement, board: TubeBoard, view: TubeView, guard: TubeGuard): Run;
  runWake(say: (words: string) => void): { ask(): Promise<void>; end(): void };
  tubeGuard(map: HTMLElement, board: TubeBoard): TubeGuard;
  tubeJob(): string;
  runTime: {
    now(): number;
    isSoon(log: RunEvent[], at: number): boolean;
    of(log: RunEvent[]): RunTimes;
    pace(calculator: string, times: RunTimes, todo: number): Promise<{ each: string; left: string; seconds: number | undefined } | undefined>;
    clock(at: number, isDay?: boolean): string;
  };
  runNext(map: HTMLElement, board: TubeBoard): RunNext;
  runReport(map: HTMLElement, board: TubeBoard): { show(): void; open(): void };
  runHand(map: HTMLElement, board: TubeBoard, say: (words: string) => void, open: string, typed?: HandOver): void;
}
