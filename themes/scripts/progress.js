// How far the job in hand is, by what is ticked: at a page's head, on the lists of pages, on the tape. Brought once something is ticked.
"use strict";
(() => {
  const { all, element, root, store } = gaugeleaf;
  const here = document.documentElement.dataset.page ?? "";
  const sheets = Object.entries(gaugeleafSheets);

  /**
   * What is ticked of these pages. Ticks that were made on other words count nowhere: they may be steps
   * that are there no more.
   * @param {(page: string) => boolean} wanted
   */
  function far(wanted) {
    const sum = { done: 0, of: 0, older: 0 };
    for (const [page, [of, stamp]] of sheets.filter(([page]) => wanted(page))) {
      const ticks = store.ticks(page);
      const done = Object.keys(ticks.at).length;
      sum.of += of;
      if (ticks.of === stamp) sum.done += Math.min(done, of);
      else if (done > 0) sum.older += 1;
    }
    return sum;
  }

  /**
   * Says on a link how far what it leads to is.
   * @param {HTMLElement} link
   * @param {boolean} phase
   */
  function tell(link, phase) {
    const page = (link.getAttribute("href") ?? "").slice(root.length);
    const folder = page.replace(/[^/]*$/, "");
    const { done, of, older } = far((one) => (phase ? one.startsWith(folder) : one === page));
    link.querySelector(".progress")?.remove();
    if (done + older === 0) return;
    const whole = done === of;
    const counted = whole ? worded("progress.whole", { of }) : worded("progress.some", { done, of });
    const told = older === 0 ? counted : phase ? worded("progress.older_too", { counted, older }) : worded("progress.older");
    const mark = element("span", "progress", element("span", link.closest(".tape") ? "visually-hidden" : "", ` ${told}`));
    mark.dataset.is = older > 0 ? "older" : whole ? "whole" : "begun";
    link.append(mark);
  }

  /**
   * The hazards that stand over a step in its section, the first of those beside each other; else its heading.
   * @param {HTMLElement} step
   */
  function over(step) {
    /** @type {Element} */
    let part = /** @type {HTMLElement} */ (step.parentElement);
    while (part.previousElementSibling && !part.matches("h2, h3, .hazard")) part = part.previousElementSibling;
    while (part.matches(".hazard") && part.previousElementSibling?.matches(".hazard")) part = part.previousElementSibling;
    return part.id ? part : step;
  }

  /** Where the page goes on, at its head: the first step that isn't ticked, by way of its hazard. */
  function goOn() {
    const steps = all(document, ".prose > .steps > [data-tick]");
    const { at } = store.ticks(here);
    const is = steps.map((step) => at[step.dataset.tick ?? ""] !== undefined);
    const [done, of] = [is.filter(Boolean).length, steps.length];
    document.querySelector(".go-on")?.remove();
    if (done === 0) return;
    const open = steps[is.indexOf(false)];
    const line = element("p", "go-on", worded("progress.all_steps", { of }));
    if (open) {
      const step = open.id.replace("step-", "");
      const counted = worded("progress.steps", { done, of });
      const after = is.slice(is.indexOf(false)).filter(Boolean).length;
      const guard = over(open);
      const way = element("a", "", guard.matches(".hazard")
        ? worded("progress.hazard_first", { word: guard.querySelector(".signal")?.textContent?.trim() ?? "", step })
        : worded("progress.go_on", { step }));
      way.href = `#${guard.id}`;
      line.replaceChildren(after > 0 ? worded("progress.skipped", { counted, step, after }) : counted, " ", way);
    }
    document.querySelector("main")?.prepend(line);
  }

  function show() {
    for (const link of all(document, ".phases a")) tell(link, true);
    for (const link of all(document, "ol.cards a, .tape li:not(.tape-more) a")) tell(link, false);
    goOn();
  }

  const styles = document.createElement("link");
  styles.rel = "stylesheet";
  styles.href = `${root}styles/progress.css`;
  document.head.append(styles);
  for (const event of ["pageshow", "storage", "jobchange", "tickschange"]) addEventListener(event, show);
  show();
})();
