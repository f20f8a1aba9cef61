// What a page and the engine say to each other; for the type checker alone, never published.
// Made by a test: SNAPSHOTS=write cargo test -p gaugeleaf-tests --lib contract

/** To `calculate`. */
type Answer = { calculator: string, inputs: { [key in string]: Reading }, outputs: { [key in string]: Reading }, verdicts: Array<Verdict>, working?: Array<WorkingLine>, problems: Array<Problem>, 
/** What is unusual and was confirmed. */
doubts: Array<Problem>, unset: Array<Unset>, figure?: string, plot?: string, map?: string, 
/** The handbook's equipment is invented. */
training?: boolean, };

/** To `ask`. */
type Asked = { readings: Array<AskedReading>, which: Array<AskedWay>, conversion: AskedConversion | null, told: Array<AskedTold>, spellings: Array<[string, Array<string>]>, training: boolean, };

type AskedAssumed = { label: string, text: string, from: string, ground: Ground, };

/** A quantity in another unit. */
type AskedConversion = { from: string, to: string, rounded: string, };

type AskedGiven = { name: string, text: string, };

type AskedHazard = { word: string, text: string, };

type AskedInput = { label: string, text: string, };

/** An input that a question may give. */
type AskedMeant = { name: string, text: string, label: string, };

type AskedOutput = { label: string, text: string, of: string, also: string, rounded: string, };

/** One way to understand a question, worked out. */
type AskedReading = { calculator: string, title: string, given: Array<AskedGiven>, understood: Array<AskedInput>, assumed: Array<AskedAssumed>, unset: Array<AskedUnset>, outputs: Array<AskedOutput>, sure: boolean, left: string, guessed: boolean, verdict: AskedVerdict | null, hazard: AskedHazard | null, problems: Array<Problem>, doubts: Array<Problem>, };

/** What of a question was not understood. */
type AskedTold = { text: string, message: string, help: string, };

type AskedUnset = { label: string, from: string, };

type AskedVerdict = { is: Is, because: string, };

/** One of several ways to understand a question. */
type AskedWay = { calculator: string, title: string, given: Array<AskedMeant>, };

/** To `qr`. */
type CodeAnswer = { svg?: string, level?: CodeLevel, problem?: string, };

/** How much of a code may be covered. */
type CodeLevel = "quartile" | "medium" | "low";

/** Where a check changes its verdict. */
type Edge = { si: number | null, text: string, then: Is | null, 
/** The edge itself belongs to what lies before it. */
at_least: boolean, };

type EngineRequest = { "do": "calculate", name: string, inputs: { [key in string]: EntryOrText }, want: Array<WantedPart>, } | { "do": "limits", name: string, inputs: { [key in string]: EntryOrText }, input: string, want: Array<WantedPart>, } | { "do": "grade", name: string, output: string, tolerance: string, inputs: { [key in string]: string }, given: { [key in string]: string }, typed: string, } | { "do": "measure", inputs: { [key in string]: EntryOrText | null }, } | { "do": "job", whose?: WhoseValues, name?: string, kit?: string, given?: { [key in string]: TakenOrText }, } | { "do": "draw" } | { "do": "judge" } | { "do": "qr", text: string, } | { "do": "switch", name: string, input?: string, text: string, from: string, to: string, } | { "do": "search", query: string, limit: number, spellings?: Array<[string, Array<string>]>, } | { "do": "ask", query: string, meanings: Array<[string, Array<string>]>, candidates: Array<string>, want: Array<WantedPart>, };

/** A value as typed. */
type Entry = { text: string, unit?: string, confirmed: boolean, 
/** Nobody typed it: it stands there to show how the calculator is used. */
example?: boolean, };

/** An entry with what is known of it, or its text alone. */
type EntryOrText = Entry | string;

/** To `grade`. */
type GradeAnswer = { right?: boolean, expected?: string, working?: Array<WorkingLine>, problem?: Problem, };

/** What a value stands on, from the least to the best. */
type Ground = "none" | "example" | "doubted" | "assumed" | "public" | "rated" | "measured";

type Hit = { title: string, where: string, kind: HitKind, url: string, 
/** The term that leads here. */
means?: HitMeaning, 
/** Pieces of text, and whether each is what was looked for. */
excerpt: Array<[string, boolean]>, };

/** What a hit leads to. */
type HitKind = "page" | "heading" | "step" | "calculator" | "input" | "row" | "value" | "term";

/** A term of the trade, and what it means. */
type HitMeaning = { title: string, url: string, 
/** Empty as long as the texts are not there. */
text: string, };

/** What a check says. */
type Is = "go" | "caution" | "open" | "stop";

/** To `judge`: how a whole job stands. */
type JobJudged = { worst: Is | null, verdicts: VerdictCount, needs: Array<Leaf>, 
/** Titles of calculators that gave no verdict. */
stuck: Array<string>, measured: Measured, training: boolean, };

/** A value that a verdict or a result hangs on. */
type Leaf = { name: string, label: string, what: LeafKind, ground: Ground, from: string, };

/** Whose value it is that a verdict hangs on. */
type LeafKind = "measurement" | "rating" | "input";

/** How far an input may go before a check changes its verdict; an end is null where it never does. */
type Limit = { check: string, line: string, is: Is, words: string, low: Edge | null, high: Edge | null, };

/** To `limits`. */
type LimitsAnswer = { limits?: Array<Limit>, problems?: Array<Problem>, };

/** To `measure`. */
type MeasureAnswer = { inputs: { [key in string]: Reading }, problems: Array<Problem>, };

/** Of the measurements that the handbook names, how many the job has. */
type Measured = { taken: number, of: number, };

type Problem = { input: string, message: string, help: string | null, doubtful: boolean, 
/** Of a measurement or rating. */
label?: string, };

/** An input as it was read, or a result; which parts it has hangs on what it is. */
type Reading = { label: string, 
/** A quantity's unit; null for a result that doesn't exist. */
unit?: string | null, 
/** The exact quantity, in SI units. */
si?: number | null, 
/** The exact number in its unit. */
value?: number | null, text: string, 
/** The same in the other system of units. */
also?: string | null, understood?: string, 
/** In which direction a result was rounded, in words. */
rounded?: string, 
/** The name of the choice. */
choice?: string, span?: Span, ground?: Ground, 
/** Where it comes from, in a few words. */
from?: string, 
/** The job whose value a result is, where it is an example. */
of?: string, 
/** Why a result isn't known. */
why?: string, 
/** What is unusual in a measurement that was confirmed. */
doubt?: string | null, 
/** A measurement as it is to be kept. */
keep?: string, };

/** To `search`. */
type SearchAnswer = { hits: Array<Hit>, near: Array<string>, 
/** A hit is a row with a size that was asked for. */
row: boolean, 
/** The first hit is what somebody in need asks for. */
urgent: boolean, units: boolean, meanings: Array<[string, Array<string>]>, candidates: Array<string>, };

/** To `draw`: the drawings of the setup sheet as SVG, by name. */
type SheetDrawn = { drawings: { [key in string]: string }, };

/** What a value may be inside the inputs' tolerances, in SI units. */
type Span = { low: number, high: number, text?: string, };

/** To `switch`. */
type SwitchAnswer = { text?: string, problem?: string, help?: string | null, };

/** To `job`, and to whatever the engine takes. */
type TakeAnswer = { ok: boolean, };

/** A value of a job as typed, and the day it was taken: `2026-11-26`, or in words. */
type Taken = { text: string, when: string, 
/** What was typed over it and refused. */
refused?: string, };

/** A job's value with its day, or its text alone. */
type TakenOrText = Taken | string;

/** An input that nobody has measured or set. */
type Unset = { input: string, label: string, from: string, needs: Array<Leaf>, };

type Verdict = { check: string, is: Is, 
/** What the numbers come to, whatever they stand on; null where one is lacking. */
would: Is | null, because: string, 
/** What it may be inside the inputs' tolerances. */
may_be: Array<Is>, needs: Array<Leaf>, 
/** A rule that always holds, and no job's verdict. */
standing: boolean, 
/** The calculator whose check it is, where this one only reads the same measurement. */
of: string | null, };

type VerdictCount = { go: number, caution: number, open: number, stop: number, };

/** What an answer has beyond its least; `bound` binds numbers to their units in its texts. */
type WantedPart = "working" | "figure" | "plot" | "map" | "bound";

/** Whose values hold: those of the job in hand and no others, a prepared job's, or a page's. */
type WhoseValues = "hand" | "prepared" | "page";

type WorkingLine = { name: string, label: string, formula: string, numbers: string, result: string, mathml: string, };
