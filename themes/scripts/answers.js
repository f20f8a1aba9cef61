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

  /**
   * A calculator with what was given, as a link.
   * @param {string} calculator
   * @param {{ name: string, text: string }[]} given
   */
  function opening(calculator, given) {
    const link = document.createElement("a");
    const values = given.map(({ name, text }) => `${name}=${encodeURIComponent(text)}&${name}.here=1`);
    link.href = `${gaugeleaf.root}calculators/${calculator}.html#${calculator}?${values.join("&")}`;
    return link;
  }

  /** What a result stands on: a line each, cut short until somebody wants more. @param {AskedReading} reading */
  function grounds(reading) {
    const lines = [];
    if (reading.understood.length > 0) lines.push(listed(worded("answers.given"), reading.understood));
    const job = gaugeleaf.store.kept()?.name;
    for (const [from, values] of groups(reading.assumed)) {
      lines.push(listed(job !== undefined && values[0]?.ground === "measured" ? `${job}, ${from}` : capital(from), values));
    }
    for (const [from, values] of groups(reading.unset)) lines.push(listed(`${capital(from)}:`, values));
    if (reading.hazard) lines.push(element("span", "answer-line is-warning", element("strong", "signal-word", reading.hazard.word), ` ${reading.hazard.text}`));
    lines.push(element("span", "answer-line", document.querySelector(".site-caution")?.textContent ?? ""));
    return lines.flatMap((line) => [line, " "]);
  }

  /** @param {HTMLElement} card */
  function more(card) {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "answer-open";
    /** @param {boolean} open */
    const put = (open) => {
      card.classList.toggle("is-open", open);
      made.textContent = open ? worded("answers.less") : worded("answers.more");
      made.setAttribute("aria-expanded", String(open));
    };
    made.addEventListener("click", () => put(!card.classList.contains("is-open")));
    put(false);
    return made;
  }

  /** @param {AskedReading} reading */
  function card(reading) {
    const link = opening(reading.calculator, reading.given);
    link.append(element("span", "hit-title", reading.title), " ");
    // Nothing is made of a reading that is unusual, or refused, until somebody stands by it in the calculator.
    if (reading.doubts.length + reading.problems.length === 0) {
      reading.outputs.forEach((output, at) => link.append(result(output, at === 0), " "));
      // the title may be what is asked for
      link.querySelector(".answer-result")?.classList.toggle("is-title", reading.outputs[0]?.label === reading.title);
      // A go is the calculator's to give, one tap on, where every value stands in its own field: a question may still be misread.
      if (reading.verdict && reading.verdict.is !== "go") link.append(gaugeleaf.show.banner("span", reading.verdict), " ");
    }
    for (const problem of reading.problems) link.append(element("strong", "answer-line is-whole", worded("answers.no_result", { why: problem.message })), " ");
    for (const doubt of reading.doubts) link.append(element("strong", "answer-line is-whole", worded("answers.check", { doubt: doubt.message })), " ");
    if (reading.left) link.append(element("strong", "answer-line is-whole", worded("answers.left", { words: reading.left })), " ");
    if (reading.guessed) link.append(element("strong", "answer-line is-whole", worded("answers.guessed")), " ");
    link.append(...grounds(reading));
    const made = element("li", "answer", link);
    made.append(more(made));
    made.dataset.calculator = reading.calculator;
    const [first] = reading.outputs;
    if (first && reading.doubts.length + reading.problems.length === 0) made.dataset.told = `${first.label} ${first.text}`;
    return made;
  }

  /** Several ways to understand it: each is a tap, and none has a result. @param {AskedWay[]} ways */
  function question(ways) {
    const made = element("li", "answer is-plain is-told is-asked", element("strong", "answer-line", ways.length > 1 ? worded("answers.which") : worded("answers.one")));
    for (const { calculator, title, given } of ways) {
      const link = opening(calculator, given);
      link.append(element("b", "", given.map(({ label, text }) => `${label} ${text}`).join(", ")), " ", element("span", "hit-where", title));
      made.append(link);
    }
    return made;
  }

  gaugeleaf.answers = (asked) => {
    const made = asked.readings.map(card);
    if (asked.which.length > 0) made.push(question(asked.which));
    if (asked.conversion) {
      const { from, to, rounded } = asked.conversion;
      const told = element("li", "answer is-plain", element("span", "answer-result", element("span", "answer-label", `${from} =`), " ", element("b", "answer-value", to), " ", element("span", "answer-rounded", rounded)));
      told.dataset.told = `${from} = ${to}`;
      made.unshift(told);
    }
    for (const { text, message, help } of asked.told) {
      made.push(element("li", "answer is-plain is-told", element("strong", "answer-line", `${text}: ${message}.`), " ", element("span", "answer-line", help ? `${help}.` : "")));
    }
    return made;
  };
})();
