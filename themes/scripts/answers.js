// What a question came to, as cards above the hits: word for word as the engine says it.
"use strict";
(() => {
  const WORDS = { go: "GO", caution: "CAUTION", stop: "STOP" };
  const SVG = "http://www.w3.org/2000/svg";
  const { element } = gaugeleaf;

  /** @param {AskedVerdict} verdict */
  function banner(verdict) {
    const mark = document.createElementNS(SVG, "svg");
    mark.setAttribute("class", "mark");
    mark.setAttribute("aria-hidden", "true");
    const use = document.createElementNS(SVG, "use");
    use.setAttribute("href", `#mark-${verdict.is}`);
    mark.append(use);
    const made = element("span", "verdict", mark, element("strong", "verdict-word", WORDS[verdict.is]), " ", element("span", "because", verdict.because));
    made.dataset.is = verdict.is;
    return made;
  }

  /** @param {AskedOutput} output @param {boolean} first */
  function result(output, first) {
    const made = element("span", first ? "answer-result" : "answer-more", element("span", "answer-label", output.label), " ", element("b", "answer-value", output.text));
    // both are rounded from the exact result, so neither equals the other
    if (output.also) made.append(" ", element("span", "answer-also", first ? output.also : `(${output.also})`));
    if (first && output.rounded) made.append(" ", element("span", "answer-rounded", output.rounded));
    return made;
  }

  /** @param {string} label @param {string[]} lines */
  const listed = (label, lines) => element("span", "answer-line", element("span", "answer-label", label), " ", lines.join("; "));

  /** @param {AskedReading} reading */
  function card(reading) {
    const link = document.createElement("a");
    const given = reading.given.map(({ name, text }) => `${name}=${encodeURIComponent(text)}`);
    link.href = `${gaugeleaf.root}calculators/${reading.calculator}.html#${reading.calculator}?${given.join("&")}`;
    link.append(element("span", "hit-kind", "Answer"), " ", element("span", "hit-title", reading.title), " ");
    reading.outputs.forEach((output, at) => link.append(result(output, at === 0), " "));
    if (reading.verdict) link.append(banner(reading.verdict), " ");
    for (const problem of reading.problems) link.append(element("strong", "answer-line", `No result: ${problem.message}.`), " ");
    for (const doubt of reading.doubts) link.append(element("strong", "answer-line", `Check this: ${doubt.message}.`), " ");
    if (reading.understood.length > 0) link.append(listed("Understood", reading.understood.map((input) => `${input.label} ${input.text}`)), " ");
    if (reading.assumed.length > 0) link.append(listed("Assumed", reading.assumed.map((input) => `${input.label} ${input.text} (${input.from})`)));
    const made = element("li", "answer", link);
    made.dataset.calculator = reading.calculator;
    return made;
  }

  gaugeleaf.answers = (asked) => {
    const made = asked.readings.map(card);
    if (asked.conversion) {
      const { from, to, rounded } = asked.conversion;
      made.unshift(element("li", "answer is-plain", element("span", "answer-result", element("span", "answer-label", `${from} =`), " ", element("b", "answer-value", to), " ", element("span", "answer-rounded", rounded))));
    }
    for (const { text, message, help } of asked.told) {
      made.push(element("li", "answer is-plain is-told", element("strong", "answer-line", `${text}: ${message}.`), " ", element("span", "answer-line", help ? `${help}.` : "")));
    }
    return made;
  };
})();
