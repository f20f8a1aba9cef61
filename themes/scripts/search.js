// Search on every page: a sheet over the page, or the search page itself.
"use strict";
(() => {
  const KINDS = { calculator: "Calculator", row: "Table row", page: "Card", heading: "Part of a card" };
  const LIMIT = 12;
  const found = /** @type {HTMLElement | null} */ (document.querySelector(".search-box"));
  if (!found) return;
  const box = found;
  const field = /** @type {HTMLInputElement} */ (box.querySelector("input"));
  const count = /** @type {HTMLElement} */ (box.querySelector(".search-count"));
  const list = /** @type {HTMLElement} */ (box.querySelector(".search-hits"));
  const near = /** @type {HTMLElement} */ (box.querySelector(".search-near"));
  const sheet = /** @type {HTMLDialogElement | null} */ (box.closest("dialog"));
  let settled = 0;

  /**
   * @param {string} tag
   * @param {string} className
   * @param {string} text
   */
  function element(tag, className, text) {
    const made = document.createElement(tag);
    made.className = className;
    made.textContent = text;
    return made;
  }

  /** @param {Hit} hit */
  function row(hit) {
    const made = element("li", "hit", "");
    made.dataset.kind = hit.kind;
    const link = document.createElement("a");
    link.href = gaugeleaf.root + hit.url;
    const excerpt = element("span", "hit-excerpt", "");
    excerpt.append(...hit.excerpt.map(([text, matched]) => (matched ? element("mark", "", text) : text)));
    link.append(
      element("span", "hit-kind", KINDS[hit.kind]), " ",
      element("span", "hit-title", hit.title), " ",
      element("span", "hit-where", hit.where), " ",
      excerpt,
    );
    made.append(link);
    return made;
  }

  /** @param {string} word */
  function suggestion(word) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = word;
    made.addEventListener("click", () => {
      field.value = word;
      field.focus();
      void look();
    });
    return made;
  }

  async function look() {
    const query = field.value.trim();
    /** @type {SearchAnswer} */
    let answer = { hits: [], near: [] };
    let told = "";
    try {
      const engine = await gaugeleaf.finder();
      // The words may have changed while the engine was on its way.
      if (query !== field.value.trim()) return;
      if (query) {
        answer = engine({ do: "search", query, limit: LIMIT });
        told = answer.hits.length === 0 ? "Nothing found." : `${answer.hits.length} found${answer.hits.length === LIMIT ? ", best first" : ""}.`;
      }
    } catch {
      told = "Search could not start. Use the phases and the lists.";
    }
    list.replaceChildren(...answer.hits.map(row));
    near.hidden = answer.hits.length > 0 || answer.near.length === 0;
    near.querySelectorAll("button").forEach((button) => button.remove());
    near.append(...answer.near.map(suggestion));
    clearTimeout(settled);
    settled = setTimeout(() => { count.textContent = told; }, 400);
  }

  /** @param {number} step */
  function move(step) {
    const stops = [field, .../** @type {NodeListOf<HTMLElement>} */ (list.querySelectorAll("a"))];
    const here = stops.findIndex((stop) => stop === document.activeElement);
    stops[Math.max(0, Math.min(stops.length - 1, here + step))]?.focus();
  }

  function open() {
    if (sheet && !sheet.open) sheet.showModal();
    field.focus();
    field.select();
  }

  field.addEventListener("focus", () => { gaugeleaf.finder().catch(() => {}); }, { once: true });
  field.addEventListener("input", () => look());
  box.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target === field) /** @type {HTMLElement | null} */ (list.querySelector("a"))?.click();
    else if (event.key === "ArrowDown") move(1);
    else if (event.key === "ArrowUp") move(-1);
    else if (event.key === "Escape" && !sheet) {
      field.value = "";
      field.focus();
      void look();
    } else return;
    event.preventDefault();
  });
  // A hit on this very page changes only the fragment, and the sheet would stay over it.
  list.addEventListener("click", () => sheet?.close());

  document.querySelector(".search-close")?.addEventListener("click", () => sheet?.close());
  document.querySelector(".bar-search")?.addEventListener("click", (event) => {
    event.preventDefault();
    open();
  });
  addEventListener("keydown", (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    const typing = target.matches?.("input:not([type=radio]), select, textarea");
    if (event.key !== "/" || typing || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    open();
  });
  // What a browser brought back into the box is searched for again.
  if (!sheet && field.value) void look();
})();
