// Steps and tick lists remember what is ticked: on this phone alone, apart for every page and every job.
"use strict";
(() => {
  const page = document.documentElement.dataset.page ?? "";
  /** The page as it is now; lists of pages count ticks of another one no more. */
  const stamp = document.querySelector("[data-stamp]")?.getAttribute("data-stamp") ?? "";
  /** @type {Set<string>} */
  const known = new Set();
  /**
   * When each was ticked, by its key.
   * @type {Record<string, number>}
   */
  let ticked = {};
  /** The page on which the first of them was ticked; it stays until somebody says that they have looked at each again. */
  let ground = stamp;
  let keeps = true;
  /** So long after its first tick a list that is ticked whole still speaks of now, in milliseconds. */
  const FRESH = 2 * 60 * 60 * 1000;
  /** A tick's thousandths of a millisecond say after which turn of the clock it was made. */
  const TURNS = 1000;
  /** So far a phone's clock may be put right by itself. */
  const SLACK = 2 * 60 * 1000;
  const { all, store } = gaugeleaf;
  const steps = all(document, ".steps > [data-tick]").map((step) => step.dataset.tick ?? "");

  /** What the phone keeps of this page, but for what is on it no more; gives the mark of the last clearing. */
  function remembered(kept = store.get(store.ofJob(`ticks/${page}`))) {
    const { at, of, cleared } = store.ticks(page, kept);
    ticked = Object.fromEntries(Object.entries(at).filter(([key]) => known.has(key)));
    ground = Object.keys(ticked).length > 0 ? of : stamp;
    return cleared;
  }

  /** Why a list that is ticked whole says nothing of now; "" where it does. @param {number[]} at */
  function stale(at) {
    if (ground !== stamp) return worded("ticks.changed");
    const today = new Date().toDateString();
    const day = at.map((one) => new Date(one).toDateString()).find((one) => one !== today);
    if (day) return worded("ticks.other_day", { day });
    const [first, last] = [Math.min(...at), Math.max(...at)];
    // Steps that were ticked since are work that has gone on: who came out goes in by a list of its own.
    const now = turn() % TURNS;
    if (at.some((one) => Math.round((one % 1) * TURNS) !== now)) return worded("ticks.clock");
    const isPast = steps.some((key) => (ticked[key] ?? 0) > last) || Date.now() - first > FRESH || Math.floor(last) > Date.now();
    return isPast ? worded("ticks.stale", { time: clock(last) }) : "";
  }

  /**
   * Changes what is ticked, whichever window ticked last.
   * @param {Record<string, number>} changes  0 takes a tick away
   * @param {string} [clears]  what a list that begins anew is known by
   * @param {string} [to]  the page on which it was ticked, where that isn't the one that is kept
   */
  function remember(changes, clears, to) {
    /** What stood here when it was changed first: where the phone had no room, the change is made anew later. @type {[Record<string, number>, string | undefined] | undefined} */
    let seen;
    keeps = store.change(store.ofJob(`ticks/${page}`), (kept) => {
      const before = remembered(kept);
      const [was, cleared] = seen ??= [ticked, before];
      const at = { ...ticked };
      let of = ground;
      // What another window has changed since stays.
      for (const key in changes) if (at[key] === was[key]) {
        if (!changes[key]) delete at[key];
        // Whoever cleared since began anew, and no earlier tick is one of theirs.
        else if (!at[key] && before === cleared) {
          at[key] = changes[key];
          // A page of another edition than the one that is kept vouches for neither.
          if (of !== stamp) of = "?";
        }
      }
      const mark = clears ?? before;
      const held = mark && { cleared: mark };
      return Object.keys(at).length > 0 ? { ...at, ...held, of: to ?? of } : held ?? null;
    });
    dispatchEvent(new Event("tickschange"));
  }

  /** How often the clock was put back while a page was open: what was ticked before may be of any hour. */
  function turn() {
    const { latest = 0, turns = 0 } = /** @type {{ latest?: number, turns?: number }} */ (store.get("clock") ?? {});
    const isBack = Date.now() < latest - SLACK;
    if (isBack || Date.now() > latest + SLACK / 4) store.set("clock", { latest: Date.now(), turns: turns + Number(isBack) });
    return turns + Number(isBack);
  }

  /**
   * The phone's own clock; the day too, where it isn't today, so that no old tick is taken for a new one.
   * @param {number} at
   */
  function clock(at) {
    const then = new Date(at);
    const day = then.toDateString();
    const time = then.toTimeString().slice(0, 5);
    return day === new Date().toDateString() ? time : `${day}, ${time}`;
  }

  /** @param {string} text */
  const plain = (text) => text.replace(/\s+/g, " ").trim();

  /**
   * @param {HTMLElement} bar
   * @param {HTMLElement[]} items
   * @param {HTMLElement | null} list  the tick list around the items, which may be complete
   */
  function group(bar, items, list) {
    const count = /** @type {HTMLElement} */ (bar.querySelector(".tick-count"));
    const clear = /** @type {HTMLButtonElement} */ (bar.querySelector(".tick-clear"));
    const undo = /** @type {HTMLButtonElement} */ (bar.querySelector(".tick-undo"));
    /** @type {Record<string, number>} */
    let cleared = {};
    let clearedOf = stamp;
    const doubt = list?.querySelector(".check-stale");

    /** @param {boolean} may */
    function mayUndo(may) {
      undo.hidden = !may;
      clear.hidden = may;
    }

    const rows = items.map((item) => {
      const key = item.dataset.tick ?? "";
      known.add(key);
      const box = document.createElement("input");
      box.type = "checkbox";
      box.className = "tick";
      box.setAttribute("aria-label", plain([...item.children].some((part) => part.matches(".check-do"))
        ? [...item.querySelectorAll(".check-do, .check-want")].map((part) => part.textContent).join(": ")
        : item.textContent ?? ""));
      item.prepend(box);
      const time = list ? item.appendChild(document.createElement("span")) : null;
      if (time) time.className = "check-time";
      box.addEventListener("change", () => {
        const { checked } = box;
        const now = Date.now() + (turn() % TURNS) / TURNS;
        remember({ [key]: checked ? now : 0 });
        mayUndo(false);
      });
      return { item, key, box, time };
    });

    function show() {
      for (const { item, key, box, time } of rows) {
        const at = ticked[key];
        box.checked = at !== undefined;
        item.classList.toggle("is-ticked", box.checked);
        if (time) time.textContent = at === undefined ? "" : worded("ticks.ticked", { time: clock(at) });
      }
      const done = rows.filter(({ box }) => box.checked);
      const [ticks, of] = [done.length, rows.length];
      const counted = list ? worded("ticks.items", { done: ticks, of }) : worded("ticks.steps", { done: ticks, of });
      const told = keeps ? counted : worded("ticks.not_kept", { count: counted });
      // Rewriting the same text would make a screen reader say it again.
      if (count.textContent !== told) count.textContent = told;
      clear.disabled = done.length === 0;
      const whole = done.length === rows.length;
      const why = whole && doubt ? stale(rows.map(({ key }) => ticked[key] ?? 0)) : "";
      if (doubt) doubt.textContent = why;
      // Only what is of now is a go.
      list?.classList.toggle("is-complete", whole && why === "");
    }

    clear.addEventListener("click", () => {
      remembered();
      const own = rows.map(({ key }) => key);
      cleared = Object.fromEntries(Object.entries(ticked).filter(([key]) => own.includes(key)));
      clearedOf = ground;
      remember(Object.fromEntries(own.map((key) => [key, 0])), `${Date.now()}`);
      mayUndo(true);
      undo.focus();
    });
    undo.addEventListener("click", () => {
      // What was ticked on another edition comes back as such.
      remember(cleared, undefined, clearedOf !== stamp ? clearedOf : undefined);
      mayUndo(false);
      clear.focus();
    });
    return {
      show,
      forget() {
        cleared = {};
        mayUndo(false);
      },
    };
  }

  const groups = all(document, ".checks").flatMap((list) =>
    all(list, ".tick-bar").map((bar) => group(bar, all(list, "[data-tick]"), list)));
  for (const bar of all(document, ".tick-bar[data-steps]")) {
    groups.push(group(bar, all(document, ".steps > [data-tick]"), null));
  }

  function show() {
    remembered();
    for (const one of groups) one.show();
  }
  for (const event of ["storage", "pageshow", "tickschange"]) addEventListener(event, show);
  addEventListener("keptagain", () => {
    keeps = true;
    show();
  });
  addEventListener("jobchange", () => {
    // What was cleared belongs to the other job.
    for (const one of groups) one.forget();
    show();
  });
  // Time alone makes a list of before.
  setInterval(show, 60_000);
  show();
})();
