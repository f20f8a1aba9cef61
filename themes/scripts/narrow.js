// The list of calculators, narrowed to those whose lines hold all that is typed.
"use strict";
(() => {
  const { all } = gaugeleaf;
  const box = /** @type {HTMLElement} */ (document.querySelector(".narrow"));
  const entry = /** @type {HTMLInputElement} */ (box.querySelector("input"));
  const said = /** @type {HTMLElement} */ (box.querySelector("[role=status]"));
  const rows = all(document, ".rows > li").map((row) => ({ row, words: (row.textContent ?? "").toLowerCase() }));

  function narrow() {
    const asked = entry.value.toLowerCase().split(/\s+/).filter(Boolean);
    let left = 0;
    for (const { row, words } of rows) {
      row.hidden = !asked.every((word) => words.includes(word));
      if (!row.hidden) left += 1;
    }
    for (const area of all(document, ".area")) area.hidden = !area.querySelector("li:not([hidden])");
    said.textContent = asked.length === 0 ? "" : left === 0 ? worded("calculators.none_left") : worded("calculators.left", { left, of: rows.length });
  }
  box.hidden = false;
  entry.addEventListener("input", narrow);
  // What was typed before somebody went on stands there again.
  narrow();
})();
