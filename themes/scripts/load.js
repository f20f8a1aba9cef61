// Fetches the engine and the handbook's data on first need, once a page.
"use strict";
(() => {
  const root = document.documentElement.dataset.root ?? "";
  /** @type {Promise<Engine> | null} */
  let opened = null;

  /**
   * A script element and not a fetch: a page opened as a file may not fetch.
   * @param {string} path
   * @returns {Promise<void>}
   */
  function bring(path) {
    return new Promise((resolve, reject) => {
      const script = document.createElement("script");
      script.src = root + path;
      script.onload = () => resolve();
      script.onerror = () => reject(new Error(`${path} did not load`));
      document.head.append(script);
    });
  }

  function engine() {
    opened ??= Promise.all([bring("scripts/engine.js"), bring("scripts/handbook-data.js")])
      .then(() => gaugeleaf.start(gaugeleafHandbook));
    // A failed start may be tried again: the connection may be back.
    opened.catch(() => { opened = null; });
    return opened;
  }

  globalThis.gaugeleaf = /** @type {Gaugeleaf} */ ({ root, engine });
})();
