// On the front page: the way back to the page that was read last.
"use strict";
(() => {
  const { element, root, store } = gaugeleaf;
  const way = /** @type {HTMLAnchorElement} */ (document.querySelector(".first-on"));

  /** What is ticked there, where anything is. @param {string} page */
  async function far(page) {
    const done = Object.keys(store.ticks(page).at).length;
    if (done === 0) return "";
    await gaugeleaf.bring("scripts/sheets.js");
    const of = gaugeleafSheets[page]?.[0] ?? 0;
    return done > of ? "" : worded("front.ticked", { done, of });
  }

  async function show() {
    const at = /** @type {LastRead | null} */ (store.get(store.ofJob("at")));
    way.hidden = !at;
    if (!at) return;
    way.href = root + at.page;
    const told = element("small", "", worded("front.go_on"));
    way.replaceChildren(element("b", "", at.phase), element("span", "", told, ` ${at.title} `));
    const ticked = await far(at.page).catch(() => "");
    if (ticked !== "") told.append(` ${ticked}`);
  }
  for (const event of ["pageshow", "jobchange"]) addEventListener(event, () => void show());
  void show();
})();
