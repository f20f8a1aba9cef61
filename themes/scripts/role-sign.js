// A sign-off: by somebody who did not teach the candidate; what it stands on, until when, and what ends it.
"use strict";
(() => {
  const page = document.documentElement.dataset.page ?? "";
  const { names, people, element, stands, evidence, all, root } = gaugeleaf;
  /** So many months before its end, a sign-off may be renewed. */
  const SOON = 2;

  /** @param {HTMLElement} role */
  function live(role) {
    const find = (/** @type {string} */ selector) => /** @type {HTMLElement} */ (role.querySelector(selector));
    const form = /** @type {HTMLFormElement} */ (find(".role-sign"));
    const [said, changes, state] = [find(".role-sign-said"), find(".role-changes"), find(".role-signed")];
    const ending = /** @type {HTMLFormElement} */ (find(".role-end"));
    const field = (/** @type {string} */ name) => /** @type {HTMLInputElement} */ (form.querySelector(`[name=${name}]`));
    const written = (/** @type {string} */ name) => field(name).value.trim();
    const { now } = people;

    let whose = people.inHand();

    /** What the one in hand has, and how a sign-off on it would stand. */
    function current() {
      const person = people.person();
      const [terms, today] = [stands.role(page), people.today()];
      if (!person || !terms) return undefined;
      const rows = evidence.rows(page, person, today);
      const signed = evidence.last(person, page);
      const changed = signed && !signed.ended ? stands.changed(signed, evidence.places(terms)) : [];
      const until = [people.later(today, terms.months), ...rows.map((row) => row.until)].sort()[0] ?? today;
      return { person, terms, today, rows, signed, changed, until, why: evidence.standing(page, person, today) };
    }

    /** The occasions that somebody saw, and the tests that were read aloud. @param {Person} person @param {RoleTerms} terms */
    function watched(person, terms) {
      const tries = [...terms.tasks, ...terms.among].flatMap((place) => people.shown(person.tasks[place]) ?? []);
      const read = terms.tests.flatMap((place) => people.passed(person.tests[place]) ?? []);
      return [...tries, ...read].filter(({ by }) => by !== "");
    }

    /** The strokes on record, each with who stood beside. @param {Person} person */
    const beside = (person) => people.standing(person.strokes[page]);

    /** Who watched, stood beside or will sign, and had no sign-off for that on that day that this device knows. @param {Person} person @param {RoleTerms} terms */
    function unknown(person, terms) {
      /** @param {{ by: string, when: string }[]} who @param {string} role */
      const lacking = (who, role) => who
        .filter(({ by, when }) => by !== "" && !evidence.mayJudge(by, role, when))
        .filter(({ by, when }, at, all) => all.findIndex((other) => other.when === when && names.same(other.by, by)) === at)
        .map(({ by, when }) => worded("role.unknown", { name: by, role: stands.role(role)?.name ?? "", when }));
      const watch = [{ by: written("assessor"), when: people.today() }, ...watched(person, terms)];
      return [...lacking(watch, page), ...lacking(beside(person), terms.beside || page)];
    }

    /** A test or a task that this teacher went through after two fails, not longer ago than anything counts. @param {Person} person @param {RoleTerms} terms @param {string} teacher */
    const remedied = (person, terms, teacher) => evidence.places(terms).find((place) =>
      [...(person.tests[place] ?? []), ...(person.tasks[place] ?? [])].some((one) =>
        one.remedy && !one.taken && one.when >= people.later(people.today(), -terms.months) && names.same(one.by, teacher)));

    function show() {
      if (whose !== people.inHand()) {
        // What was ticked and said was another's.
        whose = people.inHand();
        form.reset();
        ending.reset();
        said.textContent = "";
      }
      const held = current();
      const signed = held?.signed;
      const stood = held?.why === "";
      const soon = signed && held && signed.until <= people.later(held.today, SOON);
      form.hidden = !held?.rows.every(({ done }) => done) || stood && !soon;
      ending.hidden = !held;
      // Without a sign-off there is nothing to end but what was shown on the way to it.
      for (const one of all(ending, "option:not([value=incident]):not([value=''])")) {
        one.hidden = !signed || signed.ended !== undefined;
        /** @type {HTMLOptionElement} */ (one).disabled = one.hidden;
      }
      state.textContent = held ? held.why || worded("role.counts", { until: signed?.until ?? "" }) : "";
      find(".sheet-today").textContent = held?.today ?? "";
      /** @type {[string, string | undefined][]} */
      const sheet = [
        [".sheet-when", signed?.when], [".sheet-until", stood ? signed?.until : held?.why && signed ? held.why : ""],
        [".sheet-assessor", signed && assessor(signed)], [".sheet-teacher", signed?.teacher],
        [".sheet-seen", signed && worded("role.seen_before")], [".sheet-language", signed?.language], [".sheet-revision", signed?.revision ?? now(page).revision],
      ];
      for (const [selector, text] of sheet) find(selector).textContent = text ?? "";
      changes.replaceChildren(...(held?.changed ?? []).map(({ page: where, at, text }) => {
        const link = element("a", "", text);
        link.href = `${root}${where}${at ? `#${at}` : ""}`;
        return element("li", "", link);
      }));
      find(".role-incidents").replaceChildren(...(held?.person.incidents ?? []).map(({ when, why }) => element("li", "", worded("role.ended", { when, why }))));
      if (held) wanted(held);
      return held;
    }

    /** What the form asks besides, of this candidate. @param {NonNullable<ReturnType<typeof current>>} held */
    function wanted({ person, terms, rows, changed, until }) {
      find(".role-through").hidden = changed.length === 0 && !rows.some((row) => row.changed);
      const missing = unknown(person, terms).join(", ");
      // Whose sheets were seen is said of these, and of nobody else.
      if (find(".role-unknown").textContent !== missing) field("sheets").checked = false;
      find(".role-sheets").hidden = missing === "";
      find(".role-unknown").textContent = missing;
      find(".role-would").textContent = worded("role.would_count", { until });
    }

    /** @param {Signed} signed */
    const assessor = (signed) => signed.sheets ? worded("role.by_sheet", { assessor: signed.assessor }) : signed.assessor;

    /** Who may not sign, or what is lacking. @param {Person} person @param {RoleTerms} terms */
    function fault(person, terms) {
      const lacks = (/** @type {string} */ name, /** @type {string} */ part) => !find(part).hidden && !field(name).checked;
      const seen = watched(person, terms).map(({ by }) => by);
      const through = remedied(person, terms, written("teacher"));
      if (!field("identity").checked) return ["identity", worded("role.no_identity")];
      if (!field("fit").checked) return ["fit", worded("role.not_fit")];
      if (!field("reasons").checked) return ["reasons", worded("role.no_reasons")];
      if (lacks("through", ".role-through")) return ["through", worded("role.not_through")];
      if (!names.isName(written("language"))) return ["language", worded("role.no_language")];
      if (!names.isName(written("teacher"))) return ["teacher", worded("role.no_teacher")];
      if (!names.isName(written("assessor"))) return ["assessor", worded("role.no_assessor")];
      if (names.same(written("teacher"), person.name)) return ["teacher", worded("role.own_teacher")];
      if (names.same(written("assessor"), person.name)) return ["assessor", worded("role.own_assessor")];
      if (names.same(written("assessor"), written("teacher"))) return ["assessor", worded("role.taught")];
      if (seen.some((by) => names.same(by, written("teacher")))) return ["teacher", worded("role.taught_saw", { teacher: written("teacher") })];
      if (through !== undefined) return ["teacher", worded("role.taught_through", { teacher: written("teacher"), title: stands.title(through) })];
      if (lacks("sheets", ".role-sheets")) return ["sheets", worded("role.no_sheets")];
      // Each name once: nobody is asked the same thing a dozen times.
      const [candidate, teacher, judges] = [person.name, written("teacher"), [...new Set([written("assessor"), ...seen])]];
      const apart = [...new Set([...judges, teacher, ...beside(person).map(({ by }) => by)])];
      if (!apart.every((name) => names.apart(name, candidate)) || !judges.every((name) => names.apart(name, teacher))) return ["assessor", worded("role.not_apart")];
      return undefined;
    }

    form.addEventListener("input", show);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const held = show();
      if (!held || form.hidden) return;
      const { terms, until, today } = held;
      const [name, why] = fault(held.person, terms) ?? [];
      if (name !== undefined) {
        said.textContent = why ?? "";
        field(name).focus();
        return;
      }
      const places = evidence.places(terms);
      const kept = people.change((person) => {
        (person.signed[page] ??= []).push({
          role: terms.name, places, when: today, at: Date.now(), until, ground: stands.of(places), revision: now(page).revision,
          assessor: written("assessor"), teacher: written("teacher"), language: written("language"),
          sheets: field("sheets").checked, through: field("through").checked,
        });
      });
      if (kept) form.reset();
      said.textContent = kept ? worded("role.signed") : worded("person.not_kept");
      state.scrollIntoView({ block: "center" });
    });
    ending.addEventListener("submit", (event) => {
      event.preventDefault();
      const why = /** @type {HTMLSelectElement} */ (ending.querySelector("select"));
      const text = why.selectedOptions[0]?.textContent ?? "";
      if (why.value === "" || why.selectedOptions[0]?.hidden) {
        why.value = "";
        why.focus();
        return;
      }
      const person = people.person();
      if (!person) return;
      const incident = why.value === "incident";
      const fall = evidence.fallWith(person, page, incident);
      const signed = evidence.last(person, page);
      const ends = signed && !signed.ended ? [page, ...fall] : fall;
      const roles = ends.map((one) => stands.role(one)?.name ?? "").join(", ");
      const asked = roles === "" ? worded("role.ask_incident", { name: person.name }) : worded("role.ask_end", { name: person.name, why: text, roles });
      if (!confirm(asked)) return;
      const kept = people.change((held) => {
        const ended = { when: people.lastDay(held), why: text };
        for (const one of ends) {
          const signed = evidence.last(held, one);
          if (signed && !signed.ended) signed.ended = { ...ended };
        }
        if (incident) held.incidents.push({ ...ended, at: Date.now() });
      });
      said.textContent = kept ? "" : worded("role.end_not_kept");
      why.value = "";
    });
    find(".role-print").addEventListener("click", () => {
      document.documentElement.classList.add("sheet-alone");
      print();
      document.documentElement.classList.remove("sheet-alone");
    });
    role.addEventListener("rolechange", show);
  }

  for (const role of all(document, ".role")) live(role);
})();
