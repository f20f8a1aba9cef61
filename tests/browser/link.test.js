// A job's link: whatever a crew wrote, the job that is read from it is the one that was sent. No browser, only
// the two scripts: share.js writes the line, take-over.js reads it. LINK_JOBS names another number of jobs.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import vm from "node:vm";

const JOBS = Number(process.env.LINK_JOBS ?? 3000);

/** Numbers that look like chance, the same each time (xorshift). */
let state = 20261130;
function below(/** @type {number} */ bound) {
  state ^= state << 13;
  state ^= state >>> 17;
  state ^= state << 5;
  return (state >>> 0) % bound;
}

const MARKS = [
  "&", "=", "+", "%", "%2B", "#", "?", "/", ";", " ", "\u00a0", "\n", "\r\n", "\t", "\"", "'", "<b>", "\\", "½", "″",
  "±", "é", "e\u0301", "😀", "\u202e", "\ufeff", "\u0000", "0", "9 1/2", "in", ".no", ".unit", "job=", "constructor", "ł",
];
const NAMES = [
  "channel_depth", "tube_od", "job", "v", "of", "rev", "kit", "day", "note", "raw", "constructor", "no", "unit", "a1",
  "to_string", "x",
];

/** Something written, never nothing. */
const written = () => Array.from({ length: 1 + below(5) }, () => MARKS[below(MARKS.length)]).join("");
/** A day or a kit: a lone question mark says that a later entry was lost. */
const settled = () => written().replace(/^\?$/, "on ?");
/** @template T @param {() => T} make @returns {Record<string, T>} */
const named = (make) => Object.fromEntries(Array.from({ length: below(6) }, () => [NAMES[below(NAMES.length)], make()]));
const days = () => ["2026-11-25", "date not known", "on T2", settled()][below(4)];

/** As much of a page as the two scripts ask for. */
function page() {
  /** @type {any[]} */
  const taken = [];
  /** @type {any[]} */
  let buttons = [];
  const element = (/** @type {string} */ tag, className = "", /** @type {any[]} */ ...parts) => ({
    tag, className, textContent: parts.join(""), dataset: {}, append() {}, replaceChildren() {}, remove() {},
    setAttribute() {}, focus() {}, close() {}, showModal() {},
    addEventListener(/** @type {string} */ kind, /** @type {() => void} */ act) {
      if (tag === "button" && kind === "click") this.click = act;
    },
    click() {},
  });
  const engine = (/** @type {any} */ request) => {
    /** @type {any} */
    const answer = { inputs: {}, problems: [] };
    for (const [name, entry] of Object.entries(request.inputs ?? {})) {
      answer.inputs[name] = { label: `The ${name}`, understood: "", from: "", ...(entry && { keep: /** @type {any} */ (entry).text }) };
    }
    return answer;
  };
  const gaugeleaf = {
    bring: async () => {},
    element: (/** @type {any[]} */ ...of) => {
      const made = element(.../** @type {[string]} */ (of));
      if (made.tag === "button") buttons.push(made);
      return made;
    },
    engine: async () => engine,
    whose: () => ({ do: "job" }),
    jobs: { add: (/** @type {any} */ job) => taken.push(job), addNewer: (/** @type {any} */ job) => taken.push(job) },
  };
  const context = vm.createContext({
    document: {
      documentElement: { dataset: { handbook: "yard" } },
      querySelector: () => ({ dataset: { revision: "7" } }),
      createElement: element,
      body: { append() {} },
      head: { append(/** @type {any} */ link) { link.onload?.(); } },
    },
    location: { href: "https://a.example/jobs.html", protocol: "https:", reload() {} },
    worded: (/** @type {string} */ key) => key,
    gaugeleafCopy: { isOf: () => true, half() {} },
    addEventListener() {}, dispatchEvent() {}, Event, URLSearchParams, navigator: {}, URL,
  });
  for (const name of ["store", "share", "take-over"]) {
    const script = readFileSync(new URL(`../../themes/scripts/${name}.js`, import.meta.url), "utf8");
    vm.runInContext(script, context);
    // the store makes the page's object, which the others add to
    Object.assign(context.gaugeleaf, gaugeleaf);
  }
  return {
    link(/** @type {any} */ job) {
      /** @type {any[]} */
      let shown = [];
      context.gaugeleaf.share({ ...element("div"), replaceChildren: (/** @type {any[]} */ ...parts) => (shown = parts) }, job);
      return shown.find((part) => part.className === "share-words").textContent;
    },
    async taken(/** @type {string} */ line) {
      taken.length = 0;
      buttons = [];
      await context.gaugeleaf.takeOver(line);
      buttons.find((button) => button.className === "yes" || button.textContent === "take_over.keep_unread")?.click();
      return JSON.parse(JSON.stringify(taken[0] ?? null));
    },
  };
}

test(`${JOBS} jobs of any letters arrive as they were sent`, async () => {
  const it = page();
  for (let at = 0; at < JOBS; at += 1) {
    const given = named(() => ({ text: written(), when: days() }));
    const refused = named(() => ({ text: written(), unit: below(2) ? written() : "" }));
    for (const [name, entry] of Object.entries(refused)) Object.assign(entry, { label: `The ${name}` });
    const job = { name: written(), note: below(2) ? written() : "", given, refused, ...(below(2) && { kit: settled() }) };
    const link = it.link({ version: 2, made: "2026-11-30", ...job });
    assert.match(link, /^https:\/\/a\.example\/jobs\.html#job=[!-~]*$/);
    const arrived = await it.taken(link.slice(link.indexOf("#") + 1));
    assert.deepEqual(arrived, job, link);
    const again = it.link({ version: 2, made: "2026-11-30", ...arrived });
    assert.equal(again, link);
  }
});

test("a job of a newer handbook goes on as it is", async () => {
  const it = page();
  for (let at = 0; at < JOBS / 10; at += 1) {
    const job = { version: 3 + below(9), name: written(), strange: named(written) };
    const link = it.link(job);
    assert.deepEqual(await it.taken(link.slice(link.indexOf("#") + 1)), job, link);
  }
});

test("any line is read, or said to be no job", async () => {
  const it = page();
  for (let at = 0; at < JOBS; at += 1) {
    const parts = Array.from({ length: below(6) }, () => `${NAMES[below(NAMES.length)]}${["", ".no", ".unit", ".1", "."][below(5)]}=${written()}`);
    await it.taken(`job=${written()}&v=${["", "2", "3"][below(3)]}&${parts.join("&")}`);
  }
});
