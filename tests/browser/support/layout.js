// How wide a page is, and how large what a finger meets.

/** What makes the page wider than its window. @param {import("playwright-core").Page} page @returns {Promise<string[]>} */
export const wide = (page) =>
  page.evaluate(() => {
    const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    if (over <= 0) return [];
    const causes = [...document.querySelectorAll("body *")]
      .filter((element) => element.getBoundingClientRect().right > innerWidth + 1)
      .filter((element) => !element.closest(".table-scroll, nav.tape, nav.thumbs"))
      .map((element) => element.outerHTML.slice(0, 90));
    return [`${over} pixels too wide: ${causes.slice(0, 3).join("\n    ")}`];
  });

/**
 * Visible controls with a side under `least`; a link in running text is exempt.
 * @param {import("playwright-core").Page} page @param {string} selector @param {number} least
 * @returns {Promise<string[]>}
 */
export const small = (page, selector, least) =>
  page.evaluate(
    ({ selector, least }) =>
      [...document.querySelectorAll(selector)]
        .filter((control) => control.checkVisibility({ visibilityProperty: true, opacityProperty: true }))
        .filter((control) => !control.closest("p, li:not(nav li), dd, td, th, figcaption, .because"))
        .map((control) => {
          const label = control.matches("input[type=radio], input[type=checkbox]")
            ? (control.labels?.[0] ?? control)
            : control;
          const { width, height } = label.getBoundingClientRect();
          return { width, height, html: control.outerHTML.slice(0, 90) };
        })
        .filter(({ width, height }) => Math.min(width, height) < least - 0.5)
        .map(({ width, height, html }) => `${width} x ${height}: ${html}`),
    { selector, least },
  );
