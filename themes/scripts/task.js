// A task as it is watched: each line seen, prompted or missed; two occasions, on two days.
"use strict";
(() => {
  const page = document.documentElement.dataset.page ?? "";
  const { names, people, stands, evidence, element, all } = gaugeleaf;

  /** @param {HTMLElement} task */
  function live(task) {
    const lines = all(task, "[data-seen]");
    const by = /** @type {HTMLInputElement} */ (task.querySelector(".task-by"));
    const keep = /** @type {HTMLButtonElement} */ (task.querySelector(".task-keep"));
    const back = /** @type {HTMLButtonElement} */ (task.querySelector(".task-back"));
    const said = /** @type {HTMLElement} */ (task.querySelector(".task-said"));
    const count = /** @type {HTMLElement} */ (task.querySelector(".task-count"));
    const standing = /** @type {HTMLElement} */ (task.querySelector(".task-standing"));
    const occasions = /** @type {HTMLElement} */ (task.querySelector(".task-occasions"));
    const remedy = /** @type {HTMLFormElement} */ (task.querySelector(".remedy"));

    /** @param {HTMLElement} line */
    const radios = (line) => /** @type {HTMLInputElement[]} */ (all(line, "input[type=radio]"));
    /** @returns {Record<string, string>} */
    const marks = () => Object.fromEntries(lines.flatMap((line) => {
      const chosen = radios(line).find((radio) => radio.checked);
      return chosen ? [[line.dataset.seen ?? "", chosen.value]] : [];
    }));
    /** Whose marks these are. */
    let whose = people.inHand();
    let day = people.today();
    const place = () => `task/${page}/${whose}`;

    function remember() {
      gaugeleaf.store.set(place(), { day: people.today(), by: by.value, marks: marks() });
      gaugeleaf.store.set("assessor", { day: people.today(), by: by.value });
      tell();
    }

    function tell() {
      const given = Object.keys(marks()).length;
      count.textContent = worded("task.marked", { given, lines: lines.length });
    }

    function recall() {
      whose = people.inHand();
      day = people.today();
      const kept = /** @type {{ day?: string, by?: string, marks?: Record<string, string> } | null} */ (gaugeleaf.store.get(place()));
      // What was seen on another day is no mark of this one.
      const held = kept?.day === people.today() ? kept : null;
      const before = /** @type {{ day?: string, by?: string } | null} */ (gaugeleaf.store.get("assessor"));
      // Whoever watched the last candidate of the day most likely watches this one.
      const last = before?.day === people.today() ? before.by ?? "" : "";
      by.value = held?.by ?? (names.same(last, people.person()?.name ?? "") ? "" : last);
      for (const line of lines) {
        const mark = held?.marks?.[line.dataset.seen ?? ""];
        for (const radio of radios(line)) radio.checked = radio.value === mark;
      }
      tell();
    }

    function show() {
      const tries = people.person()?.tasks[page] ?? [];
      occasions.replaceChildren(...people.standing(tries).map((one) => element("li", "", told(one))));
      // A fail stays: what was missed has to be seen by whoever signs.
      const last = people.last(tries);
      back.hidden = last?.passed !== true || last.when !== people.today();
      remedy.hidden = !people.stuck(tries);
      keep.disabled = people.stuck(tries);
      const shown = people.shown(tries);
      const ended = shown && people.since(shown[1].when);
      task.dataset.is = shown && !ended ? "shown" : "";
      const again = people.again(tries);
      standing.textContent = ended ? worded("role.ended", { when: ended.when, why: ended.why })
        : shown ? worded("task.shown_twice", { first: shown[0].when, second: shown[1].when })
        : again ? worded("task.again", { day: again.toDateString(), time: again.toTimeString().slice(0, 5) }) : "";
    }

    /** What is run under pressure comes after all that the role wants before its strokes. @param {Person} person */
    function mayStroke(person) {
      const roles = stands.among(page);
      return roles.length === 0 || roles.some((role) => evidence.before(role, person, people.today()).length === 0);
    }

    /** Why these marks are none of the one in hand's of today; "" where they are. */
    const stale = () => whose !== people.inHand() ? worded("task.changed") : day !== people.today() ? worded("task.new_day") : "";

    /** Another page or the reader has chosen anew: these marks are that one's, and no other's. */
    function follow() {
      if (stale() !== "") {
        recall();
        said.textContent = "";
      }
      show();
    }

    /** @param {Tried} one */
    function told(one) {
      if (one.remedy !== undefined) return worded("remedy.done", { when: one.when, by: one.by });
      const { missed = 0, prompted = 0 } = one;
      return one.passed
        ? worded("task.shown", { when: one.when, by: one.by, prompted })
        : worded("task.not_shown", { when: one.when, by: one.by, prompted, missed });
    }

    keep.addEventListener("click", () => {
      const old = stale();
      if (old !== "") {
        follow();
        said.textContent = old;
        return;
      }
      const person = people.person();
      const given = marks();
      const open = lines.filter((line) => given[line.dataset.seen ?? ""] === undefined);
      const number = (/** @type {string} */ mark) => Object.values(given).filter((one) => one === mark).length;
      const failed = lines.some((line) => "critical" in line.dataset && given[line.dataset.seen ?? ""] !== "seen");
      const missed = number("missed");
      const passed = !failed && missed === 0;
      const fault = !person ? worded("person.choose")
        : open.length > 0 ? worded("task.open", { open: open.length, lines: lines.length })
        : !names.isName(by.value) ? worded("task.no_assessor")
        : !names.apart(by.value, person.name) ? worded("task.own_assessor")
        : passed && !mayStroke(person) ? worded("task.strokes_first")
        : "";
      if (fault !== "") {
        said.textContent = fault;
        const first = open[0] && person ? radios(open[0])[0] : person ? by : null;
        first?.focus();
        return;
      }
      const kept = people.change((held) => {
        (held.tasks[page] ??= []).push({ ...people.now(page), by: by.value.trim(), passed, missed, prompted: number("prompted"), marks: given });
      });
      // What isn't kept has to be copied onto paper from here.
      if (kept) for (const line of lines) for (const radio of radios(line)) radio.checked = false;
      remember();
      said.textContent = !kept ? worded("person.not_kept")
        : passed ? worded("task.passed")
        : failed ? worded("task.failed_critical")
        : worded("task.failed");
      show();
    });
    back.addEventListener("click", () => {
      people.change((held) => people.takeBack(held.tasks[page]));
      said.textContent = worded("task.taken_back");
      show();
    });
    gaugeleaf.remedied(remedy, (by) => people.change((held) => {
      (held.tasks[page] ??= []).push({ ...people.now(page), by, passed: false, remedy: true });
    }));
    task.addEventListener("input", remember);
    people.follow(follow);
    // A browser that goes back brings the marks of whoever was in hand then.
    addEventListener("pageshow", () => { recall(); show(); });
    recall();
    show();
  }

  stands.ready().then(() => all(document, ".task").forEach(live)).catch(() => {
    for (const said of all(document, ".task-said")) said.textContent = worded("stands.not_read");
  });
})();
