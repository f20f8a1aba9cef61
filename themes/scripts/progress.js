// How far the job in hand is, by what is ticked: at a page's head, on the lists of pages, on the tape. Brought once something is ticked.
"use strict";
(() => {
  const { all, element, root, store } = gaugeleaf;
  const here = document.documentElement.dataset.page ?? "";
  const stamp = document.querySelector("[data-stamp]")?.getAttribute("data-stamp") ?? "";
  const sheets = Object.entries(gaugeleafSheets);

  /** A day of these ticks that isn't today, the oldest first; "" where there is none. @param {Record<string, number>} at */
  function before(at) {
    const days = Object.values(at).sort((one, other) => one - other).map((one) => new Date(one).toDateString());
    return days.find((day) => day !== new Date().toDateString()) ?? "";
  }

  /**
   * What is ticked of these pages. Ticks that were made on other words count nowhere: they may be steps
   * that are there no more. Those of another day count, and are to be looked at again.
   * @param {(page: string) => boolean} wanted
   */
  function far(wanted) {
    const sum = { done: 0, of: 0, older: 0, dated: 0, day: "" };
    for (const [page, [of, stamp]] of sheets.filter(([page]) => wanted(page))) {
      const ticks = store.ticks(page);
      const done = Object.keys(ticks.at).length;
      sum.of += of;
      if (done === 0) continue;
      if (ticks.of !== stamp) {
        sum.older += 1;
        continue;
      }
      sum.done += Math.min(done, of);
      sum.day = before(ticks.at);
      if (sum.day !== "") sum.dated += 1;
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
    const { done, of, older, dated, day } = far((one) => (phase ? one.startsWith(folder) : one === page));
    link.querySelector(".progress")?.remove();
    if (done + older === 0) return;
    const whole = done === of;
    const again = older + dated;
    const counted = whole ? worded("progress.whole", { of }) : worded("progress.some", { done, of });
    const told = again === 0 ? counted
      : phase ? worded("progress.again_too", { counted, again })
      : older > 0 ? worded("progress.older")
      : worded("progress.dated", { counted, day });
    const mark = element("span", "progress", element("span", link.closest(".tape") ? "visually-hidden" : "", ` ${told}`));
    mark.dataset.is = again > 0 ? "again" : whole ? "whole" : "begun";
    link.append(mark);
  }

  /**
   * The hazards that stand over a step or a list in its section, the first of those beside each other; else its heading.
   * @param {HTMLElement} step
   */
  function over(step) {
    /** @type {Element} */
    let part = step.closest(".steps") ?? step;
    while (part.previousElementSibling && !part.matches("h2, h3, .hazard")) part = part.previousElementSibling;
    while (part.matches(".hazard") && part.previousElementSibling?.matches(".hazard")) part = part.previousElementSibling;
    return part.id ? part : step;
  }

  /** The list that a line is of, with its title, or the step's number. @param {HTMLElement} part */
  function named(part) {
    const list = /** @type {HTMLElement | null} */ (part.closest(".checks"));
    return { list, title: list?.querySelector(".checks-title")?.textContent ?? "", step: part.id.replace("step-", "") };
  }

  /** The first list line or step that isn't ticked, by way of the hazard over it. @param {HTMLElement} open */
  function wayTo(open) {
    const { list, title, step } = named(open);
    const above = list?.previousElementSibling;
    const guard = !list ? over(open) : above?.matches(".hazard") ? over(list) : list;
    const word = guard.matches(".hazard") ? guard.querySelector(".signal")?.textContent?.trim() ?? "" : "";
    const told = list
      ? word !== "" ? worded("progress.hazard_list", { word, title }) : worded("progress.go_on_list", { title })
      : word !== "" ? worded("progress.hazard_first", { word, step }) : worded("progress.go_on", { step });
    const way = element("a", "", told);
    way.href = `#${guard.id}`;
    return way;
  }

  /** What makes ticks doubtful: their day, or that the page has changed since. @param {ReturnType<typeof store.ticks>} ticks */
  function doubts({ at, of }) {
    /** @type {(string | HTMLElement)[]} */
    const parts = [];
    const day = before(at);
    if (day !== "") parts.push(" ", worded("progress.dated_here", { day }));
    if (of === stamp) return parts;
    return [...parts, " ", worded("progress.changed"), settling(worded("progress.looked"), still)];
  }

  /** What is ticked of the page as it is now; what is on it no more counts for nothing. */
  function still() {
    const there = all(document, "[data-tick]").map((part) => part.dataset.tick ?? "");
    const { at, cleared } = store.ticks(here);
    const own = Object.entries(at).filter(([key]) => there.includes(key));
    return { ...Object.fromEntries(own), of: stamp, ...(cleared !== undefined && { cleared }) };
  }

  /** A key that says what is kept of the page from now on. @param {string} says @param {() => unknown} kept */
  function settling(says, kept) {
    const button = element("button", "go-on-looked", says);
    button.type = "button";
    button.addEventListener("click", () => {
      store.set(store.ofJob(`ticks/${here}`), kept());
      dispatchEvent(new Event("tickschange"));
    });
    return button;
  }

  /** How far the page is, in its head's line. @param {number} done @param {number} of */
  function head(done, of) {
    const line = /** @type {HTMLElement | null} */ (document.querySelector(".head-line"));
    line?.querySelector(".head-steps")?.remove();
    line?.classList.toggle("is-counted", done > 0);
    if (!line || done === 0) return;
    line.style.setProperty("--done", String(done));
    line.style.setProperty("--of", String(of));
    const far = element("span", "head-steps", element("span", "visually-hidden", worded("progress.steps", { done, of })));
    const short = element("span", "", worded("progress.short", { done, of }));
    short.setAttribute("aria-hidden", "true");
    far.append(short);
    const place = line.querySelector(".head-far") ?? line.appendChild(element("p", "head-far"));
    place.append(far);
  }

  /** How far the page is, at its head, and where it goes on. */
  function goOn() {
    const parts = all(document, ".prose > .steps > [data-tick], .checks [data-tick]");
    const steps = parts.filter((part) => part.id.startsWith("step-"));
    const ticks = store.ticks(here);
    const is = (/** @type {HTMLElement} */ part) => ticks.at[part.dataset.tick ?? ""] !== undefined;
    document.querySelector(".go-on")?.remove();
    document.documentElement.classList.toggle("is-begun", parts.some(is));
    head(steps.filter(is).length, steps.length);
    const main = document.querySelector("main");
    if (!parts.some(is) && parts.length > 0 && Object.keys(ticks.at).length > 0) {
      main?.prepend(element("p", "go-on", worded("progress.gone"), settling(worded("progress.anew"), () => ({ cleared: String(Date.now()) }))));
    }
    if (steps.length === 0 || !parts.some(is)) return;
    const [done, of] = [steps.filter(is).length, steps.length];
    const open = parts.find((part) => !is(part));
    const lists = parts.length > of;
    const time = new Date(Math.max(...Object.values(ticks.at))).toTimeString().slice(0, 5);
    const counted = done < of ? worded("progress.steps", { done, of })
      : open ? worded("progress.all_steps", { of })
      : lists ? worded("progress.all", { of: parts.length, time }) : worded("progress.all_steps_by", { of, time });
    const line = element("p", "go-on", counted);
    if (open) {
      const after = steps.filter((step) => is(step) && open.compareDocumentPosition(step) & Node.DOCUMENT_POSITION_FOLLOWING).length;
      const { list, title, step } = named(open);
      if (list) line.append(" ", worded("progress.list_open", { title }));
      else if (after > 0) line.append(" ", worded("progress.skipped", { step, after }));
      line.append(" ", wayTo(open));
    }
    line.append(...doubts(ticks));
    main?.prepend(line);
  }

  function show() {
    for (const link of all(document, ".phases a")) tell(link, true);
    for (const link of all(document, "ol.cards a, .tape li:not(.tape-more) a")) tell(link, false);
    goOn();
  }

  gaugeleaf.bring("styles/progress.css").catch(() => {});
  for (const event of ["pageshow", "storage", "jobchange", "tickschange"]) addEventListener(event, show);
  show();
})();
