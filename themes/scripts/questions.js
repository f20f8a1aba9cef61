// Questions: graded in the page, numbers by the engine; the answer shows once it was answered.
"use strict";
(() => {
  /**
   * In an order of chance: for the eye alone.
   * @template T
   * @param {T[]} items
   */
  function mixed(items) {
    /** @type {[number, T][]} */
    const drawn = items.map((item) => [Math.random(), item]);
    return drawn.sort(([one], [other]) => one - other).map(([, item]) => item);
  }

  const { all } = gaugeleaf;

  /** The needle of a gauge, where it stands for this try. @param {HTMLElement} part @param {number} turn */
  function needle(part, turn) {
    for (const hand of all(part, ".dial-needle")) {
      /** @type {number[]} */
      const turns = JSON.parse(hand.dataset.turns ?? "[]");
      hand.setAttribute("transform", `rotate(${turns[turn % turns.length] ?? 0})`);
    }
  }

  /** A card's other variant: what its lines say, which answer is right, and why. @param {HTMLElement} part @param {number} turn */
  function deal(part, turn) {
    /** @type {CardCase[]} */
    const cases = JSON.parse(part.dataset.cases ?? "[]");
    const dealt = cases[turn % cases.length];
    if (!dealt) return;
    for (const cell of all(part, "[data-line]")) {
      const text = dealt.shown[cell.dataset.line ?? ""];
      if (text !== undefined) cell.textContent = text;
    }
    part.dataset.right = `${dealt.right}`;
    const right = part.querySelector(`input[value="${dealt.right}"] + span`)?.textContent ?? "";
    for (const [selector, text] of [[".answer-text b", right], [".answer-because", dealt.because]]) {
      const line = part.querySelector(selector ?? "");
      if (line) line.textContent = text ?? "";
    }
  }

  /**
   * @param {HTMLElement} part
   * @param {HTMLElement} said
   * @returns {Kind}
   */
  function choice(part, said) {
    const radios = /** @type {HTMLInputElement[]} */ (all(part, "input[type=radio]"));
    return {
      answer: () => radios.filter((radio) => radio.checked).map((radio) => radio.value),
      put(answer) {
        for (const radio of radios) radio.checked = answer.includes(radio.value);
      },
      async judge() {
        const chosen = radios.find((radio) => radio.checked);
        if (!chosen) return { is: "open", show: () => { said.textContent = worded("question.choose"); } };
        return { is: chosen.value === part.dataset.right ? "right" : "wrong", show() {} };
      },
      again(turn) {
        for (const radio of radios) radio.checked = false;
        // The verdicts and the lines of a card keep their order, as they do on the job.
        if (part.dataset.cases === undefined) part.querySelector(".choices")?.append(...mixed(all(part, ".choices label")));
        else deal(part, turn);
        needle(part, turn);
      },
      lock(locked) {
        for (const radio of radios) radio.disabled = locked;
      },
    };
  }

  /**
   * @param {HTMLElement} part
   * @param {HTMLElement} said
   * @returns {Kind}
   */
  function order(part, said) {
    const list = /** @type {HTMLElement} */ (part.querySelector(".order"));
    const steps = () => all(list, "li");
    const places = () => steps().map((step) => step.dataset.place ?? "");
    const inOrder = [...places()].sort((one, other) => Number(one) - Number(other));
    /** The steps that were tapped, in the order of the taps. @type {string[]} */
    let tapped = [];

    function show() {
      for (const step of steps()) {
        const at = tapped.indexOf(step.dataset.place ?? "");
        step.classList.toggle("is-tapped", at >= 0);
        const number = step.querySelector(".order-number");
        if (number) number.textContent = at < 0 ? "" : `${at + 1}`;
      }
    }

    /** The next in order; a step that has its number gives it back. @param {HTMLElement} step */
    function tap(step) {
      const place = step.dataset.place ?? "";
      const text = step.querySelector(".order-text")?.textContent ?? "";
      const known = tapped.includes(place);
      tapped = known ? tapped.filter((one) => one !== place) : [...tapped, place];
      show();
      said.textContent = known
        ? worded("question.taken_out", { step: text })
        : worded("question.tapped", { step: text, place: tapped.length, steps: inOrder.length });
    }
    for (const step of steps()) {
      const still = step.querySelector(".order-tap");
      const button = gaugeleaf.element("button", "order-tap", ...(still?.childNodes ?? []));
      button.type = "button";
      button.addEventListener("click", () => tap(step));
      still?.replaceWith(button);
    }
    return {
      answer: () => [...tapped],
      put(answer) {
        tapped = answer.filter((one) => inOrder.includes(one));
        show();
      },
      async judge() {
        if (tapped.length < inOrder.length) return { is: "open", show: () => { said.textContent = worded("question.tap_all"); } };
        return { is: tapped.every((one, at) => one === inOrder[at]) ? "right" : "wrong", show() {} };
      },
      again() {
        list.append(...mixed(steps()));
        if (places().every((one, at) => one === inOrder[at])) list.append(...steps().slice(0, 1));
        tapped = [];
        show();
      },
      lock(locked) {
        for (const button of all(list, "button")) /** @type {HTMLButtonElement} */ (button).disabled = locked;
      },
    };
  }

  /**
   * @param {HTMLElement} part
   * @param {HTMLElement} said
   * @returns {Kind}
   */
  function number(part, said) {
    const entry = /** @type {HTMLInputElement} */ (part.querySelector(".entry"));
    const problem = /** @type {HTMLElement} */ (part.querySelector(".problem"));
    const held = (/** @type {string} */ key) => JSON.parse(part.dataset[key] ?? "null");
    /** @type {Record<string, string>[]} */
    const variants = held("variants");
    let inputs = variants[0] ?? {};

    /** @param {Problem | null} fault */
    function refuse(fault) {
      problem.hidden = !fault;
      for (const [selector, text] of [[".problem-message", fault?.message], [".problem-help", fault?.help]]) {
        const line = problem.querySelector(selector ?? "");
        if (line) line.textContent = text ?? "";
      }
      if (fault) entry.setAttribute("aria-invalid", "true");
      else entry.removeAttribute("aria-invalid");
    }
    entry.addEventListener("input", () => refuse(null));

    return {
      answer: () => [entry.value],
      put(answer) {
        entry.value = answer.join();
      },
      async judge() {
        const graded = await gaugeleaf.ask({
          do: "grade",
          name: part.dataset.calculator ?? "",
          output: part.dataset.output ?? "",
          tolerance: part.dataset.tolerance ?? "",
          inputs: { ...held("given"), ...inputs },
          given: held("job"),
          typed: entry.value,
        }).catch(() => null);
        if (!graded) {
          return { is: "open", show: () => { said.textContent = worded("question.stopped"); } };
        }
        if (graded.right === undefined) {
          const fault = graded.problem ?? { input: "", message: "", help: null, doubtful: false };
          return {
            is: "open",
            show() {
              refuse(fault);
              said.textContent = [worded("question.not_graded"), fault.message, fault.help ?? ""].join(" ").trim();
            },
          };
        }
        // Without it the answer stands alone.
        if (!gaugeleaf.working) await gaugeleaf.bring("scripts/working.js").catch(() => {});
        return {
          is: graded.right ? "right" : "wrong",
          show() {
            const text = part.querySelector(".answer-text b");
            if (text) text.textContent = graded.expected ?? "";
            gaugeleaf.working?.(part, graded.working ?? []);
          },
        };
      },
      again(turn) {
        inputs = variants[turn % variants.length] ?? {};
        for (const place of all(part, ".drawn")) {
          const text = inputs[place.dataset.name ?? ""];
          if (text !== undefined) place.textContent = text;
        }
        needle(part, turn);
        entry.value = "";
        refuse(null);
      },
      lock(locked) {
        entry.readOnly = locked;
      },
    };
  }

  const kinds = { choice, order, number };

  /**
   * @param {HTMLElement} part
   * @returns {Question}
   */
  function live(part) {
    const said = /** @type {HTMLElement} */ (part.querySelector(".question-said"));
    const check = /** @type {HTMLButtonElement} */ (part.querySelector(".question-check"));
    const retry = /** @type {HTMLButtonElement} */ (part.querySelector(".question-retry"));
    const answer = /** @type {HTMLDetailsElement} */ (part.querySelector(".question-answer"));
    const kind = kinds[/** @type {keyof typeof kinds} */ (part.dataset.kind)](part, said);
    let turn = 0;

    /** @param {boolean} answered */
    function stand(answered) {
      part.classList.toggle("is-answered", answered);
      answer.open = answered;
      kind.lock(answered);
      check.hidden = answered;
      retry.hidden = !answered;
    }

    /** @param {Judged} judged */
    function show(judged) {
      judged.show();
      if (judged.is === "open") return;
      part.dataset.is = judged.is;
      said.textContent = judged.is === "right" ? worded("question.right") : worded("question.wrong");
      stand(true);
    }

    /** @param {number} to */
    function again(to) {
      turn = to;
      delete part.dataset.is;
      said.textContent = "";
      kind.again(to);
      stand(false);
    }

    part.querySelector("form")?.addEventListener("submit", async (event) => {
      event.preventDefault();
      if (part.classList.contains("is-answered") || part.closest(".test")) return;
      show(await kind.judge());
      if (part.classList.contains("is-answered")) retry.focus();
    });
    retry.addEventListener("click", () => {
      again(turn + 1);
      const first = /** @type {HTMLElement | null} */ (part.querySelector("input, .order button"));
      first?.focus();
    });
    // A browser may bring back what was chosen or typed; the question starts open.
    kind.put([]);
    return {
      part,
      key: part.dataset.question ?? "",
      critical: "critical" in part.dataset,
      answer: kind.answer,
      put: kind.put,
      judge: kind.judge,
      show,
      again,
    };
  }

  gaugeleaf.questions = all(document.body, "[data-question]").map(live);
})();
