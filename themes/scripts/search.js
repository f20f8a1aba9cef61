// Search on every page: a sheet over the page, or the search page itself.
// Hits come at once; a query that holds a number is then put to the calculators too.
"use strict";
(() => {
  const KINDS = {
    calculator: worded("search.calculator"), row: worded("search.row"), page: worded("search.page"), heading: worded("search.heading"),
    step: worded("search.step"), input: worded("search.input"), value: worded("search.value"), term: worded("search.term"),
  };
  const LIMIT = 12;
  const { element } = gaugeleaf;
  /** A hand that rests this long is answered; typing on is never held up. */
  const REST = 120;
  const found = /** @type {HTMLElement | null} */ (document.querySelector(".search-box"));
  if (!found) return;
  const box = found;
  const field = /** @type {HTMLInputElement} */ (box.querySelector("input"));
  const count = /** @type {HTMLElement} */ (box.querySelector(".search-count"));
  const answers = /** @type {HTMLElement} */ (box.querySelector(".search-answers"));
  const list = /** @type {HTMLElement} */ (box.querySelector(".search-hits"));
  /** The named groups that the two lists stand in. */
  const [answersPart, listPart] = [answers, list].map((one) => /** @type {HTMLElement} */ (one.parentElement));
  const clear = /** @type {HTMLButtonElement} */ (box.querySelector(".search-clear"));
  const near = /** @type {HTMLElement} */ (box.querySelector(".search-near"));
  const sheet = /** @type {HTMLDialogElement | null} */ (box.closest("dialog"));
  const elsewhere = /** @type {HTMLElement} */ (box.querySelector(".search-else"));
  let settled = 0;
  let resting = 0;
  /** Whether an answer is on its way, and who waits for it: what was asked meanwhile takes its place. */
  let pending = false;
  /** @type {(() => void)[]} */
  const waiting = [];
  /** @type {Promise<void> | null} */
  let excerpts = null;

  /** @param {Hit} hit */
  function row(hit) {
    const link = document.createElement("a");
    link.href = gaugeleaf.root + hit.url;
    const { means } = hit;
    link.append(
      element("span", "hit-kind", KINDS[hit.kind]), " ",
      element("span", "hit-title", hit.title), " ",
      element("span", "hit-where", hit.where), " ",
    );
    if (means?.text) link.append(element("span", "hit-excerpt hit-means", `${means.title}: ${means.text}`), " ");
    link.append(element("span", "hit-excerpt", ...hit.excerpt.map(([text, matched]) => (matched ? element("mark", "", text) : text))));
    const made = element("li", "hit", link);
    made.dataset.kind = hit.kind;
    return made;
  }

  /** @param {string} word */
  function suggestion(word) {
    const made = element("button", "", word);
    made.type = "button";
    made.addEventListener("click", () => {
      field.value = word;
      field.focus();
      void look();
    });
    return made;
  }

  /** The words as they stand, or what stood there before the engine was there. */
  const typed = () => field.value.trim();

  /** @param {SearchAnswer} found */
  function show(found) {
    list.replaceChildren(...found.hits.map(row));
    near.hidden = !found.near[0];
    near.replaceChildren(/** @type {Element} */ (near.firstElementChild), ...found.near.map(suggestion));
  }

  /** @param {string} told */
  function tell(told) {
    clearTimeout(settled);
    settled = setTimeout(() => { count.textContent = told; }, 400);
  }

  /**
   * What was found, in words; of an answer its value, and a question back is no answer.
   * @param {SearchAnswer} found
   * @param {HTMLElement[]} cards
   */
  function counted(found, cards) {
    const hits = found.hits.length;
    elsewhere.hidden = hits + cards.length > 0;
    const told = cards.find((card) => card.dataset.told)?.dataset.told;
    const answersTold = cards.length === 0 ? "" : told ? worded("search.answer", { told }) : worded("search.asked");
    if (hits === 0) return answersTold || worded("search.nothing");
    return answersTold + (hits === LIMIT ? worded("search.best", { hits }) : worded("search.found", { hits }));
  }

  /** What shows an answer. */
  const words = () => Promise.all([gaugeleaf.bring("scripts/answers.js"), gaugeleaf.show ? null : gaugeleaf.bring("scripts/show.js")]);

  /**
   * Puts the query to the calculators, and sizes that it holds to the index in every spelling.
   * @param {string} query
   * @param {SearchAnswer} found
   */
  async function answer(query, found) {
    try {
      const [finder] = await Promise.all([gaugeleaf.finder(), gaugeleaf.engine(), words()]);
      if (query !== typed()) return;
      const asked = await gaugeleaf.ask({ do: "ask", query, meanings: found.meanings, candidates: found.candidates, want: ["bound"] });
      if (query !== typed()) return;
      const cards = gaugeleaf.answers(asked);
      const spelt = asked.spellings.length > 0 ? finder({ do: "search", query, limit: LIMIT, spellings: asked.spellings }) : found;
      answers.replaceChildren(...cards);
      // help comes before any number; a row that holds all that was typed is what was looked for, unless a calculator was
      // named, and a row that is found first stands before the question for which calculator it may be
      const back = asked.which[0] ?? (asked.readings[0] ? undefined : asked.told[0]);
      const row = back && !asked.conversion ? spelt.hits[0]?.kind === "row" : spelt.row && !asked.conversion && !asked.readings[0]?.sure;
      if (spelt.urgent || row) listPart.after(answersPart);
      else listPart.before(answersPart);
      if (spelt !== found) show(spelt);
      tell(counted(spelt, cards));
    } catch {
      // the hits stand, and the calculators are a tap away
      tell(counted(found, []));
    }
  }

  /** Excerpts come after the first hits, which are then put once more; never under a hand that chooses. */
  function bringExcerpts() {
    if (excerpts) return;
    excerpts = gaugeleaf.excerpts().then(
      () => { if (typed() && !links().includes(/** @type {HTMLElement} */ (document.activeElement))) void look(); },
      () => { excerpts = null; },
    );
  }

  /** The search on its way. @type {Promise<void>} */
  let looking = Promise.resolve();
  const nothing = { hits: [], near: [], row: false, urgent: false, units: false, meanings: [], candidates: [] };

  /**
   * Put once more to a new engine where the first stopped over it.
   * @param {string} query
   * @returns {Promise<SearchAnswer>}
   */
  async function search(query) {
    const ask = async () => (await gaugeleaf.finder())({ do: "search", query, limit: LIMIT });
    return ask().catch(() => {
      excerpts = null;
      return ask();
    });
  }

  async function look() {
    const query = typed();
    const began = Date.now();
    clearTimeout(resting);
    clear.hidden = !query;
    keep(query);
    // What was answered is no answer to these words.
    answers.replaceChildren();
    const asks = /[\d¼½¾⅐-⅞]/.test(query);
    // what answers comes while the search looks
    if (asks) void Promise.all([gaugeleaf.engine(), words()]).catch(() => {});
    try {
      const found = query ? await search(query) : nothing;
      // The words may have changed while the engine was on its way.
      if (query !== typed()) return;
      show(found);
      if (found.hits[0]) bringExcerpts();
      elsewhere.hidden = true;
      if (asks || found.units) {
        clearTimeout(settled);
        pending = true;
        resting = setTimeout(() => { void answer(query, found).then(() => { if (query === typed()) settle(); }); }, Math.max(0, began + REST - Date.now()));
      } else {
        settle();
        tell(query ? counted(found, []) : "");
      }
    } catch {
      if (query !== typed()) return;
      show(nothing);
      tell(worded("search.stopped"));
      elsewhere.hidden = false;
    }
  }

  /** The words stay with this entry of the history: whoever comes back finds them. @param {string} query */
  function keep(query) {
    history.replaceState({ ...history.state, search: query || undefined }, "");
  }

  /** What was pasted or dictated is answered before it is opened; a question back is not answered for anybody. */
  async function enter() {
    const query = typed();
    await looking;
    if (pending) await new Promise((/** @type {(value?: void) => void} */ done) => { waiting.push(done); });
    const first = links()[0];
    if (query !== typed() || !first) return;
    if (first.closest(".is-asked")) first.focus();
    else first.click();
  }

  function settle() {
    pending = false;
    waiting.splice(0).forEach((done) => done());
  }

  const links = () => /** @type {HTMLElement[]} */ ([...box.querySelectorAll(".search-answers a, .search-hits a")]);

  /** @param {number} step */
  function move(step) {
    const stops = [field, ...links()];
    const here = stops.indexOf(/** @type {HTMLElement} */ (document.activeElement));
    stops[Math.max(0, Math.min(stops.length - 1, here + step))]?.focus();
  }

  if (sheet) gaugeleaf.finder().catch(() => {});
  else field.addEventListener("focus", () => { gaugeleaf.finder().catch(() => {}); }, { once: true });
  field.addEventListener("input", () => { looking = look(); });
  clear.addEventListener("click", () => {
    field.value = "";
    field.focus();
    void look();
  });
  box.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target === field) void enter();
    else if (event.key === "ArrowDown") move(1);
    else if (event.key === "ArrowUp") move(-1);
    // a browser's own search field would only empty itself
    else if (event.key === "Escape" && sheet) sheet.close();
    else if (event.key === "Escape") {
      field.value = "";
      field.focus();
      void look();
    } else return;
    event.preventDefault();
  });
  // A hit on this very page changes only the fragment, and the sheet would stay over it.
  for (const part of [answers, list, elsewhere]) {
    part.addEventListener("click", (event) => {
      const link = /** @type {HTMLElement} */ (event.target).closest("a");
      if (link && link.pathname === location.pathname) sheet?.close();
    });
  }

  document.querySelector(".search-close")?.addEventListener("click", () => sheet?.close());
  // who closes the sheet has done with it; who follows a hit to another page may come back
  sheet?.addEventListener("close", () => keep(""));
  // What the address asks, and what was typed before the engine was there, is asked.
  if (!sheet) field.value ||= new URLSearchParams(location.search).get("q") ?? "";
  if (field.value) looking = look();
})();
