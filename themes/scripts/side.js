// The setup sheet on paper: its first side alone, or with the annex. What is folded isn't printed.
"use strict";
(() => {
  const page = document.documentElement;
  const { all } = gaugeleaf;
  const annexes = () => /** @type {HTMLDetailsElement[]} */ (all(document, ".setup-annex"));
  /** With every annex folded the side is all of the page that goes to paper. */
  const follow = () => page.toggleAttribute("data-side", annexes().every((annex) => !annex.open));

  // A phone shows what was measured on demand; paper and wide windows always do.
  for (const fold of all(document, ".setup-fold")) {
    const show = (/** @type {boolean} */ shown) => {
      fold.setAttribute("aria-expanded", String(shown));
      fold.nextElementSibling?.classList.toggle("is-folded", !shown);
    };
    fold.hidden = false;
    show(false);
    fold.addEventListener("click", () => show(fold.getAttribute("aria-expanded") === "false"));
  }
  for (const annex of annexes()) annex.addEventListener("toggle", follow);
  for (const part of all(document, ".setup-print")) part.hidden = false;
  for (const button of all(document, ".setup-print button")) {
    button.addEventListener("click", () => {
      for (const annex of annexes()) annex.open = button.dataset.paper === "all";
      follow();
      print();
    });
  }
  // A verdict of the side leads into the annex, which older browsers don't open for it.
  document.addEventListener("click", (event) => {
    const link = /** @type {Element} */ (event.target).closest(".setup-side a[href^='#']");
    const place = link && document.getElementById(link.getAttribute("href")?.slice(1) ?? "");
    const annex = /** @type {HTMLDetailsElement | null | undefined} */ (place?.closest(".setup-annex"));
    if (annex) annex.open = true;
  });
  follow();
})();
