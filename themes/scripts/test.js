// A test: all questions graded together, by the rule that the page states; kept until it is started again.
"use strict";
(() => {
  const page = document.documentElement.dataset.page ?? "";
  const place = `test/${page}`;

  /** @returns {TestState} */
  function remembered() {
    const held = /** @type {Partial<TestState> | null} */ (gaugeleaf.store.get(place));
    const answers = held?.answers;
    return {
      turn: typeof held?.turn === "number" ? held.turn : 0,
      graded: held?.graded === true,
      answers: typeof answers === "object" && answers !== null ? answers : {},
    };
  }

  /** @param {HTMLElement} test */
  function live(test) {
    const questions = gaugeleaf.questions.filter(({ part }) => test.contains(part));
    const said = /** @type {HTMLElement} */ (test.querySelector(".test-said"));
    const button = /** @type {HTMLButtonElement} */ (test.querySelector(".test-grade"));
    const retry = /** @type {HTMLButtonElement} */ (test.querySelector(".test-retry"));
    const state = remembered();

    function remember() {
      for (const question of questions) state.answers[question.key] = question.answer();
      gaugeleaf.store.set(place, state);
    }

    /** @param {string} selector @param {string} text */
    function sheet(selector, text) {
      for (const part of document.querySelectorAll(selector)) part.textContent = text;
    }

    function variant() {
      sheet(".sign-variant", `${state.turn + 1}`);
    }

    async function grade() {
      const judged = await Promise.all(questions.map((question) => question.judge()));
      const open = questions.filter((_, at) => judged[at]?.is === "open");
      if (open.length > 0) {
        questions.forEach((question, at) => {
          const one = judged[at];
          if (one?.is === "open") question.show(one);
        });
        said.textContent = worded("test.open", { open: open.length, questions: questions.length });
        const first = open[0]?.part.querySelector("input");
        first?.focus();
        return;
      }
      questions.forEach((question, at) => {
        const one = judged[at];
        if (one) question.show(one);
      });
      const wrong = questions.filter((_, at) => judged[at]?.is === "wrong");
      const right = questions.length - wrong.length;
      const missed = wrong.some(({ critical }) => critical);
      const passed = right >= Number(test.dataset.needed) && !missed;
      const score = worded("test.score", { right, questions: questions.length });
      const why = missed
        ? worded("test.missed")
        : worded("test.needed", { needed: test.dataset.needed ?? "", questions: questions.length });
      said.textContent = passed ? worded("test.passed", { score }) : worded("test.not_passed", { score, why });
      sheet(".sign-score", passed ? worded("test.sheet_passed", { score }) : worded("test.sheet_not_passed", { score }));
      test.dataset.is = passed ? "passed" : "failed";
      button.hidden = true;
      retry.hidden = false;
      state.graded = true;
      remember();
    }

    button.addEventListener("click", grade);
    retry.addEventListener("click", () => {
      state.turn += 1;
      state.graded = false;
      for (const question of questions) question.again(state.turn);
      delete test.dataset.is;
      button.hidden = false;
      retry.hidden = true;
      said.textContent = worded("test.other_numbers");
      sheet(".sign-score", "");
      variant();
      remember();
      test.scrollIntoView();
    });
    for (const event of ["input", "click"]) {
      test.addEventListener(event, () => { if (!state.graded) remember(); });
    }

    for (const question of questions) {
      if (state.turn > 0) question.again(state.turn);
      const answer = state.answers[question.key];
      if (Array.isArray(answer)) question.put(answer);
    }
    // Somebody began here before: the next one starts afresh.
    retry.hidden = Object.keys(state.answers).length === 0;
    variant();
    if (state.graded) void grade();
  }

  for (const test of document.querySelectorAll(".test")) live(/** @type {HTMLElement} */ (test));
})();
