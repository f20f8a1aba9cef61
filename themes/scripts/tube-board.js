// The marks of one tube sheet: what is kept, what each change makes of it, and what is left.
"use strict";
(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const { store, tubeMarks, tubeAsk } = gaugeleaf;
  /** A lance in such a tube is thrown out: no tap and no row changes one of these marks unasked. */
  const LOCKED = ["plugged", "blocked"];
  /** @param {string | undefined} is */
  const locked = (is) => LOCKED.includes(is ?? "");
  /** Marks as they are said. @type {Record<string, string>} */
  const SAID = { cleaned: worded("tube_map.cleaned"), blocked: worded("tube_map.blocked"), plugged: worded("tube_map.plugged") };
  /** @param {string | undefined} is */
  const named = (is) => SAID[is ?? ""] ?? worded("tube_map.not_marked");
  /** @param {Record<string, string>} marks @param {Record<string, string>} to  a mark by tube; "" takes one away */
  const put = (marks, to) => Object.fromEntries(Object.entries({ ...marks, ...to }).filter(([, is]) => is !== ""));

  /** The tubes and strokes of a sheet, in its order. @param {HTMLElement} sheet */
  function read(sheet) {
    /** @type {Map<string, TubePlace>} */
    const tubes = new Map();
    /** @type {Map<number, TubeStroke>} */
    const strokes = new Map();
    const groups = [...sheet.querySelectorAll("[data-row]")];
    for (const [nth, group] of groups.entries()) {
      const row = /** @type {SVGElement} */ (group).dataset.row ?? "";
      for (const one of group.querySelectorAll("[data-tube]")) {
        const circle = /** @type {SVGElement} */ (one);
        const { tube = "", stroke: number = "" } = circle.dataset;
        const stroke = strokes.get(Number(number)) ?? { stroke: Number(number), row, nth, tubes: [], open: 0 };
        stroke.tubes.push(tube);
        stroke.open += 1;
        strokes.set(stroke.stroke, stroke);
        tubes.set(tube, { circle, stroke });
      }
    }
    return { tubes, strokes, rows: groups.length };
  }

  /** Draws the sign of a tube's mark. @param {TubePlace} place @param {string} tube @param {string | undefined} is */
  function paint({ circle }, tube, is) {
    const drawn = circle.nextElementSibling;
    if (drawn?.getAttribute("data-of") === tube) drawn.remove();
    if (!is) return;
    const use = document.createElementNS(SVG, "use");
    use.setAttribute("class", "tube-mark");
    use.setAttribute("href", `#tube-${is}`);
    use.setAttribute("data-of", tube);
    use.setAttribute("x", circle.getAttribute("cx") ?? "");
    circle.after(use);
  }

  /** @param {HTMLElement} map @param {HTMLElement} sheet @returns {TubeBoard} */
  gaugeleaf.tubeBoard = (map, sheet) => {
    const key = store.ofJob("tubes");
    let plan = "";
    let drawn = read(sheet);
    let kept = tubeMarks.read(null, plan);
    let keeps = true;
    /** Tubes by their mark, and strokes with a tube that has none: both are counted on, and never anew at a tap. */
    let counts = /** @type {Record<string, number>} */ ({});
    let left = 0;
    /** @type {((changed: string[]) => void)[]} */
    const shows = [];

    /** One tube's mark, painted and counted. @param {string} tube @param {string} was @param {string} is */
    function change(tube, was, is) {
      const place = drawn.tubes.get(tube);
      if (!place) return;
      paint(place, tube, is);
      counts[was] = (counts[was] ?? 0) - 1;
      counts[is] = (counts[is] ?? 0) + 1;
      const { stroke } = place;
      const before = stroke.open;
      stroke.open += Number(is === "") - Number(was === "");
      left += Number(stroke.open > 0) - Number(before > 0);
    }

    /** Takes over what is kept; gives the tubes that it changes. @param {TubeMarks} then */
    function take(then) {
      const before = kept.marks;
      kept = then;
      /** @type {string[]} */
      const changed = [];
      for (const tube of drawn.tubes.keys()) {
        const [was, is] = [before[tube] ?? "", kept.marks[tube] ?? ""];
        if (was === is) continue;
        change(tube, was, is);
        changed.push(tube);
      }
      return changed;
    }

    /** @param {string[]} changed */
    const show = (changed) => { for (const one of shows) one(changed); };

    /** Changes what is kept, whichever window marked last. @param {(kept: TubeMarks) => TubeMarks} act */
    function settle(act) {
      let to = kept;
      keeps = store.change(key, (held) => {
        const then = act(tubeMarks.read(held, plan));
        to = Object.keys(then.marks).length === 0 ? { ...then, plan } : then;
        return tubeMarks.write(to);
      });
      show(take(to));
    }

    /** What is kept: another window, or this page before it was left, may have marked since. @param {boolean} [isOwn] */
    function recall(isOwn = false) {
      const log = kept.run.log.length;
      const changed = take(tubeMarks.read(store.get(key), plan));
      // A map of two thousand tubes is not drawn anew at every tap.
      if (isOwn || changed.length > 0 || kept.run.log.length !== log) show(changed);
    }

    /**
     * Marks tubes, and remembers what they were.
     * @param {string[]} which
     * @param {string} is
     * @param {string} words
     * @param {{ isAsked?: boolean, event?: RunEvent, hand?: HandOver, anew?: boolean }} [more]  what is locked by then stays, unless somebody was asked about it
     */
    function mark(which, is, words, { isAsked = false, event, hand, anew = false } = {}) {
      settle(({ plan, marks, done, run }) => {
        const own = which.filter((tube) => isAsked || !locked(marks[tube]) || marks[tube] === is);
        const before = Object.fromEntries(own.map((tube) => [tube, marks[tube] ?? ""]));
        const to = Object.fromEntries(own.map((tube) => [tube, is]));
        const then = {
          ...run,
          log: anew ? [] : event ? [...run.log, event] : run.log,
          hands: anew ? [] : hand ? [...run.hands, hand] : run.hands,
        };
        const change = { words, before, plan, ...(event && { event: event.is }), ...(anew && run.log.length > 0 && { run: tubeMarks.keptRun(run) }) };
        return { plan, marks: put(marks, to), done: [...done, change], run: then };
      });
    }

    /** What a change took the place of stands again. @param {TubeMarks} kept @returns {TubeMarks} */
    function back(kept) {
      const last = kept.done[kept.done.length - 1];
      if (!last) return kept;
      let { run } = kept;
      if (last.event) run = { ...run, log: run.log.slice(0, -1), hands: last.event === "hand" ? run.hands.slice(0, -1) : run.hands };
      if (last.run) run = { ...tubeMarks.run(last.run), who: run.who, straight: run.straight };
      return { plan: last.plan ?? kept.plan, marks: put(kept.marks, tubeMarks.unpacked(last.before)), done: kept.done.slice(0, -1), run };
    }

    /** Locked marks by their number. @param {string[]} which */
    function held(which) {
      const counts = LOCKED.map((is) => ({ is, count: which.filter((tube) => kept.marks[tube] === is).length }));
      const some = counts.filter(({ count }) => count > 0).map(({ is, count }) => worded("tube_map.count", { count, mark: named(is) }));
      return some.reduce((first, second) => worded("tube_map.and", { first, second }));
    }

    /** Takes the last change back; asks before a locked mark goes. @param {(words: string) => void} say @returns {void} */
    function undo(say) {
      recall();
      const last = kept.done[kept.done.length - 1];
      if (!last) return;
      const act = () => {
        recall();
        // Another window may have changed more, while it was asked.
        if (JSON.stringify(kept.done[kept.done.length - 1]) !== JSON.stringify(last)) return undo(say);
        settle(back);
        say(worded("tube_map.undone", { change: last.words }));
      };
      const lost = Object.keys(tubeMarks.unpacked(last.before)).filter((tube) => locked(kept.marks[tube]));
      if (lost.length === 0 && last.event !== "hand") return act();
      const question = lost.length === 0 ? worded("tube_map.ask_undo_hand", { change: last.words }) : worded("tube_map.ask_undo", { change: last.words, marks: held(lost) });
      tubeAsk(map, question, [
        [worded("tube_map.leave"), () => {}],
        [worded("tube_map.undo_it"), act],
      ]);
    }

    addEventListener("storage", (event) => { if (event.key === null || event.key === store.own(key)) recall(true); });
    addEventListener("pageshow", (event) => { if (event.persisted) recall(); });
    addEventListener("keptagain", () => { keeps = true; });

    return {
      locked, named, mark, undo, recall, held, settle,
      begin(of) {
        plan = of;
        drawn = read(sheet);
        kept = tubeMarks.read(null, plan);
        [counts, left] = [{ "": drawn.tubes.size }, drawn.strokes.size];
        take(tubeMarks.read(store.get(key), plan));
        show([...drawn.tubes.keys()]);
      },
      follow: (one) => shows.push(one),
      /** What is said where the phone keeps nothing too. */
      told: (words) => (keeps ? words : worded("tube_map.not_kept", { words })),
      count: (is) => counts[is] ?? 0,
      get left() { return left; },
      get kept() { return kept; },
      get tubes() { return drawn.tubes; },
      get strokes() { return drawn.strokes; },
      get rows() { return drawn.rows; },
      get last() { return kept.done[kept.done.length - 1]; },
      get plan() { return plan; },
    };
  };
})();
