// What stays on this phone: marks and jobs, apart for every handbook. Nothing here is ever sent.
"use strict";
(() => {
  const handbook = document.documentElement.dataset.handbook ?? "";
  /** @param {string} key */
  const own = (key) => `gaugeleaf.${handbook}.${key}`;

  /**
   * What was kept under this key. A browser may refuse storage to a page opened as a file, and what is
   * kept may be damaged: both count as nothing kept.
   * @param {string} key
   * @returns {unknown}
   */
  function get(key) {
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
    } catch { return false; }
    // What belongs to the job in hand has to be shown anew.
    if (key === "job") dispatchEvent(new Event("jobchange"));
    return true;
  }

  globalThis.gaugeleaf = /** @type {Gaugeleaf} */ ({
    store: {
      get,
      set,
      /** The job in hand; the handbook's own where none was chosen. */
      job: () => String(get("job") ?? ""),
      /** A key for what belongs to the job in hand. */
      ofJob: (key) => `${String(get("job") ?? "")}/${key}`,
    },
  });
})();
