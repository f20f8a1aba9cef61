// The main result, held in sight at the window's top while its own place is out of it and somebody types.
"use strict";
(() => {
  const { element, show } = gaugeleaf;
  /** From the one that counts most. */
  const RANK = /** @type {const} */ (["stop", "open", "caution", "go"]);

  /** What is pinned of a widget. @type {WeakMap<HTMLElement, { strip: HTMLElement, label: HTMLElement, sign: HTMLElement, value: HTMLElement, more: HTMLElement }>} */
  const made = new WeakMap();
  /** The results that are in sight by themselves. @type {Set<Element>} */
  const inSight = new Set();

  /** The first that stands there, or the place of the first where none does. @param {HTMLElement} widget */
  const main = (widget) => /** @type {HTMLElement | null} */ (widget.querySelector(".result:not([hidden])") ?? widget.querySelector(".result"));

  /** @param {HTMLElement} widget */
  function strip(widget) {
    const known = made.get(widget);
    if (known) return known;
    const [label, sign] = [element("p", "pinned-label", ""), element("p", "pinned-sign", "")];
    const [value, more] = [element("b", "result-text", ""), element("p", "result-more", "")];
    // Whoever listens is told the results once they settle.
    const strip = element("div", "pinned", label, sign, element("p", "dimension", value), more);
    strip.setAttribute("aria-hidden", "true");
    strip.hidden = true;
    widget.append(strip);
    const parts = { strip, label, sign, value, more };
    made.set(widget, parts);
    return parts;
  }

  /** The result with all its verdicts: a number without them is half an answer. @param {HTMLElement} widget */
  function isSeen(widget) {
    const verdicts = widget.querySelector(".verdicts");
    return inSight.has(main(widget) ?? widget) && (!verdicts?.getClientRects().length || inSight.has(verdicts));
  }

  /** Shown while a field has the focus and the result itself is not in sight. @param {HTMLElement} widget */
  function settle(widget) {
    const here = document.activeElement;
    const types = here instanceof HTMLElement && widget.contains(here) && here.closest(".field") !== null;
    // Before the engine has taken the job, or once it has failed, what stands there is no answer.
    const tells = widget.matches(".is-live:not(.is-failed)") && !document.documentElement.matches(".is-half, .is-stale");
    const shown = types && tells && !isSeen(widget);
    const { strip: pinned } = strip(widget);
    if (pinned.hidden === !shown) return;
    pinned.hidden = !shown;
    document.documentElement.classList.toggle("with-pinned", shown);
  }

  /** The verdict that counts most; what is refused is open, whatever stood there. @param {HTMLElement} widget @param {boolean} refused */
  function verdict(widget, refused) {
    if (refused) return "open";
    return RANK.find((is) => widget.querySelector(`.verdicts [data-is=${is}]`));
  }

  /** As the widget itself says it. @param {HTMLElement} widget */
  function put(widget) {
    const row = main(widget);
    const { label, sign, value, more, strip: pinned } = strip(widget);
    if (!row) return;
    const text = (/** @type {string} */ selector) => row.querySelector(selector)?.textContent ?? "";
    const refused = widget.querySelector(".results[data-empty]") !== null;
    const is = verdict(widget, refused);
    pinned.classList.toggle("is-blank", text(".result-text") === "");
    if (label.textContent !== text(".result-label")) label.textContent = text(".result-label");
    if (value.textContent !== text(".result-text")) value.textContent = text(".result-text");
    const of = row.querySelector(".result-text")?.getAttribute("data-of");
    if (of) value.setAttribute("data-of", of);
    else value.removeAttribute("data-of");
    const beside = refused ? worded("widget.waits") : [text(".result-also"), text(".result-rounded")].filter(Boolean).join(", ");
    if (more.textContent !== beside) more.textContent = beside;
    if ((sign.dataset.shows ?? "") !== (is ?? "")) {
      sign.dataset.shows = is ?? "";
      // The verdict itself stands in its own place; of it here are the sign and the word.
      const [mark, word] = is ? show.banner("span", { is, because: "" }).children : [];
      if (word) word.className = "pinned-word";
      sign.replaceChildren(...(mark && word ? [mark, word] : []));
    }
    settle(widget);
  }

  gaugeleaf.pinned = put;

  // What lies under the keys, or under the bar of a desk, is not in sight.
  const rootMargin = gaugeleaf.typing?.fingers ? "0px 0px -56%" : "0px 0px -64px";
  const watch = new IntersectionObserver((seen) => {
    for (const one of seen) {
      const row = /** @type {HTMLElement} */ (one.target.closest(".result, .verdicts"));
      if (one.intersectionRatio > 0.9) inSight.add(row);
      else inSight.delete(row);
      settle(/** @type {HTMLElement} */ (row.closest(".widget")));
    }
  }, { rootMargin, threshold: [0, 0.9, 1] });
  for (const widget of gaugeleaf.all(document, ".widget")) {
    put(widget);
    for (const row of widget.querySelectorAll(".result .dimension, .verdicts")) watch.observe(row);
    // At once: what is pinned lies over the page's head, to which the focus may have gone.
    widget.addEventListener("focusin", () => settle(widget));
    widget.addEventListener("focusout", (event) => { if (!widget.contains(/** @type {Node | null} */ (event.relatedTarget))) settle(widget); });
  }
})();
