// A role's way: what of its tests, tasks and strokes the one in hand has behind them, and what is left.
"use strict";
(() => {
  const { people, all } = gaugeleaf;

  /** Whether a sign-off counts today. @param {Signed | undefined} signed */
  const counts = (signed) => signed !== undefined && people.ended(signed) === "";

  /** What each kind of line says, and whether it is done. What is older than `since` counts no more. @type {Record<string, (place: string, person: Person, since: string) => { done: boolean, text: string }>} */
  const kinds = {
    first(place, person) {
      const signed = person.signed[place];
      return { done: counts(signed), text: signed ? worded("role.signed_until", { until: signed.until }) : "" };
    },
    tests(place, person, since) {
      const tries = person.tests[place];
      const pass = people.passed(tries);
      if (pass) {
        const { when, right = 0, of = 0 } = pass;
        if (when < since) return { done: false, text: worded("role.too_old", { when }) };
        return { done: true, text: pass.aloud ? worded("role.passed_aloud", { when, right, of }) : worded("role.passed", { when, right, of }) };
      }
      const count = people.tries(tries).length;
      return { done: false, text: people.stuck(tries) ? worded("role.stuck") : count > 0 ? worded("role.tried", { count }) : "" };
    },
    tasks(place, person, since) {
      const tries = person.tasks[place];
      const shown = people.shown(tries);
      const old = shown?.find(({ when }) => when < since);
      if (old) return { done: false, text: worded("role.too_old", { when: old.when }) };
      if (shown) return { done: true, text: shown.map(({ when, by }) => worded("role.seen", { when, by })).join("; ") };
      const [last] = people.tries(tries).slice(-1);
      return { done: false, text: people.stuck(tries) ? worded("role.stuck") : last?.passed ? worded("role.once", { when: last.when, by: last.by }) : last ? worded("role.not_shown") : "" };
    },
  };

  /** @param {HTMLElement} role */
  function live(role) {
    const wanted = Number(role.dataset.strokes);
    const rows = all(role, "tr[data-kind]");
    const left = /** @type {HTMLElement} */ (role.querySelector(".role-left"));
    const form = /** @type {HTMLFormElement | null} */ (role.querySelector(".role-strokes"));
    const strokes = /** @type {HTMLElement | null} */ (role.querySelector(".role-stroke-state"));

    function show() {
      const person = people.person();
      const since = people.later(people.today(), -Number(role.dataset.months));
      let open = 0;
      for (const row of rows) {
        const link = /** @type {HTMLAnchorElement} */ (row.querySelector("a"));
        const state = person && kinds[row.dataset.kind ?? ""]?.(people.place(link), person, since);
        row.classList.toggle("is-done", state?.done === true);
        const cell = row.querySelector(".role-state");
        if (cell) cell.textContent = state?.text ?? "";
        if (!state?.done) open += 1;
      }
      if (strokes) {
        const done = (person?.strokes ?? []).reduce((sum, one) => sum + one.count, 0);
        strokes.textContent = person ? worded("role.strokes", { done, of: wanted, by: [...new Set(person.strokes.map(({ by }) => by))].join(", ") }) : "";
        strokes.closest("tr")?.classList.toggle("is-done", done >= wanted);
        if (done < wanted) open += 1;
      }
      left.textContent = !person ? worded("person.choose")
        : open === 0 ? worded("role.nothing_left") : worded("role.left", { open });
      role.dataset.open = person ? `${open}` : "";
      role.dispatchEvent(new Event("rolechange"));
    }

    form?.addEventListener("submit", (event) => {
      event.preventDefault();
      const said = /** @type {HTMLElement} */ (form.querySelector(".role-strokes-said"));
      const field = (/** @type {string} */ name) => /** @type {HTMLInputElement} */ (form.querySelector(`[name=${name}]`));
      const [count, by] = [Number(field("count").value), field("by").value.trim()];
      const person = people.person();
      const fault = !person ? worded("person.choose")
        : !Number.isInteger(count) || count < 1 || count > 500 ? worded("role.no_count")
        : by === "" || people.same(by, person.name) ? worded("role.no_supervisor")
        : "";
      said.textContent = fault;
      if (fault !== "") return;
      if (!people.change((held) => { held.strokes.push({ when: people.today(), count, by }); })) said.textContent = worded("person.not_kept");
      field("count").value = "";
    });
    addEventListener("personchange", show);
    addEventListener("storage", show);
    addEventListener("pageshow", show);
    show();
  }

  for (const role of all(document, ".role")) live(role);
})();
