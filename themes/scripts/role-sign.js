// A sign-off: by somebody who did not teach the candidate; what it stands on, until when, and what ends it.
"use strict";
(() => {
  const page = document.documentElement.dataset.page ?? "";
  const { people, element, stands } = gaugeleaf;

  /** @param {HTMLElement} role */
  function live(role) {
    const find = (/** @type {string} */ selector) => /** @type {HTMLElement} */ (role.querySelector(selector));
    const form = /** @type {HTMLFormElement} */ (find(".role-sign"));
    const [said, changes, state] = [find(".role-sign-said"), find(".role-changes"), find(".role-signed")];
    const ending = /** @type {HTMLFormElement} */ (find(".role-end"));
    const field = (/** @type {string} */ name) => /** @type {HTMLInputElement} */ (form.querySelector(`[name=${name}]`));
    const links = /** @type {HTMLAnchorElement[]} */ ([...role.querySelectorAll("tr:is([data-kind=tests], [data-kind=tasks]) a")]);
    const places = links.map((link) => people.place(link));
    const tasks = places.filter((_, at) => links[at]?.closest("tr")?.dataset.kind === "tasks");
    const revision = document.querySelector(".job-bar")?.getAttribute("data-revision") ?? "";

    let whose = people.inHand();

    async function show() {
      if (whose !== people.inHand()) {
        // What was ticked and said was another's.
        whose = people.inHand();
        form.reset();
        said.textContent = "";
      }
      const signed = people.person()?.signed[page];
      const open = role.dataset.open;
      form.hidden = open !== "0";
      ending.hidden = !signed || signed.ended !== undefined;
      state.textContent = signed ? people.ended(signed) || worded("role.counts", { until: signed.until }) : "";
      /** @type {[string, string | undefined][]} */
      const sheet = [
        [".sheet-when", signed?.when], [".sheet-until", signed?.until], [".sheet-assessor", signed?.assessor],
        [".sheet-teacher", signed?.teacher], [".sheet-language", signed?.language], [".sheet-revision", signed?.revision ?? revision],
      ];
      for (const [selector, text] of sheet) find(selector).textContent = text ?? "";
      changes.replaceChildren();
      if (!signed || signed.ended) return;
      const found = await stands.changed(signed, places).catch(() => null);
      if (people.person()?.signed[page] !== signed && people.person()?.signed[page]?.when !== signed.when) return;
      if (!found) changes.append(element("li", "", worded("stands.not_read")));
      const root = document.documentElement.dataset.root ?? "";
      for (const { page: where, at, text } of found ?? []) {
        const link = element("a", "", text);
        link.href = `${root}${where}${at ? `#${at}` : ""}`;
        changes.append(element("li", "", link));
      }
      if (found && found.length > 0) state.textContent = worded("role.changed", { count: found.length, revision: signed.revision });
    }

    /** Who may not sign, or what is lacking. @param {Person} person */
    function fault(person) {
      const [assessor, teacher] = [field("assessor").value, field("teacher").value];
      const seen = tasks.flatMap((place) => (people.shown(person.tasks[place]) ?? []).map(({ by }) => by));
      if (!field("identity").checked) return ["identity", worded("role.no_identity")];
      if (!field("fit").checked) return ["fit", worded("role.not_fit")];
      if (field("language").value.trim() === "") return ["language", worded("role.no_language")];
      if (teacher.trim() === "") return ["teacher", worded("role.no_teacher")];
      if (assessor.trim() === "") return ["assessor", worded("role.no_assessor")];
      if (people.same(assessor, person.name)) return ["assessor", worded("role.own_assessor")];
      if (people.same(assessor, teacher)) return ["assessor", worded("role.taught")];
      if (seen.some((by) => people.same(by, teacher))) return ["teacher", worded("role.taught_saw", { teacher: teacher.trim() })];
      return undefined;
    }

    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      const person = people.person();
      if (!person || role.dataset.open !== "0") return;
      const [name, why] = fault(person) ?? [];
      if (name !== undefined) {
        said.textContent = why ?? "";
        field(name).focus();
        return;
      }
      const ground = await stands.of(places).catch(() => null);
      if (!ground) {
        said.textContent = worded("stands.not_read");
        return;
      }
      const when = people.today();
      const kept = people.change((held) => {
        held.signed[page] = {
          role: role.dataset.name ?? "", places, when, until: people.later(when, Number(role.dataset.months)), ground, revision,
          assessor: field("assessor").value.trim(), teacher: field("teacher").value.trim(), language: field("language").value.trim(),
        };
      });
      form.reset();
      said.textContent = kept ? worded("role.signed") : worded("person.not_kept");
    });
    ending.addEventListener("submit", (event) => {
      event.preventDefault();
      const why = /** @type {HTMLSelectElement} */ (ending.querySelector("select"));
      const text = why.selectedOptions[0]?.textContent ?? "";
      if (why.value === "") {
        why.focus();
        return;
      }
      people.change((held) => {
        const signed = held.signed[page];
        if (signed) signed.ended = { when: people.today(), why: text };
      });
      why.value = "";
    });
    find(".role-print").addEventListener("click", () => {
      document.documentElement.classList.add("sheet-alone");
      print();
      document.documentElement.classList.remove("sheet-alone");
    });
    role.addEventListener("rolechange", () => void show());
    void show();
  }

  for (const role of document.querySelectorAll(".role")) live(/** @type {HTMLElement} */ (role));
})();
