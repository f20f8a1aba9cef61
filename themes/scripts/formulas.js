// Formulas that are wider than the window: broken before their operators, as they are in print, then set smaller.
"use strict";
(() => {
  const { all } = gaugeleaf;
  const PLACES = ".working-formula, .method dd";
  /** What a line may break before. */
  const BREAKS = new Set(["=", "+", "−", "×", "<", ">", "≤", "≥", "≠", ","]);
  /** Nothing is set smaller than this part of its size: what is still too wide is scrolled. */
  const STEPS = ["is-small", "is-smaller"];
  /** Formulas as they came, by their place. @type {WeakMap<Element, Node[]>} */
  const whole = new WeakMap();

  /** What stands in a row of its own is laid out flat. @param {Element} row @returns {Element[]} */
  const flat = (row) => [...row.children].flatMap((one) => (one.localName === "mrow" ? flat(one) : [one]));

  /** A formula in pieces, each of which begins with an operator; brackets hold what is inside them together. @param {Element} math @param {number} depth */
  function pieces(math, depth) {
    const made = [math.cloneNode(false)];
    let open = 0;
    for (const part of flat(math)) {
      const sign = part.localName === "mo" ? part.textContent ?? "" : "";
      if (sign === ")") open -= 1;
      const last = /** @type {Element} */ (made[made.length - 1]);
      if (BREAKS.has(sign) && sign !== "," && open <= depth && last.childNodes.length > 0) made.push(math.cloneNode(false));
      const piece = /** @type {Element} */ (made[made.length - 1]);
      const copy = /** @type {Element} */ (part.cloneNode(true));
      // At a line's head it still stands between two terms, with their room.
      if (sign !== "" && piece.childNodes.length === 0 && BREAKS.has(sign)) copy.setAttribute("form", "infix");
      piece.appendChild(copy);
      if (sign === "," && open <= depth) made.push(math.cloneNode(false));
      if (sign === "(") open += 1;
    }
    return made.filter((one) => one.childNodes.length > 0);
  }

  /** @param {HTMLElement} place */
  const overflows = (place) => {
    const { right } = place.getBoundingClientRect();
    return all(place, "math").some((math) => math.getBoundingClientRect().right > right + 0.5);
  };

  /** @param {HTMLElement} place */
  function fit(place) {
    // What is folded away has no width to fit, and to ask for one would lay it out.
    if (place.closest("details:not([open])")) return;
    if (!whole.has(place)) whole.set(place, [...place.childNodes].map((node) => node.cloneNode(true)));
    place.replaceChildren(...(whole.get(place) ?? []).map((node) => node.cloneNode(true)));
    place.classList.remove(...STEPS, "is-wide");
    for (const depth of [0, 1, 2]) {
      if (!overflows(place)) return;
      const formulas = (whole.get(place) ?? []).flatMap((node) =>
        node instanceof Element && node.localName === "math" ? pieces(node, depth).flatMap((piece) => [piece, " "]) : [node.cloneNode(true)]);
      place.replaceChildren(...formulas);
    }
    for (const step of STEPS) {
      if (!overflows(place)) return;
      place.classList.add(step);
    }
    // It keeps a bar of its own to scroll it by.
    place.classList.toggle("is-wide", overflows(place));
  }

  const fitAll = () => all(document, PLACES).forEach(fit);
  let width = innerWidth;
  addEventListener("resize", () => {
    if (innerWidth === width) return;
    width = innerWidth;
    fitAll();
  });
  for (const part of all(document, ".working")) part.addEventListener("toggle", () => all(part, ".working-formula").forEach(fit));
  // The working of another entry takes the place of this one, formula by formula.
  for (const lines of all(document, ".working-lines")) new MutationObserver(() => all(lines, ".working-formula").forEach(fit)).observe(lines, { childList: true });
  // Paper has its own width.
  addEventListener("beforeprint", () => {
    for (const place of all(document, PLACES)) {
      const kept = whole.get(place);
      if (kept) place.replaceChildren(...kept.map((node) => node.cloneNode(true)));
      place.classList.remove(...STEPS, "is-wide");
    }
  });
  addEventListener("afterprint", fitAll);
  fitAll();
})();
