// How a result came about, line by line as the engine wrote it.
"use strict";
(() => {
  const { element } = gaugeleaf;

  /** @param {WorkingLine} line */
  function workingLine(line) {
    const made = element("div", "working-line", "");
    made.dataset.name = line.name;
    const formula = element("p", "working-formula", line.mathml ? "" : line.formula);
    if (line.mathml) formula.innerHTML = line.mathml;
    made.append(
      element("p", "working-label", line.label),
      formula,
      element("p", "working-numbers", line.numbers),
      element("p", "working-result", line.result),
    );
    return made;
  }

  gaugeleaf.working = (within, lines) => within.querySelector(".working-lines")?.replaceChildren(...lines.map(workingLine));
})();
