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

  // A preview's page has no edition, as its parts come one after the other; one of before editions is of none there is.
  if (page.dataset.edition === "") delete page.dataset.edition;
  else page.dataset.edition ??= "-";
  const { edition } = page.dataset;
  /** Says that this copy of the handbook is not whole, or says it no more. @param {boolean} isTold */
  const tell = (isTold) => document.querySelector(".half")?.toggleAttribute("hidden", !isTold && !page.classList.contains("is-half"));
  /** It is half updated: nothing is worked out on it. */
  function half() {
    page.classList.add("is-half");
    tell(true);
  }
  /** Whether a script or a stylesheet has come, and says that it is of this edition. @param {HTMLElement} part */
  function isOf(part) {
    const name = part.getAttribute("href")?.replace(/.*styles.|\.css.*/g, "");
    const of = name === undefined ? part.dataset.of : getComputedStyle(page).getPropertyValue(`--of-${name}`);
    return edition === undefined || String(of).includes(edition);
  }
  // Each script asks this first, and does nothing on a page of another edition.
  globalThis.gaugeleafCopy = Object.assign((/** @type {string} */ mark, /** @type {string | undefined} */ name) => {
    if (edition !== undefined && mark !== (name ? gaugeleafEdition.data[name] : edition)) {
      half();
      throw new Error("another edition");
    }
    if (document.currentScript) document.currentScript.dataset.of = edition;
  }, {
    half,
    tell,
    isOf,
    whole: new Promise((whole) => {
      // What a script asked for has still time to come, and others' parts are theirs. Some browsers run scripts before styles have come.
      for (const when of ["DOMContentLoaded", "load"]) {
        addEventListener(when, () => {
          const parts = /** @type {NodeListOf<HTMLScriptElement>} */ (document.querySelectorAll("script[src*=scripts], link[href*=styles]"));
          if (!page.classList.contains("is-half") && [...parts].every((part) => part.async || isOf(part))) whole(undefined);
          else if (when === "load") whole(half());
        });
      }
    }),
  });

  document.addEventListener("DOMContentLoaded", () => {
    const button = /** @type {HTMLButtonElement | null} */ (document.querySelector(".look-switch"));
    if (!button) return;
    const say = () => button.setAttribute("aria-pressed", String(page.dataset.look === "dark"));
    say();
    /** @type {HTMLElement} */ (button.parentElement).hidden = false;
    button.addEventListener("click", () => {
      wear(page.dataset.look !== "dark");
      try { localStorage.setItem(KEY, page.dataset.look ?? "light"); } catch { /* the look lasts for this page */ }
      say();
    });
  });
})();
