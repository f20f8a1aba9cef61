// Puts the engine's answer on the page, word for word.
"use strict";
(() => {
  /** Signal words of the verdicts. */
  const WORDS = { go: worded("verdict.go"), caution: worded("verdict.caution"), open: worded("verdict.open"), stop: worded("verdict.stop") };
  const SVG = "http://www.w3.org/2000/svg";
  const { element } = gaugeleaf;

  /**
   * @param {ParentNode} within
   * @param {string} selector
   * @param {string} text
   */
  function write(within, selector, text) {
    const place = within.querySelector(selector);
    // Rewriting the same text would make a screen reader say it again.
    if (!place || place.textContent === text) return;
    // Text that changes where it stands keeps its box: a key is answered sooner.
    const [only, other] = place.childNodes;
    if (text !== "" && !other && only instanceof Text) only.data = text;
    else place.textContent = text;
  }

  /** Only where it changes: what is set anew is styled anew. @param {HTMLElement} part @param {boolean} isHidden */
  function hide(part, isHidden) {
    if (part.hidden !== isHidden) part.hidden = isHidden;
  }

  /**
   * A standing rule is no job's verdict, and has none of its signs.
   * @param {"p" | "span"} tag
   * @param {AskedVerdict} verdict
   * @param {boolean} [standing]
   */
  function banner(tag, verdict, standing) {
    const because = element("span", "because", verdict.because);
    if (standing) return element(tag, "verdict standing", element("strong", "verdict-word", worded("verdict.always")), " ", because);
    const mark = document.createElementNS(SVG, "svg");
    mark.setAttribute("class", "mark");
    mark.setAttribute("aria-hidden", "true");
    const use = document.createElementNS(SVG, "use");
    use.setAttribute("href", `#mark-${verdict.is}`);
    mark.append(use);
    const made = element(tag, "verdict", mark, element("strong", "verdict-word", WORDS[verdict.is]), " ", because);
    made.dataset.is = verdict.is;
    return made;
  }

  /**
   * Who answers for a stop, by the widget and the stop's own sentence: on other values it is another stop.
   * @type {WeakMap<HTMLElement, Map<string, string>>}
   */
  const answered = new WeakMap();

  /** However its spaces are written. @param {string | null | undefined} text */
  const words = (text) => (text ?? "").replace(/\s+/g, " ").trim();

  /** @param {HTMLElement} widget */
  function answersOf(widget) {
    const known = answered.get(widget) ?? new Map();
    if (!answered.has(widget)) {
      for (const said of widget.querySelectorAll(".verdict .answered")) {
        known.set(words(said.parentElement?.querySelector(".because")?.textContent), words(said.textContent));
      }
      answered.set(widget, known);
    }
    return known;
  }

  /** @param {Verdict} verdict @param {Map<string, string>} answers */
  function verdictLine(verdict, answers) {
    const made = banner("p", verdict, verdict.standing);
    made.dataset.check = verdict.check;
    const answer = answers.get(words(verdict.because));
    if (answer) made.append(" ", element("span", "answered", answer));
    return made;
  }

  /**
   * A verdict that stands as it stood takes the new sentence; any other is made anew.
   * @param {HTMLElement} place @param {Verdict[]} verdicts @param {Map<string, string>} answers
   */
  function verdictLines(place, verdicts, answers) {
    const lines = verdicts.map((verdict, nth) => {
      const line = place.children[nth];
      const stays = line instanceof HTMLElement && !verdict.standing && line.dataset.check === verdict.check && line.dataset.is === verdict.is;
      if (!stays || answers.size > 0) return verdictLine(verdict, answers);
      write(line, ".because", verdict.because);
      return line;
    });
    if (lines.length !== place.children.length || lines.some((line, nth) => line !== place.children[nth])) place.replaceChildren(...lines);
  }

  /**
   * Another's number says whose it is.
   * @param {HTMLElement | null} part
   * @param {string} [of]
   */
  function whose(part, of) {
    if (of) part?.setAttribute("data-of", of);
    else if (part?.hasAttribute("data-of")) part.removeAttribute("data-of");
  }

  /**
   * @param {Element | null} box
   * @param {Problem | undefined} problem
   */
  function problemIn(box, problem) {
    if (!(box instanceof HTMLElement)) return;
    write(box, ".problem-message", problem?.message ?? "");
    write(box, ".problem-help", problem?.help ?? "");
    const confirm = /** @type {HTMLElement | null} */ (box.querySelector(".confirm"));
    if (confirm) hide(confirm, !problem?.doubtful);
    hide(box, !problem);
  }

  /**
   * @param {Field} field
   * @param {Answer | MeasureAnswer} answer
   * @param {string | null} quiet  the field still being typed in: a problem there waits until the hand rests
   */
  function fieldState(field, answer, quiet) {
    const problem = answer.problems.find((one) => one.input === field.name);
    const reading = problem ? undefined : answer.inputs[field.name];
    const unset = "unset" in answer ? answer.unset.find((one) => one.input === field.name) : undefined;
    write(field.part, ".understood", reading?.understood ?? "");
    write(field.part, ".field-from", reading?.from ?? unset?.from ?? "");
    const ground = problem ? undefined : reading?.ground ?? "none";
    if (ground === undefined) delete field.part.dataset.ground;
    else if (field.part.dataset.ground !== ground) field.part.dataset.ground = ground;
    if (problem && quiet === field.name) return;
    problemIn(field.part.querySelector(".problem"), problem);
    if (field.kind === "choice") return;
    if (problem) field.entry.setAttribute("aria-invalid", "true");
    else if (field.entry.hasAttribute("aria-invalid")) field.entry.removeAttribute("aria-invalid");
    const kept = /** @type {HTMLElement | null} */ (field.part.querySelector(".kept"));
    const doubted = "doubts" in answer ? answer.doubts.some((one) => one.input === field.name) : true;
    if (kept) hide(kept, !(field.confirmed && !problem && doubted));
  }

  /**
   * @param {HTMLElement} widget
   * @param {Answer} answer
   */
  function results(widget, answer) {
    const refused = answer.problems.length > 0;
    const answers = answersOf(widget);
    widget.querySelector(".results")?.toggleAttribute("data-empty", refused);
    for (const part of widget.querySelectorAll(".result")) {
      const row = /** @type {HTMLElement} */ (part);
      const found = answer.outputs[row.dataset.output ?? ""];
      // On an entry that was refused nothing stands before it is settled.
      /** @type {Partial<Reading>} */
      const reading = found?.ground === "doubted" ? { label: found.label, why: worded("show.not_settled") } : found;
      write(row, ".result-text", reading?.text ?? reading?.choice ?? "");
      whose(/** @type {HTMLElement | null} */ (row.querySelector(".result-text")), reading?.of);
      write(row, ".result-also", reading?.why ?? reading?.also ?? "");
      write(row, ".result-rounded", reading?.rounded ?? "");
      write(row, ".result-span b", reading?.span?.text ?? "");
      row.querySelector(".result-span")?.toggleAttribute("hidden", !reading?.span);
      // A result that doesn't apply goes; after a refusal every row stays, empty.
      hide(row, !refused && !reading);
    }
    const verdicts = /** @type {HTMLElement | null} */ (widget.querySelector(".verdicts"));
    if (verdicts) verdictLines(verdicts, answer.verdicts, answers);
  }

  /**
   * @param {Element | null} place
   * @param {string | undefined} drawn
   */
  function drawing(place, drawn) {
    if (!place) return;
    place.innerHTML = drawn ?? "";
    // The drawing describes itself; what it said of the old values is no longer so.
    if (place.hasAttribute("aria-label")) {
      place.setAttribute("aria-label", (place.querySelector("desc") ?? place.querySelector("title"))?.textContent ?? "");
    }
  }

  gaugeleaf.show = {
    banner,

    answer(widget, fields, answer, quiet) {
      for (const field of fields) fieldState(field, answer, quiet);
      const names = new Set(fields.map((field) => field.name));
      problemIn(widget.querySelector(".problem.general"), answer.problems.find((one) => !names.has(one.input)));
      if ("outputs" in answer) results(widget, answer);
    },

    drawn(widget, answer) {
      gaugeleaf.working?.(widget, answer.working ?? []);
      drawing(widget.querySelector(".widget-drawing"), answer.figure);
      drawing(widget.querySelector(".widget-plot"), answer.plot);
    },

    limits(field, answer) {
      const place = field.part.querySelector(".how-far-said");
      const found = answer?.limits ?? [];
      const changing = found.filter((one) => one.low ?? one.high);
      const lines = changing.map((one) => element("p", "how-far-line", one.line));
      if (answer && lines.length === 0) {
        const why = answer.problems?.map((one) => one.message).join(" ");
        lines.push(element("p", "how-far-line", why || worded("show.no_change")));
      }
      place?.replaceChildren(...lines);
    },

    summary(answer) {
      if (answer.problems.length > 0) {
        return [worded("show.no_result"), ...answer.problems.map((one) => one.message)].join(" ");
      }
      return [
        answer.training ? worded("show.training") : "",
        ...Object.values(answer.outputs).map((one) => `${one.label}: ${one.text}.`),
        ...answer.verdicts.map((one) => `${one.standing ? worded("show.always") : WORDS[one.is]}: ${one.because}`),
      ].join(" ").trim();
    },
  };
})();
