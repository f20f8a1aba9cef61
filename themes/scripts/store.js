// What stays on this phone: marks and jobs, apart for every handbook. Nothing here is ever sent.
"use strict";
(() => {
  /** The edition in which jobs are kept; the first had no number, and no days. */
  const VERSION = 2;
  /** The day of a value whose later entry found no room; shorter than any day, so that it always has room itself. */
  const LATER = "?";
  const handbook = document.documentElement.dataset.handbook ?? "";
  /** The key as other windows name it. @param {string} key */
  const own = (key) => `gaugeleaf.${handbook}.${key}`;
  /** Changes that the phone refused, by key: they last for this page, and are made anew over whatever is kept by then. @type {Map<string, Act[]>} */
  const held = new Map();
  /** @type {"full" | "refused"} */
  let fault = "full";

  /** What these changes make of what is kept. @param {string} key @param {Act[]} acts */
  function after(key, acts) {
    /** @type {unknown} */
    let kept = null;
    try { kept = JSON.parse(localStorage.getItem(own(key)) ?? "null"); } catch { /* see get */ }
    return acts.reduce((value, act) => act(value), kept);
  }

  /**
   * What was kept under this key. A browser may refuse storage to a page opened as a file, and what is
   * kept may be damaged: both count as nothing kept.
   * @param {string} key
   */
  const get = (key) => after(key, held.get(key) ?? []);

  /** @param {string} key @param {Act[]} acts */
  function put(key, acts) {
    const value = after(key, acts);
    try {
      if (value === null) localStorage.removeItem(own(key));
      else localStorage.setItem(own(key), JSON.stringify(value));
      held.delete(key);
    } catch (error) {
      held.set(key, acts);
      fault = error instanceof DOMException && /quota/i.test(error.name) ? "full" : "refused";
    }
    return !held.has(key);
  }

  /** What was refused is tried once more: there may be room by now. */
  function again() {
    if (held.size === 0) return;
    for (const [key, acts] of [...held]) {
      // What another page took in hand since is the later choice.
      if (key === "job" && after(key, []) !== null) held.delete(key);
      else put(key, acts);
    }
    if (held.size === 0) dispatchEvent(new Event("keptagain"));
  }
  for (const event of ["storage", "pageshow", "focus"]) addEventListener(event, again);

  /**
   * Changes what is kept as it is now, whichever page kept it last; false where the phone keeps nothing.
   * @param {string} key
   * @param {Act} act
   */
  function change(key, act) {
    const kept = put(key, [...(held.get(key) ?? []), act]);
    // A job that stays in hand by mistake would show its values as another's.
    if (key === "job" && !kept) try { localStorage.removeItem(own(key)); } catch { /* nothing is in hand */ }
    if (kept) again();
    // What belongs to the job in hand has to be shown anew.
    if (key === "job") dispatchEvent(new Event("jobchange"));
    return kept;
  }

  /**
   * Keeps a value, or forgets the key where the value is null; false where the phone keeps nothing.
   * @param {string} key
   * @param {unknown} value
   */
  function set(key, value) {
    held.delete(key);
    return change(key, () => value);
  }

  /** The keys that begin so. @param {string} start */
  function keys(start) {
    const all = new Set(held.keys());
    try {
      for (const key of Object.keys(localStorage)) if (key.startsWith(own(""))) all.add(key.slice(own("").length));
    } catch { /* what this page holds counts alone */ }
    return [...all].filter((key) => key.startsWith(start));
  }

  /** A page of a prepared job shows that job alone, whichever is in hand. */
  const prepared = document.documentElement.dataset.job;
  const id = () => prepared === undefined ? String(get("job") ?? "") : `p-${prepared}`;

  /**
   * A job as this edition keeps it, whichever kept it; undefined where a newer one did, or where it is damaged.
   * @param {unknown} found
   * @returns {KeptJob | undefined}
   */
  function opened(found) {
    if (typeof found !== "object" || found === null) return undefined;
    const job = /** @type {KeptJob} */ ({ name: "", kit: "", note: "", made: "", ...found });
    if (![undefined, 1, VERSION].includes(/** @type {number | undefined} */ (job.version))) return undefined;
    /** @type {Record<string, Taken>} */
    const given = {};
    const refused = { ...job.refused };
    for (const [name, one] of Object.entries(/** @type {Record<string, Taken | string>} */ (job.given ?? {}))) {
      // Alone it stands where nothing was held, or where there was no room for that.
      if (one !== LATER) given[name] = typeof one === "string" ? { text: one, when: worded("job.no_date") } : one;
      // A later entry found no room: nothing stands on this one until the crew has settled it.
      if (one === LATER || given[name]?.when === LATER) refused[name] = refused[name] ?? { text: worded("job.later"), unit: "", label: name.replaceAll("_", " "), lost: true };
    }
    return { ...job, version: VERSION, given, refused };
  }

  /** A job as it was kept, of whatever edition; one that no edition since has changed is kept with all others. @param {string} id */
  const one = (id) => get(`job/${id}`) ?? /** @type {Record<string, unknown> | null} */ (get("jobs"))?.[id];
  /** What is kept of the job in hand. */
  const inHand = () => one(String(get("job") ?? ""));

  /** A key for what belongs to the page's job. @param {string} key */
  const ofJob = (key) => `${id()}/${key}`;

  /**
   * What is ticked on a page: when each was, by its key, the page's fingerprint as it was then, and the mark of the last clearing.
   * @param {string} page
   */
  function ticks(page, kept = get(ofJob(`ticks/${page}`))) {
    const held = Object.entries(kept ?? {});
    const at = /** @type {Record<string, number>} */ (Object.fromEntries(held.filter(([, one]) => typeof one === "number")));
    const { of = "", cleared } = /** @type {Partial<Record<"of" | "cleared", string>>} */ (kept ?? {});
    return { at, of, cleared };
  }

  /** Whether anything is ticked in the job. */
  const begun = () => keys(ofJob("ticks/")).length > 0;

  globalThis.gaugeleaf = /** @type {Gaugeleaf} */ ({
    store: {
      get,
      set,
      change,
      own,
      keys,
      /** Whether something lasts for this page alone. */
      unkept: () => held.size > 0,
      one,
      LATER,
      /** Why the phone keeps not all; "" where it does. */
      fault: () => (held.size > 0 ? fault : ""),
      opened,
      /** The job whose values the page shows; the handbook's own where none was chosen. */
      job: id,
      /** The job in hand, where one was chosen that can be read. */
      kept: () => opened(inHand()),
      /** The name of a job in hand that a newer handbook made. */
      newer: () => {
        const found = /** @type {KeptJob | undefined} */ (inHand());
        return found && !opened(found) ? String(found.name ?? "") : undefined;
      },
      /** An entry as its reader saw it: what names no unit has the field's. */
      typed: ({ text, unit }) => (unit && !/[^\d\s.,\/+-]/.test(text) ? `${text} ${unit}` : text),
      ofJob,
      ticks,
      begun,
    },
  });
})();
