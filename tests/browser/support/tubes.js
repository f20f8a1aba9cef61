// The tube map as a hand marks it.

/** @typedef {import("playwright-core").Page} Page */

/** Waits until the map may be marked. @param {Page} page */
export const live = (page) => page.waitForFunction(() => document.querySelector(".tube-map")?.classList.contains("is-live"));

/** Tubes by their marks, strokes left and time left, as the page says them. @param {Page} page */
export const counts = (page) =>
  page.evaluate(() => {
    const of = (name) => document.querySelector(`[data-count="${name}"]`)?.textContent;
    const text = (selector) => document.querySelector(selector)?.textContent;
    return {
      todo: Number(of("")), cleaned: Number(of("cleaned")), blocked: Number(of("blocked")), plugged: Number(of("plugged")),
      strokes: Number(text(".tube-strokes")), time: text(".tube-time"),
    };
  });

/** @param {Page} page @param {number} tube */
export const tap = (page, tube) => page.locator(`circle[data-tube="${tube}"]`).dispatchEvent("click");

/** What a tap marks. @param {Page} page @param {string} as */
export const mode = (page, as) => page.locator(`.tube-modes input[value="${as}"]`).check({ force: true });
