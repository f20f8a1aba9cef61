// What a term means, at the foot of the screen: a reader stays on the step.
"use strict";
(() => {
  const { element } = gaugeleaf;
  /** @type {HTMLElement | null} */
  let sheet = null;
  /** @type {HTMLElement | null} */
  let from = null;

  function close() {
    sheet?.remove();
    sheet = null;
  }
  /** The reader goes on where the term stands. */
  function back() {
    if (sheet) from?.focus({ preventScroll: true });
    close();
  }

  /** @param {HTMLAnchorElement} term */
  gaugeleaf.meaning = (term) => {
    const means = gaugeleafMeanings[term.hash.slice(1)];
    if (means === undefined) return location.assign(term.href);
    close();
    from = term;
    const shut = element("button", "meaning-close", worded("terms.close"));
    /** @type {HTMLButtonElement} */ (shut).type = "button";
    shut.addEventListener("click", back);
    const more = /** @type {HTMLAnchorElement} */ (element("a", "", worded("terms.more")));
    more.href = term.href;
    sheet = element("div", "meaning", element("p", "", element("b", "", term.textContent ?? ""), " ", means), element("p", "meaning-ways", more, shut));
    sheet.setAttribute("role", "group");
    sheet.setAttribute("aria-label", worded("terms.meaning", { term: term.textContent ?? "" }));
    sheet.tabIndex = -1;
    // Beside its term for whoever reads by ear or goes by key.
    term.after(sheet);
    sheet.focus({ preventScroll: true });
  };

  addEventListener("keydown", (event) => { if (event.key === "Escape") back(); });
  document.addEventListener("click", (event) => {
    const at = /** @type {Element} */ (event.target);
    // The tap on a term has opened it by now.
    if (sheet && !sheet.contains(at) && !at.closest("a.term")) close();
  });
})();
