// What stays on this phone: marks and jobs, apart for every handbook. Nothing here is ever sent.
"use strict";
(() => {
  const handbook = document.documentElement.dataset.handbook ?? "";
  /** The key as other windows name it. @param {string} key */
  const own = (key) => `gaugeleaf.${handbook}.${key}`;
  /** What the phone refused to keep lasts for this page. @type {Map<string, unknown>} */
  const held = new Map();

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
    } catch { held.set(key, value); }
    // What belongs to the job in hand has to be shown anew.
    if (key === "job") dispatchEvent(new Event("jobchange"));
    return !held.has(key);
  }

  /** A page of a prepared job shows that job alone, whichever is in hand. */
  const prepared = document.documentElement.dataset.job;
  const id = () => prepared === undefined ? String(get("job") ?? "") : `p-${prepared}`;

  /** @returns {KeptJob | undefined} */
  function kept() {
    const jobs = /** @type {Record<string, KeptJob> | null} */ (get("jobs"));
    return jobs?.[String(get("job") ?? "")];
  }

  globalThis.gaugeleaf = /** @type {Gaugeleaf} */ ({
    store: {
      get,
      set,
      own,
      /** The job whose values the page shows; the handbook's own where none was chosen. */
      job: id,
      /** The job in hand, where one was chosen. */
      kept,
      /** An entry as its reader saw it: what names no unit has the field's. */
      typed: ({ text, unit }) => (unit && !/[^\d\s.,\/+-]/.test(text) ? `${text} ${unit}` : text),
      /** A key for what belongs to the page's job. */
      ofJob: (key) => `${id()}/${key}`,
    },
  });
})();
