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

  /** @param {HTMLElement} part @param {string} selector */
  const all = (part, selector) => /** @type {HTMLElement[]} */ ([...part.querySelectorAll(selector)]);

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
      again() {
        for (const radio of radios) radio.checked = false;
        part.querySelector(".choices")?.append(...mixed(all(part, ".choices label")));
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
    const inOrder = [...places()].sort();

    /** @param {HTMLElement} step @param {HTMLElement} button @param {boolean} earlier */
    function move(step, button, earlier) {
      if (earlier) step.previousElementSibling?.before(step);
      else step.nextElementSibling?.after(step);
      // A step that is moved loses the focus.
      button.focus();
      const text = step.querySelector(".order-text")?.textContent ?? "";
      said.textContent = worded("question.moved", { step: text, place: steps().indexOf(step) + 1, steps: steps().length });
    }
    for (const step of steps()) {
      for (const button of all(step, "button")) {
        button.addEventListener("click", () => move(step, button, button.matches(".order-up")));
      }
    }
    return {
      answer: places,
      put(answer) {
        const by = new Map(steps().map((step) => [step.dataset.place ?? "", step]));
        list.append(...answer.flatMap((one) => by.get(one) ?? []));
      },
      async judge() {
        const right = places().every((one, at) => one === inOrder[at]);
        return { is: right ? "right" : "wrong", show() {} };
      },
      again() {
        list.append(...mixed(steps()));
        if (places().every((one, at) => one === inOrder[at])) list.append(...steps().slice(0, 1));
      },
      lock(locked) {
        for (const button of all(list, "button")) button.hidden = locked;
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
        return {
          is: graded.right ? "right" : "wrong",
          show() {
            const text = part.querySelector(".answer-text b");
            if (text) text.textContent = graded.expected ?? "";
            gaugeleaf.show.working(part, graded.working ?? []);
          },
        };
      },
      again(turn) {
        inputs = variants[turn % variants.length] ?? {};
        for (const place of all(part, ".drawn")) {
          const text = inputs[place.dataset.name ?? ""];
          if (text !== undefined) place.textContent = text;
        }
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
    kind.put(part.dataset.kind === "order" ? kind.answer() : []);
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
