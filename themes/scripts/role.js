// A role's way: what of its tests, tasks and strokes the one in hand has behind them, and what comes next.
"use strict";
(() => {
  const page = document.documentElement.dataset.page ?? "";
  const { names, people, stands, evidence, element, all, root, store } = gaugeleaf;

  /** @param {HTMLElement} role */
  function live(role) {
    const lines = all(role, "tr[data-kind]");
    const left = /** @type {HTMLElement} */ (role.querySelector(".role-left"));
    const next = /** @type {HTMLElement} */ (role.querySelector(".role-next"));
    const form = /** @type {HTMLFormElement | null} */ (role.querySelector(".role-strokes"));

    /** @param {HTMLElement} line @param {Evidence} row */
    const isOf = (line, row) => {
      const link = /** @type {HTMLAnchorElement | null} */ (line.querySelector("a"));
      return line.dataset.kind === row.kind && (link === null || people.place(link) === row.place);
    };

    function show() {
      const person = people.person();
      const rows = person ? evidence.rows(page, person, people.today()) : [];
      for (const line of lines) {
        const row = rows.find((one) => isOf(line, one));
        line.classList.toggle("is-done", row?.done === true);
        const cell = line.querySelector(".role-state");
        if (cell) cell.textContent = row ? row.changed ? worded("role.made_before", { text: row.text }) : row.text : "";
      }
      const open = rows.filter(({ done }) => !done);
      left.textContent = !person ? worded("person.choose")
        : open.length === 0 ? worded("role.nothing_left") : worded("role.left", { open: open.length });
      next.replaceChildren();
      if (person && open.length > 0) {
        const { page: where, title, role: of } = evidence.next(page, person, people.today());
        const link = element("a", "", worded("role.next", { title, role: of }));
        link.href = root + where;
        next.append(link);
      }
      if (form) strokes(form, person);
      role.dispatchEvent(new Event("rolechange"));
    }

    /** @param {HTMLFormElement} form @param {Person | undefined} person */
    function strokes(form, person) {
      const kept = people.standing(person?.strokes[page]);
      const told = kept.map(({ when, count, by }) => element("li", "", worded("role.stroke_day", { when, count, by })));
      form.querySelector(".role-stroke-days")?.replaceChildren(...told);
      // Nobody strokes before all that comes first: the rows above this one.
      const may = person !== undefined && evidence.before(page, person, people.today()).length === 0;
      for (const part of all(form, ".role-stroke-entry")) part.hidden = !may;
      const first = /** @type {HTMLElement} */ (form.querySelector(".role-strokes-first"));
      first.hidden = may;
      const back = /** @type {HTMLButtonElement} */ (form.querySelector(".role-strokes-back"));
      back.hidden = people.last(kept)?.when !== people.today();
    }

    form?.addEventListener("submit", (event) => {
      event.preventDefault();
      const said = /** @type {HTMLElement} */ (form.querySelector(".role-strokes-said"));
      const field = (/** @type {string} */ name) => /** @type {HTMLInputElement} */ (form.querySelector(`[name=${name}]`));
      const [count, by] = [Number(field("count").value), field("by").value.trim()];
      const person = people.person();
      const today = people.standing(person?.strokes[page]).filter(({ when }) => when === people.today());
      const most = evidence.MOST - today.reduce((sum, one) => sum + one.count, 0);
      const fault = !person ? worded("person.choose")
        : !Number.isInteger(count) || count < 1 ? worded("role.no_count")
        : count > most ? worded("role.too_many", { most: evidence.MOST })
        : !names.isName(by) || !names.apart(by, person.name) ? worded("role.no_supervisor")
        : "";
      said.textContent = fault;
      if (fault !== "") return;
      const one = { when: people.today(), at: Date.now(), count, by };
      if (people.change((held) => { (held.strokes[page] ??= []).push(one); })) field("count").value = "";
      else said.textContent = worded("person.not_kept");
    });
    form?.querySelector(".role-strokes-back")?.addEventListener("click", () => {
      people.change((held) => people.takeBack(held.strokes[page]));
    });
    // Written where this page is opened or somebody is chosen on it: what another window writes is not answered.
    function way() {
      if (people.person()) store.set(`role/${people.inHand()}`, { page, name: stands.role(page)?.name ?? "" });
    }
    addEventListener("personchange", way);
    addEventListener("pageshow", way);
    way();
    people.follow(show);
    show();
  }

  const [role] = all(document, ".role");
  if (role) {
    stands.ready().then(() => live(role)).catch(() => {
      const left = role.querySelector(".role-left");
      if (left) left.textContent = worded("stands.not_read");
    });
  }
})();
