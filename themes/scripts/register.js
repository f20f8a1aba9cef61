// The register: everybody whose record this device keeps, and what they are signed off for.
"use strict";
(() => {
  const { people, element, stands, evidence, all } = gaugeleaf;
  const COLUMNS = /** @type {const} */ (["name", "role", "state", "until", "when", "assessor", "teacher", "language", "revision"]);

  /** A field as a spreadsheet takes it, and never as a formula. @param {string} text */
  const field = (text) => {
    const safe = /^[=+\-@\t\r]/.test(text) ? "'" + text : text;
    return '"' + safe.split('"').join('""') + '"';
  };

  /**
   * A line for each sign-off that somebody has, and for each that was ended; one that was renewed is told by its last.
   * @param {Person} person @param {string} role @param {Signed[]} signed
   * @returns {Record<(typeof COLUMNS)[number], string>[]}
   */
  function told(person, role, signed) {
    const last = signed[signed.length - 1];
    return signed.filter((one) => one === last || one.ended).map((one) => ({
      ...one, name: person.name,
      assessor: one.sheets ? worded("role.by_sheet", { assessor: one.assessor }) : one.assessor,
      state: one === last ? evidence.standing(role, person, people.today()) || worded("register.counts")
        : worded("role.ended", { when: one.ended?.when ?? "", why: one.ended?.why ?? "" }),
    }));
  }

  /** Whoever has no sign-off, and an incident, is told too. @param {Person} person */
  function unsigned(person) {
    const none = { role: "", until: "", when: "", assessor: "", teacher: "", language: "", revision: "" };
    return person.incidents.map(({ when, why }) => ({ ...none, name: person.name, state: worded("role.ended", { when, why }) }));
  }

  /** Whether the record holds what bars: an end, an incident, or fails. @param {Person} person */
  const bars = (person) => Object.values(person.signed).flat().some(({ ended }) => ended) || person.incidents.length > 0
    || [...Object.values(person.tests), ...Object.values(person.tasks)].some((tries) => people.tries(tries).slice(-1)[0]?.passed === false);

  function lines() {
    const found = Object.values(people.all()).flatMap((person) => {
      const signed = Object.entries(person.signed).flatMap(([role, signed]) => told(person, role, signed));
      return signed.length > 0 ? signed : unsigned(person);
    });
    return found.sort((one, other) => one.name.localeCompare(other.name) || one.role.localeCompare(other.role) || one.when.localeCompare(other.when));
  }

  /** @param {HTMLElement} part */
  function live(part) {
    const rows = /** @type {HTMLElement} */ (part.querySelector("tbody"));
    const csv = /** @type {HTMLButtonElement} */ (part.querySelector(".register-csv"));
    const remove = /** @type {HTMLButtonElement} */ (part.querySelector(".register-remove"));
    const said = /** @type {HTMLElement} */ (part.querySelector(".register-said"));
    const asOf = /** @type {HTMLElement} */ (part.querySelector(".register-as-of"));
    const heads = all(part, "th").map((head) => head.textContent ?? "");

    function show() {
      const held = lines();
      asOf.textContent = worded("register.as_of", { when: people.today() });
      rows.replaceChildren(...held.map((line) => {
        const cells = COLUMNS.map((column, at) => {
          const cell = element("td", `register-${column}`, line[column]);
          cell.dataset.head = heads[at] ?? "";
          return cell;
        });
        return element("tr", line.state === worded("register.counts") ? "is-done" : "", ...cells);
      }));
      csv.disabled = held.length === 0;
      const unread = people.unread();
      said.textContent = [held.length === 0 ? worded("register.empty") : "", unread.length > 0 ? worded("register.unread", { names: unread.join(", ") }) : ""].join(" ").trim();
      remove.hidden = people.person() === undefined;
      remove.textContent = worded("register.remove", { name: people.person()?.name ?? "" });
    }

    csv.addEventListener("click", () => {
      const day = worded("register.as_of", { when: people.today() });
      const text = [[...heads, day], ...lines().map((line) => COLUMNS.map((column) => line[column]))].map((line) => line.map(field).join(",")).join("\r\n");
      // The mark at the start tells a spreadsheet that names are in UTF-8.
      people.file(`register-${people.today()}.csv`, "text/csv", `\ufeff${text}\r\n`);
    });
    remove.addEventListener("click", () => {
      const person = people.person();
      const name = person?.name ?? "";
      if (!confirm(person && bars(person) ? worded("register.ask_remove_ended", { name }) : worded("register.ask_remove", { name }))) return;
      people.remove(people.inHand());
    });
    part.querySelector(".register-print")?.addEventListener("click", () => print());
    people.follow(show);
    show();
  }

  const parts = all(document, ".register");
  stands.ready().then(() => parts.forEach(live)).catch(() => {
    for (const said of all(document, ".register-said")) said.textContent = worded("stands.not_read");
  });
})();
