// A test: some of its questions each time, one a screen, graded together by the rule that the page states.
"use strict";
(() => {
  const page = document.documentElement.dataset.page ?? "";
  const { names, people } = gaugeleaf;

  /**
   * The same draws for the same try of the same test, so that a sheet says which questions were asked.
   * @param {number} seed
   */
  function draws(seed) {
    let state = seed * 0x9e3779b1 >>> 0;
    return () => {
      state = state + 0x6d2b79f5 >>> 0;
      let mixed = Math.imul(state ^ state >>> 15, state | 1);
      mixed ^= mixed + Math.imul(mixed ^ mixed >>> 7, mixed | 61);
      return (mixed ^ mixed >>> 14) >>> 0;
    };
  }

  /**
   * @template T
   * @param {T[]} items
   * @param {() => number} draw
   */
  function shuffled(items, draw) {
    const all = [...items];
    for (let last = all.length - 1; last > 0; last -= 1) {
      const at = draw() % (last + 1);
      const [one, other] = [all[last], all[at]];
      if (one !== undefined && other !== undefined) [all[last], all[at]] = [other, one];
    }
    return all;
  }

  /** @param {HTMLElement} test */
  function live(test) {
    const pool = gaugeleaf.questions.filter(({ part }) => test.contains(part));
    const [asks, decisive] = [Number(test.dataset.asked), Number(test.dataset.critical)];
    const find = (/** @type {string} */ selector) => /** @type {HTMLElement} */ (test.querySelector(selector));
    const said = find(".test-said");
    const [begin, grade, retry] = [find(".test-begin"), find(".test-grade"), find(".test-retry")];
    let judging = false;
    const [back, on, where] = [find(".test-back"), find(".test-on"), find(".test-where")];
    const aloud = /** @type {HTMLInputElement} */ (find(".test-aloud"));
    const by = /** @type {HTMLInputElement} */ (find(".test-by"));
    const remedy = /** @type {HTMLFormElement} */ (find(".remedy"));
    /** Whose try this is. */
    let whose = people.inHand();
    const place = () => `test/${page}/${whose}`;
    /** What this device keeps of their try. */
    const heldTry = () => /** @type {Partial<TestState> | null} */ (gaugeleaf.store.get(place()));
    /** No try. @returns {TestState} */
    const none = () => ({ try: 0, at: 0, graded: "", reader: "", answers: {} });
    /** @type {TestState} */
    let state = none();
    /** The questions of this try. @type {Question[]} */
    let asked = [];

    function remembered() {
      const held = heldTry();
      const answers = held?.answers;
      state = {
        try: typeof held?.try === "number" ? held.try : 0,
        at: typeof held?.at === "number" ? held.at : 0,
        graded: typeof held?.graded === "string" ? held.graded : "",
        reader: typeof held?.reader === "string" ? held.reader : "",
        answers: typeof answers === "object" && answers !== null ? answers : {},
      };
      // The record holds it already: another one may begin.
      if (state.graded === "" && recorded()) state = none();
    }

    /** Another is in hand, or what this device keeps is of another try or over: another window has gone on. */
    function isPast() {
      const held = heldTry();
      return whose !== people.inHand() || state.try > 0 && (held?.try !== state.try || (held.graded ?? "") !== state.graded);
    }

    function remember() {
      for (const question of asked) state.answers[question.key] = question.answer();
      gaugeleaf.store.set(place(), state);
    }

    /** The critical ones first among what is drawn, then all in an order of chance. */
    function deal() {
      const draw = draws(state.try);
      const [must, other] = [pool.filter(({ critical }) => critical), pool.filter(({ critical }) => !critical)];
      const musts = shuffled(must, draw).slice(0, decisive);
      const others = shuffled(other, draw).slice(0, asks - musts.length);
      asked = shuffled([...musts, ...others], draw);
      for (const question of pool) {
        const place = asked.indexOf(question);
        question.part.hidden = place < 0;
        question.again(draw() % 1000);
      }
      find(".test-questions").append(...asked.map(({ part }) => part));
      for (const place of document.querySelectorAll(".sign-variant")) place.textContent = `${state.try}`;
    }

    /** @param {number} to */
    function turn(to) {
      state.at = Math.min(Math.max(to, 0), asked.length - 1);
      asked.forEach(({ part }, at) => part.classList.toggle("is-here", at === state.at));
      const whose = people.person()?.name ?? worded("test.practice");
      where.textContent = worded("test.where", { whose, at: state.at + 1, questions: asked.length });
      back.hidden = state.at === 0;
      on.hidden = state.at === asked.length - 1;
      grade.hidden = state.graded !== "" || !on.hidden;
    }

    function show() {
      const begun = state.try > 0;
      const running = begun && state.graded === "";
      const stuck = people.stuck(people.person()?.tests[page]);
      test.classList.toggle("is-running", running);
      test.classList.toggle("is-begun", begun);
      document.documentElement.classList.toggle("test-runs", running);
      document.documentElement.classList.toggle("test-graded", begun && !running);
      begin.hidden = begun || stuck;
      // A try that runs can't be dealt anew: nobody picks the easier questions.
      retry.hidden = state.graded === "" || stuck;
      remedy.hidden = !stuck;
    }

    /** What was said of another try, on the page and on its sheet. */
    function clear() {
      delete test.dataset.is;
      said.textContent = "";
      for (const line of document.querySelectorAll(".sign-score, .sign-reader, .sign-variant")) line.textContent = "";
    }

    function start() {
      const held = heldTry();
      if (held?.try && !held.graded && !recorded(held.try, "")) {
        // Begun in another window: it goes on, and is not dealt anew.
        resume();
        return;
      }
      const reader = aloud.checked ? by.value.trim() : "";
      if (aloud.checked && (!names.isName(reader) || !names.apart(reader, people.person()?.name ?? ""))) {
        said.textContent = worded("test.no_reader");
        by.focus();
        return;
      }
      do state = { ...none(), try: 1 + Math.floor(Math.random() * 9999), reader }; while (recorded());
      clear();
      deal();
      turn(0);
      remember();
      show();
      where.scrollIntoView();
    }

    /** @param {Judged[]} judged @param {boolean} again */
    function result(judged, again) {
      asked.forEach((question, at) => {
        const one = judged[at];
        if (one) question.show(one);
      });
      const wrong = asked.filter((_, at) => judged[at]?.is === "wrong");
      const right = asked.length - wrong.length;
      const missed = wrong.some(({ critical }) => critical);
      const passed = right >= Number(test.dataset.needed) && !missed;
      const score = worded("test.score", { right, questions: asked.length });
      const why = missed
        ? worded("test.missed")
        : worded("test.needed", { needed: test.dataset.needed ?? "", questions: asked.length });
      if (!again) state.graded = people.today();
      const when = state.graded;
      const nobody = people.person() === undefined;
      for (const line of document.querySelectorAll(".sign-score")) {
        line.textContent = nobody ? worded("test.sheet_nobody")
          : again && !recorded() ? worded("test.sheet_not_kept")
          : passed ? worded("test.sheet_passed", { score, when }) : worded("test.sheet_not_passed", { score, when });
      }
      for (const line of document.querySelectorAll(".sign-reader")) line.textContent = state.reader;
      test.dataset.is = passed ? "passed" : "failed";
      remember();
      let told = passed ? worded("test.passed", { score }) : worded("test.not_passed", { score, why });
      if (!again) {
        const kept = people.change((person) => {
          (person.tests[page] ??= []).push({
            ...people.now(page), by: state.reader, passed, right, of: asked.length,
            set: test.dataset.set ?? "", try: state.try, aloud: state.reader !== "",
          });
        });
        if (!nobody && !kept) told += ` ${worded("person.not_kept")}`;
      } else if (!nobody && !recorded()) told += ` ${worded("person.not_kept")}`;
      const ended = passed ? people.since(when) : undefined;
      if (ended) told = worded("role.ended", { when: ended.when, why: ended.why });
      if (nobody) told += ` ${worded("test.nobody")}`;
      show();
      said.textContent = told;
      if (!again) said.scrollIntoView({ block: "start" });
    }

    async function judge(again = false) {
      if (judging) return;
      if (!again && !isOwn()) {
        resume();
        return;
      }
      const own = state;
      judging = true;
      const judged = await Promise.all(asked.map((question) => question.judge())).finally(() => { judging = false; });
      // Meanwhile another may have been taken in hand, or another try.
      if (own !== state || !again && !isOwn()) {
        resume();
        return;
      }
      const open = judged.findIndex((one) => one.is === "open");
      if (open >= 0) {
        const one = judged[open];
        if (one) asked[open]?.show(one);
        const count = judged.filter((one) => one.is === "open").length;
        said.textContent = worded("test.open", { open: count, questions: asked.length });
        turn(open);
        asked[open]?.part.querySelector("input")?.focus();
        return;
      }
      result(judged, again);
    }

    /** Whether the try may still be graded: for the one who took it, and not twice. */
    function isOwn() {
      return !isPast() && !people.stuck(people.person()?.tests[page]) && !recorded();
    }

    /** Whether the record holds a try: of these questions, or of a revision's before, by its day. */
    const recorded = (number = state.try, graded = state.graded) => (people.person()?.tests[page] ?? []).some((kept) =>
      kept.try === number && (kept.set === test.dataset.set || graded !== "" && kept.when === graded));

    /** Takes up where the one in hand left off. */
    function resume() {
      whose = people.inHand();
      remembered();
      clear();
      aloud.checked = state.reader !== "";
      by.value = state.reader;
      if (state.try > 0) {
        deal();
        for (const question of asked) {
          const answer = state.answers[question.key];
          if (Array.isArray(answer)) question.put(answer);
        }
        turn(state.at);
      }
      show();
      if (state.graded !== "") void judge(true);
    }

    begin.addEventListener("click", start);
    retry.addEventListener("click", start);
    grade.addEventListener("click", () => judge());
    for (const [button, step] of /** @type {const} */ ([[back, -1], [on, 1]])) {
      button.addEventListener("click", () => {
        if (isPast()) {
          resume();
          return;
        }
        turn(state.at + step);
        remember();
        where.scrollIntoView();
        asked[state.at]?.part.querySelector("input")?.focus({ preventScroll: true });
      });
    }
    for (const event of ["input", "click"]) {
      find(".test-questions").addEventListener(event, () => {
        if (state.graded !== "") return;
        if (isPast()) resume();
        else remember();
      });
    }
    gaugeleaf.remedied(remedy, (name) => people.change((person) => {
      (person.tests[page] ??= []).push({ ...people.now(page), by: name, passed: false, remedy: true });
    }));
    // The one in hand has another try of their own; a result that was just kept changes nothing here.
    const follow = () => (isPast() ? resume() : show());
    people.follow(follow);
    // A browser that goes back fills in answers of its own.
    addEventListener("pageshow", (event) => { if (event.persisted) resume(); });
    resume();
    if (state.try > 0 && state.graded === "" && location.hash === "") where.scrollIntoView();
  }

  for (const test of document.querySelectorAll(".test")) live(/** @type {HTMLElement} */ (test));
})();
