// What stays on this phone: marks and jobs, apart for every handbook. Nothing here is ever sent.
"use strict";
(() => {
  /** The edition in which jobs are kept; the first had no number, and no days. */
  const VERSION = 2;
  const handbook = document.documentElement.dataset.handbook ?? "";
  /** The key as other windows name it. @param {string} key */
  const own = (key) => `gaugeleaf.${handbook}.${key}`;
  /** What the phone refused to keep lasts for this page. @type {Map<string, unknown>} */
  const held = new Map();
  /** @type {"" | "full" | "refused"} */
  let fault = "";

  /**
   * What was kept under this key. A browser may refuse storage to a page opened as a file, and what is
   * kept may be damaged: both count as nothing kept.
   * @param {string} key
   * @returns {unknown}
   */
  function get(key) {
    if (held.has(key)) return held.get(key);
    try { return JSON.parse(localStorage.getItem(own(key)) ?? "null"); } catch { return null; }
  }

  /**
   * Keeps a value, or forgets the key where the value is null; false where the phone keeps nothing.
   * @param {string} key
   * @param {unknown} value
   */
  function set(key, value) {
    try {
      if (value === null) localStorage.removeItem(own(key));
      else localStorage.setItem(own(key), JSON.stringify(value));
      held.delete(key);
      fault = "";
    } catch (error) {
      held.set(key, value);
      fault = error instanceof DOMException && /quota/i.test(error.name) ? "full" : "refused";
    }
    // What belongs to the job in hand has to be shown anew.
    if (key === "job") dispatchEvent(new Event("jobchange"));
    return !held.has(key);
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
    for (const [name, one] of Object.entries(job.given ?? {})) {
      given[name] = typeof one === "string" ? { text: one, when: worded("job.no_date") } : one;
    }
    return { ...job, version: VERSION, given, refused: job.refused ?? {} };
  }

  /** What is kept of the job in hand, of whatever edition. */
  const inHand = () => /** @type {Record<string, unknown> | null} */ (get("jobs"))?.[String(get("job") ?? "")];

  /** A key for what belongs to the page's job. @param {string} key */
  const ofJob = (key) => `${id()}/${key}`;

  /**
   * What is ticked on a page: when each was, by its key, and the page's fingerprint as it was then.
   * @param {string} page
   */
  function ticks(page) {
    const kept = Object.entries(get(ofJob(`ticks/${page}`)) ?? {});
    const at = /** @type {Record<string, number>} */ (Object.fromEntries(kept.filter(([, one]) => typeof one === "number")));
    return { at, of: String(Object.fromEntries(kept).of ?? "") };
  }

  /** Whether anything is ticked in the job. */
  function begun() {
    const keys = [...held.keys()].map(own);
    try { keys.push(...Object.keys(localStorage)); } catch { /* what this page holds counts alone */ }
    return keys.some((key) => key.startsWith(own(ofJob("ticks/"))));
  }

  globalThis.gaugeleaf = /** @type {Gaugeleaf} */ ({
    store: {
      get,
      set,
      own,
      /** Why the phone kept nothing when last asked; "" where it did. */
      fault: () => fault,
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
