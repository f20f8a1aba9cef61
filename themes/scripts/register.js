// The register: everybody whose record this device keeps, and what they are signed off for.
"use strict";
(() => {
  const { people, element, stands } = gaugeleaf;
  const COLUMNS = /** @type {const} */ (["name", "role", "when", "until", "state", "assessor", "teacher", "language", "revision"]);

  /** A field as a spreadsheet takes it, and never as a formula. @param {string} text */
  const field = (text) => {
    const safe = /^[=+\-@\t\r]/.test(text) ? "'" + text : text;
    return '"' + safe.split('"').join('""') + '"';
  };

  /** How a sign-off stands today. @param {Signed} signed */
  async function standing(signed) {
    const ended = people.ended(signed);
    if (ended !== "") return ended;
    const found = await stands.changed(signed, signed.places).catch(() => null);
    if (!found) return worded("stands.not_read");
    return found.length === 0 ? worded("register.counts") : worded("register.changed", { count: found.length });
  }

  /** @returns {Promise<Record<(typeof COLUMNS)[number], string>[]>} */
  async function lines() {
    const signed = Object.values(people.all()).flatMap(({ name, signed }) => Object.values(signed).map((one) => ({ name, one })));
    const all = await Promise.all(signed.map(async ({ name, one }) => ({ ...one, name, state: await standing(one) })));
    return all.sort((one, other) => one.name.localeCompare(other.name) || one.role.localeCompare(other.role));
  }

  /** @param {HTMLElement} part */
  function live(part) {
    const rows = /** @type {HTMLElement} */ (part.querySelector("tbody"));
    const csv = /** @type {HTMLButtonElement} */ (part.querySelector(".register-csv"));
    const remove = /** @type {HTMLButtonElement} */ (part.querySelector(".register-remove"));
    const said = /** @type {HTMLElement} */ (part.querySelector(".register-said"));
    const heads = [...part.querySelectorAll("thead th")].map((head) => head.textContent ?? "");

    async function show() {
      const all = await lines();
      rows.replaceChildren(...all.map((line) => {
        const cells = COLUMNS.map((column) => element("td", `register-${column}`, line[column]));
        return element("tr", "", ...cells);
      }));
      csv.disabled = all.length === 0;
      said.textContent = all.length === 0 ? worded("register.empty") : "";
      remove.hidden = people.person() === undefined;
      remove.textContent = worded("register.remove", { name: people.person()?.name ?? "" });
    }

    csv.addEventListener("click", async () => {
      const all = await lines();
      const text = [heads, ...all.map((line) => COLUMNS.map((column) => line[column]))].map((line) => line.map(field).join(",")).join("\r\n");
      const link = element("a", "");
      // The mark at the start tells a spreadsheet that names are in UTF-8.
      link.href = URL.createObjectURL(new Blob(["\ufeff", text, "\r\n"], { type: "text/csv" }));
      link.download = `register-${people.today()}.csv`;
      link.click();
      URL.revokeObjectURL(link.href);
    });
    remove.addEventListener("click", () => {
      const name = people.person()?.name ?? "";
      if (!confirm(worded("register.ask_remove", { name }))) return;
      people.remove(people.inHand());
    });
    part.querySelector(".register-print")?.addEventListener("click", () => print());
    addEventListener("personchange", () => void show());
    addEventListener("storage", () => void show());
    void show();
  }

  for (const part of document.querySelectorAll(".register")) live(/** @type {HTMLElement} */ (part));
})();
