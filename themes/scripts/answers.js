// What a question came to, as cards above the hits: word for word as the engine says it.
"use strict";
(() => {
  const { element } = gaugeleaf;

  /** @param {AskedOutput} output @param {boolean} first */
  function result(output, first) {
    const made = element("span", first ? "answer-result" : "answer-more", element("span", "answer-label", output.label), " ", element("b", "answer-value", output.text));
    if (output.of) made.querySelector("b")?.setAttribute("data-of", output.of);
    // both are rounded from the exact result, so neither equals the other
    if (output.also) made.append(" ", element("span", "answer-also", first ? output.also : `(${output.also})`));
    if (first && output.rounded) made.append(" ", element("span", "answer-rounded", output.rounded));
    return made;
  }

  /** @param {string} label @param {{ label: string, text?: string }[]} values */
  function listed(label, values) {
    const lines = values.map((one) => [one.label, one.text ?? ""].join(" ").trim());
    return element("span", "answer-line", element("span", "answer-label", label), " ", lines.join("; "));
  }

  /**
   * Values together that come from one place.
   * @template {{ from: string }} T
   * @param {T[]} values
   */
  function groups(values) {
    /** @type {Map<string, T[]>} */
    const by = new Map();
    for (const one of values) by.set(one.from, [...(by.get(one.from) ?? []), one]);
    return by;
  }

  /** @param {string} words */
  const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

  /** @param {AskedReading} reading */
  function card(reading) {
    const link = document.createElement("a");
    const given = reading.given.map(({ name, text }) => `${name}=${encodeURIComponent(text)}&${name}.here=1`);
    link.href = `${gaugeleaf.root}calculators/${reading.calculator}.html#${reading.calculator}?${given.join("&")}`;
    link.append(element("span", "hit-kind", worded("answers.answer")), " ", element("span", "hit-title", reading.title), " ");
    // Nothing is made of a reading that is unusual, or refused, until somebody stands by it in the calculator.
    if (reading.doubts.length + reading.problems.length === 0) {
      reading.outputs.forEach((output, at) => link.append(result(output, at === 0), " "));
      if (reading.verdict) link.append(gaugeleaf.show.banner("span", reading.verdict), " ");
    }
    for (const problem of reading.problems) link.append(element("strong", "answer-line", worded("answers.no_result", { why: problem.message })), " ");
    for (const doubt of reading.doubts) link.append(element("strong", "answer-line", worded("answers.check", { doubt: doubt.message })), " ");
    if (reading.understood.length > 0) link.append(listed(worded("answers.given"), reading.understood), " ");
    const job = gaugeleaf.store.kept()?.name;
    for (const [from, values] of groups(reading.assumed)) {
      link.append(listed(job !== undefined && values[0]?.ground === "measured" ? `${job}, ${from}` : capital(from), values), " ");
    }
    for (const [from, values] of groups(reading.unset)) link.append(listed(`${capital(from)}:`, values), " ");
    if (reading.hazard) link.append(element("span", "answer-line", element("strong", "signal-word", reading.hazard.word), ` ${reading.hazard.text}`), " ");
    link.append(element("span", "answer-line", document.querySelector(".site-caution")?.textContent ?? ""));
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
