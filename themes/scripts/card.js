// Whether a printed card is current, by the fingerprint at its foot or the code that leads here.
"use strict";
(() => {
  const { element } = gaugeleaf;
  const form = /** @type {HTMLElement} */ (document.querySelector(".card-ask"));
  const entry = /** @type {HTMLInputElement} */ (form.querySelector("input"));
  const place = /** @type {HTMLElement} */ (document.querySelector(".card-answer"));
  const revision = document.querySelector(".job-bar")?.getAttribute("data-revision") ?? "";
  /** Answers come as they like; the last question's stands. */
  let asked = "";

  /** As a card prints it, however it is typed or pasted; none while letters are lacking. @param {string} typed */
  function fingerprint(typed) {
    const said = typed.slice(typed.lastIndexOf("#") + 1).toUpperCase();
    const within = /(?:^|\s)([0-9A-F]{4}\W?[0-9A-F]{4})(?:\s|$)/.exec(said)?.[1] ?? said;
    const letters = within.replace(/O/g, "0").replace(/[IL]/g, "1").replace(/[\s\p{P}\u2212]/gu, "");
    return /^[0-9A-F]{8}$/.test(letters) ? `${letters.slice(0, 4)}-${letters.slice(4)}` : null;
  }

  /**
   * A card that is current is no go, and has no sign of one.
   * @param {"stop" | "open" | null} is @param {string} title @param {string} text @param {Node[]} more
   */
  function says(is, title, text, ...more) {
    const head = element("div", "card-says", element("h2", "", title), element("p", "", text));
    if (is) {
      const mark = document.createElementNS("http://www.w3.org/2000/svg", "svg");
      mark.setAttribute("class", "mark");
      mark.setAttribute("aria-hidden", "true");
      const use = document.createElementNS("http://www.w3.org/2000/svg", "use");
      use.setAttribute("href", `#mark-${is}`);
      mark.append(use);
      head.prepend(mark);
      head.dataset.is = is;
    }
    place.replaceChildren(head, ...more);
  }

  /** @param {string | null} url @param {string} text */
  function way(url, text) {
    if (url === null) return [];
    const link = element("a", "door", text);
    link.href = gaugeleaf.root + url;
    return [element("p", "", link)];
  }

  /** @param {[string, string | null, string | null][]} changed */
  const lines = (changed) => element("ul", "card-changed", ...changed.map(([kind, from, to]) => {
    const line = element("li", "", element("b", "", kind));
    if (from !== null) line.append(element("p", "card-was", worded("cards.was", { text: from })));
    if (to !== null) line.append(element("p", "card-is", worded("cards.is", { text: to })));
    return line;
  }));

  /** @param {string} mark @param {Card | undefined} card */
  function answer(mark, card) {
    if (!card) return says("stop", worded("cards.unknown"), worded("cards.unknown_help", { mark, revision }));
    const { title, url, issued, revision: of, review, changed } = card;
    if (changed === undefined) {
      const job = element("p", "card-job", review ? `${worded("cards.job")} ${worded("cards.review", { day: review })}` : worded("cards.job"));
      return issued === null
        ? says("open", worded("cards.not_issued"), worded("cards.not_issued_help", { title, revision }), ...way(url, title))
        : says(null, worded("cards.current"), worded("cards.current_help", { title, revision, issued, of: of ?? "" }), job, ...way(url, title));
    }
    if (changed === null) return says("stop", worded("cards.gone"), worded("cards.gone_help", { title, revision, issued: issued ?? "" }));
    return says("stop", worded("cards.old"), worded("cards.old_help", { title, revision, issued: issued ?? "", of: of ?? "" }), lines(changed), ...way(url, worded("cards.anew")));
  }

  /** @param {string} typed */
  async function ask(typed) {
    const mark = fingerprint(typed);
    asked = typed;
    place.replaceChildren();
    entry.setAttribute("aria-invalid", String(mark === null && typed.replace(/[\s-]/g, "").length >= 8));
    if (mark === null) {
      if (entry.getAttribute("aria-invalid") === "true") says(null, worded("cards.no_mark"), worded("cards.no_mark_help"));
      return;
    }
    try {
      await gaugeleaf.bring("scripts/cards.js");
    } catch {
      if (asked === typed) says("stop", worded("cards.failed"), worded("cards.failed_help"));
      return;
    }
    if (asked === typed) answer(mark, gaugeleafCards[mark]);
  }

  /** What the code on a card brings along. */
  function arrive() {
    const mark = fingerprint(location.hash.slice(1));
    if (mark === null) return;
    entry.value = mark;
    // The browser has gone to the page's own line in the register; the answer stands above it.
    scrollTo(0, 0);
    void ask(mark);
  }

  form.hidden = false;
  entry.addEventListener("input", () => void ask(entry.value));
  addEventListener("hashchange", arrive);
  // What was typed before somebody went on stands there again.
  if (entry.value !== "") void ask(entry.value);
  arrive();
  addEventListener("load", () => { if (fingerprint(location.hash.slice(1)) !== null) scrollTo(0, 0); });
})();
