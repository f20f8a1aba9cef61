// The reader's look, set before the first paint; also tells the stylesheet that scripts run.
"use strict";
(() => {
  const KEY = "gaugeleaf.look";
  const page = document.documentElement;
  page.classList.add("scripted");

  /**
   * @param {string} key
   * @returns {string | null}
   */
  function stored(key) {
    // A browser may refuse storage to a page opened as a file.
    try { return localStorage.getItem(key); } catch { return null; }
  }

  /** @param {boolean} dark */
  function wear(dark) {
    if (dark) page.dataset.look = "dark";
    else delete page.dataset.look;
  }

  wear(stored(KEY) === "dark");
  // With a job in hand the handbook's own values must not show, not even for a moment.
  if (page.dataset.job !== undefined) page.classList.add("with-job");
  else if (stored(`gaugeleaf.${page.dataset.handbook}.job`)) page.classList.add("with-job", "of-job");

  document.addEventListener("DOMContentLoaded", () => {
    const button = /** @type {HTMLButtonElement | null} */ (document.querySelector(".bar-look"));
    if (!button) return;
    const say = () => button.setAttribute("aria-pressed", String(page.dataset.look === "dark"));
    say();
    button.hidden = false;
    button.addEventListener("click", () => {
      wear(page.dataset.look !== "dark");
      try { localStorage.setItem(KEY, page.dataset.look ?? "light"); } catch { /* the look lasts for this page */ }
      say();
    });
  });
})();
