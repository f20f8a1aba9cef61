// A fault is found by one question a screen. The page's own steps and rows are what is shown, so that ticks, values and links stay what they are.
"use strict";
(() => {
  const walk = /** @type {HTMLElement} */ (document.querySelector(".walk"));
  const prose = /** @type {HTMLElement} */ (walk.parentElement);
  /** @param {string} selector */
  const one = (selector) => /** @type {HTMLElement} */ (walk.querySelector(selector));
  const card = one(".walk-card");
  const ask = one(".walk-ask");
  const none = /** @type {HTMLTemplateElement} */ (walk.querySelector("template"));
  const screens = /** @type {HTMLElement[]} */ ([...walk.querySelectorAll(".walk-screen")]);

  // each section of the page, from its heading to the next
  /** @type {{ title: string, parts: HTMLElement[], rows: HTMLTableRowElement[] }[]} */
  const sections = [];
  for (const part of /** @type {HTMLElement[]} */ ([...prose.children])) {
    if (part.tagName === "H2") sections.push({ title: part.textContent ?? "", parts: [], rows: [] });
    sections[sections.length - 1]?.parts.push(part);
  }
  for (const section of sections) {
    for (const part of section.parts) {
      section.rows.push(.../** @type {NodeListOf<HTMLTableRowElement>} */ (part.querySelectorAll("tbody tr[id]")));
      for (const table of part.querySelectorAll("table")) {
        const heads = [...table.querySelectorAll("thead th")].map((head) => head.textContent ?? "");
        for (const row of table.querySelectorAll("tr")) {
          [...row.querySelectorAll("td")].forEach((cell, at) => { cell.dataset.head = heads[at] ?? ""; });
        }
      }
    }
  }
  const safe = sections.find((section) => section.parts.some((part) => part.matches(".steps")));
  const faults = sections.filter((section) => section.rows.length > 0);

  /** Where the walk is: a screen, a section and a row by their numbers. */
  const place = () => {
    const [head, screen, section, row] = location.hash.slice(1).split("/");
    return head === walk.id && screen ? { screen, section: Number(section), row: Number(row) } : null;
  };
  /** @param {string[]} to */
  const go = (...to) => { location.hash = [walk.id, ...to].join("/"); };

  /** @param {HTMLElement} screen @param {{ text: string, to: string[] }[]} answers */
  function offer(screen, answers) {
    const keys = answers.map(({ text, to }) => {
      const key = document.createElement("button");
      key.type = "button";
      key.className = "walk-answer";
      key.textContent = text;
      key.addEventListener("click", () => go(...to));
      return key;
    });
    screen.replaceChildren(...keys, none.content.cloneNode(true));
  }

  function show() {
    const at = place();
    const section = at ? faults[at.section] : undefined;
    const row = section && at ? section.rows[at.row] : undefined;
    const shown = at && screens.find((screen) => screen.dataset.walk === at.screen);
    const lacks = at && (at.screen === "see" && !section || at.screen === "do" && !row);
    const walking = Boolean(shown && !lacks);
    document.documentElement.classList.toggle("is-walking", walking);
    card.hidden = !walking;
    one(".walk-start").hidden = walking;
    for (const part of document.querySelectorAll(".walk-shown")) part.classList.remove("walk-shown");
    if (!walking || !shown || !at) return;
    for (const screen of screens) screen.hidden = screen !== shown;
    ask.textContent = shown.dataset.ask ?? "";
    if (at.screen === "where") offer(shown, faults.map(({ title }, nth) => ({ text: title, to: ["see", String(nth)] })));
    if (at.screen === "see" && section) {
      offer(shown, section.rows.map((one, nth) => ({
        text: one.cells[0]?.textContent ?? "",
        to: ["do", String(at.section), String(nth)],
      })));
    }
    if (at.screen === "safe") {
      for (const part of safe?.parts ?? []) if (part.tagName !== "H2") part.classList.add("walk-shown");
    }
    // what the section's faults look like, or where they are
    if (section) for (const part of section.parts) part.classList.toggle("walk-shown", part.matches(".picture"));
    if (at.screen === "do" && row) {
      row.classList.add("walk-shown");
      row.closest(".prose > *")?.classList.add("walk-shown");
    }
    scrollTo(0, 0);
    ask.focus({ preventScroll: true });
  }

  one(".walk-start").addEventListener("click", () => go("safe"));
  one(".walk-back").addEventListener("click", () => history.back());
  one(".walk-end").addEventListener("click", () => go());
  walk.addEventListener("click", (event) => {
    const key = /** @type {HTMLElement} */ (event.target).closest("[data-to]");
    if (key instanceof HTMLElement) go(key.dataset.to ?? "");
  });
  addEventListener("hashchange", show);
  // a value may be another job's by now
  addEventListener("jobchange", show);
  walk.hidden = false;
  show();
})();
