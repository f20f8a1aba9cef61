// The tube map: marks on the sheet, kept for the job; what is left, and how long it takes.
"use strict";
(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const { store, tubeMarks } = gaugeleaf;
  /** How wide the sheet stands in its window. */
  const ZOOMS = ["", "zoom-2", "zoom-4", "zoom-8", "zoom-16"];
  /** A lance in such a tube is thrown out: no tap and no row changes one of these marks unasked. */
  const LOCKED = ["plugged", "blocked"];
  /** @param {string | undefined} is */
  const locked = (is) => LOCKED.includes(is ?? "");
  /** Marks as they are said. @type {Record<string, string>} */
  const SAID = { cleaned: worded("tube_map.cleaned"), blocked: worded("tube_map.blocked"), plugged: worded("tube_map.plugged") };
  /** @param {string | undefined} is */
  const named = (is) => SAID[is ?? ""] ?? worded("tube_map.not_marked");
  /** So long a question takes no answer: a double tap in gloves is over by then. */
  const DEAD = 600;

  /** @param {HTMLElement} map */
  function live(map) {
    /** @param {string} name */
    const part = (name) => /** @type {HTMLElement} */ (map.querySelector(`.${name}`));
    const sheet = part("tube-sheet");
    const said = part("tube-said");
    const rows = /** @type {HTMLOListElement} */ (map.querySelector(".tube-rows ol"));
    const key = store.ofJob("tubes");
    /** Mark by tube. @type {Record<string, string>} */
    let marks = {};
    /** The sheet that stands here, and the one that was marked. */
    let plan = part("tube-says").textContent ?? "";
    let marked = plan;
    /** What each change took the place of, the last change at the end. @type {Change[]} */
    let done = [];
    /** @type {Map<string, SVGElement>} */
    const tubes = new Map();
    /** @type {Engine | null} */
    let engine = null;
    let zoom = 0;
    let keeps = true;

    const mode = () => /** @type {HTMLInputElement | null} */ (map.querySelector(".tube-modes input:checked"))?.value ?? "";

    /** @param {string} tube */
    function paint(tube) {
      const circle = tubes.get(tube);
      if (!circle) return;
      circle.parentElement?.querySelector(`use[data-of="${tube}"]`)?.remove();
      const is = marks[tube];
      if (!is) return;
      const use = document.createElementNS(SVG, "use");
      use.setAttribute("class", "tube-mark");
      use.setAttribute("href", `#tube-${is}`);
      use.setAttribute("data-of", tube);
      use.setAttribute("x", circle.getAttribute("cx") ?? "");
      circle.after(use);
    }

    function tally() {
      for (const place of map.querySelectorAll(".tube-count")) {
        const wanted = /** @type {HTMLElement} */ (place).dataset.count ?? "";
        place.textContent = String([...tubes.keys()].filter((tube) => (marks[tube] ?? "") === wanted).length);
      }
      const left = new Set();
      for (const [tube, circle] of tubes) if (!marks[tube]) left.add(circle.dataset.stroke);
      part("tube-strokes").textContent = String(left.size);
      part("tube-time").textContent = left.size === 0 ? worded("tube_map.none") : time(String(left.size));
    }

    /** @param {string} strokes */
    function time(strokes) {
      if (!engine) {
        gaugeleaf.engine().then((found) => {
          engine = found;
          tally();
        }, () => { part("tube-time").textContent = worded("tube_map.time_no_start"); });
        return "…";
      }
      try {
        const inputs = { strokes: { text: strokes, confirmed: true } };
        const answer = engine({ do: "calculate", name: map.dataset.time ?? "", inputs, want: [] });
        const elapsed = answer.outputs.elapsed;
        return elapsed?.text ?? worded("tube_map.time_not_known", { why: answer.problems[0]?.message ?? "" });
      } catch {
        // The next mark asks a new one.
        engine = null;
        return worded("tube_map.time_stopped");
      }
    }

    /** Changes what is kept, whichever window marked last. @param {(kept: TubeMarks) => TubeMarks} act */
    function settle(act) {
      keeps = store.change(key, (kept) => {
        const to = act(tubeMarks.read(kept, plan));
        return tubeMarks.write(Object.keys(to.marks).length === 0 ? { ...to, plan } : to);
      });
      recall(true);
    }

    /** @param {string} words */
    function say(words) {
      said.textContent = keeps ? words : worded("tube_map.not_kept", { words });
    }

    /** What is kept: another window, or this page before it was left, may have marked since. @param {boolean} [isOwn] */
    function recall(isOwn = false) {
      const before = marks;
      ({ marks, plan: marked, done } = tubeMarks.read(store.get(key), plan));
      const differ = [...new Set([...Object.keys(before), ...Object.keys(marks)])].filter((tube) => before[tube] !== marks[tube]);
      // A map of two thousand tubes is not drawn anew at every tap.
      if (isOwn || differ.length > 0) show(differ);
    }

    /** @param {string[]} changed */
    function show(changed) {
      for (const tube of changed) paint(tube);
      const last = done[done.length - 1];
      part("tube-undo").hidden = !last;
      part("tube-undo").textContent = last ? worded("tube_map.undo_this", { change: last.words }) : worded("tube_map.undo");
      tally();
      label(changed);
    }

    /** @param {Record<string, string>} marks @param {Record<string, string>} to  a mark by tube; "" takes one away */
    const put = (marks, to) => Object.fromEntries(Object.entries({ ...marks, ...to }).filter(([, is]) => is !== ""));

    /**
     * Marks tubes, and remembers what they were.
     * @param {string[]} which
     * @param {string} is
     * @param {string} words
     * @param {boolean} [isAsked]  what is locked by then stays, unless somebody was asked about it
     */
    function mark(which, is, words, isAsked = false) {
      settle(({ plan, marks, done }) => {
        const own = which.filter((tube) => isAsked || !locked(marks[tube]) || marks[tube] === is);
        const before = Object.fromEntries(own.map((tube) => [tube, marks[tube] ?? ""]));
        const to = Object.fromEntries(own.map((tube) => [tube, is]));
        return { plan, marks: put(marks, to), done: [...done, { words, before, plan }] };
      });
    }

    /**
     * Asks before a locked mark goes. A map is marked in gloves, so the question stands over the whole of it,
     * and the second half of a double tap answers nothing.
     * @param {string} question
     * @param {[string, () => void][]} ways  the first one leaves all as it is
     */
    async function ask(question, ways) {
      const dialog = document.createElement("dialog");
      dialog.className = "asks tube-ask";
      const words = document.createElement("p");
      words.id = `${map.id}-ask`;
      words.textContent = question;
      dialog.setAttribute("aria-labelledby", words.id);
      dialog.append(words, ...ways.map(([text, act]) => button(text, () => {
        dialog.close();
        act();
      })));
      dialog.addEventListener("close", () => dialog.remove());
      map.append(dialog);
      if (!dialog.showModal) {
        await gaugeleaf.bring("scripts/dialog.js");
        gaugeleaf.dialog(dialog);
      }
      dialog.showModal();
      /** @type {HTMLElement} */ (dialog.children[1]).focus();
      setTimeout(() => dialog.classList.add("is-ready"), DEAD);
    }

    /** One tap on one tube. @param {string} tube */
    function tap(tube) {
      recall();
      const was = marks[tube];
      const is = was === mode() ? "" : mode();
      const act = () => {
        mark([tube], is, worded("tube_map.tube_change", { tube, mark: named(is) }), locked(was));
        say(worded("tube_map.tube_marked", { tube, mark: named(is) }));
      };
      if (!locked(was)) act();
      else ask(worded("tube_map.ask_tube", { tube, stroke: tubes.get(tube)?.dataset.stroke ?? "", mark: named(was) }), [
        [worded("tube_map.leave_it", { mark: named(was) }), () => {}],
        [worded("tube_map.mark_it", { mark: named(is) }), act],
      ]);
    }

    /** @param {string} row @param {string[]} own */
    function markRow(row, own) {
      recall();
      const is = mode();
      const stay = own.filter((tube) => locked(marks[tube]) && marks[tube] !== is);
      const change = own.filter((tube) => !stay.includes(tube) && (marks[tube] ?? "") !== is);
      if (change.length > 0) mark(change, is, worded("tube_map.row_change", { row, mark: named(is) }));
      const left = stay.length === 0 ? "" : worded("tube_map.row_left", { tubes: stay.map((tube) => worded("tube_map.tube_change", { tube, mark: named(marks[tube]) })).join(", ") });
      say(change.length > 0 || stay.length === 0 ? worded("tube_map.row_marked", { row, mark: named(is), left }) : worded("tube_map.row_same", { row, left }));
    }

    function clear() {
      recall();
      const all = Object.keys(marks);
      const stay = all.filter((tube) => locked(marks[tube]));
      const loose = all.filter((tube) => !stay.includes(tube));
      /** @param {string[]} which @param {string} words */
      const go = (which, words) => {
        if (which.length > 0) mark(which, "", words, which.length === all.length);
        say(which.length === all.length ? worded("tube_map.all_cleared") : worded("tube_map.some_cleared", { cleared: loose.length, left: stay.length }));
      };
      if (stay.length === 0) return go(all, worded("tube_map.cleared_change"));
      ask(worded("tube_map.ask_clear", { marks: held(stay) }), [
        [worded("tube_map.leave_marks"), () => {}],
        [worded("tube_map.clear_rest"), () => go(loose, worded("tube_map.loose_change"))],
        [worded("tube_map.clear_these"), () => go(all, worded("tube_map.cleared_change"))],
      ]);
    }

    /** Locked marks by their number. @param {string[]} which */
    function held(which) {
      const counts = LOCKED.map((is) => ({ is, count: which.filter((tube) => marks[tube] === is).length }));
      const some = counts.filter(({ count }) => count > 0).map(({ is, count }) => worded("tube_map.count", { count, mark: named(is) }));
      return some.reduce((first, second) => worded("tube_map.and", { first, second }));
    }

    function undo() {
      recall();
      const last = done[done.length - 1];
      if (!last) return;
      const act = () => {
        settle((kept) => ({ plan: last.plan ?? kept.plan, marks: put(kept.marks, last.before), done: kept.done.slice(0, -1) }));
        say(worded("tube_map.undone", { change: last.words }));
        if (done.length === 0) part("tube-clear").focus();
      };
      const lost = Object.keys(last.before).filter((tube) => locked(marks[tube]));
      if (lost.length === 0) return act();
      ask(worded("tube_map.ask_undo", { change: last.words, marks: held(lost) }), [
        [worded("tube_map.leave"), () => {}],
        [worded("tube_map.undo_it"), act],
      ]);
    }

    /** What a tube's button says. @param {string} tube */
    const words = (tube) => worded("tube_map.tube", { tube, stroke: tubes.get(tube)?.dataset.stroke ?? "", mark: marks[tube] ? named(marks[tube]) : worded("tube_map.to_do") });

    /** @param {string[]} changed */
    function label(changed) {
      for (const tube of changed) {
        const button = rows.querySelector(`button[data-tube-of="${tube}"]`);
        if (button) button.textContent = words(tube);
      }
    }

    /**
     * @param {string} text
     * @param {() => void} act
     */
    function button(text, act) {
      const made = document.createElement("button");
      made.type = "button";
      made.textContent = text;
      made.addEventListener("click", act);
      return made;
    }

    /** The rows as words and buttons; a row's tubes come when it is opened. */
    function list() {
      rows.replaceChildren(...[...sheet.querySelectorAll("[data-row]")].map((group) => {
        const row = /** @type {SVGElement} */ (group).dataset.row ?? "";
        const own = [...group.querySelectorAll("[data-tube]")].map((one) => /** @type {SVGElement} */ (one).dataset.tube ?? "");
        const item = document.createElement("li");
        const more = document.createElement("details");
        const summary = document.createElement("summary");
        summary.textContent = worded("tube_map.tubes_of", { row });
        more.append(summary);
        const fill = () => {
          if (more.querySelector("button")) return;
          for (const tube of own) {
            const one = button(words(tube), () => tap(tube));
            one.dataset.tubeOf = tube;
            more.append(one);
          }
        };
        // opened by a key or a tap, it is full before the next key; by the browser's own search, soon after
        summary.addEventListener("click", fill);
        more.addEventListener("toggle", fill);
        const all = button(worded("tube_map.mark_row", { row }), () => markRow(row, own));
        item.append(all, more);
        return item;
      }));
    }

    /** Reads the sheet that stands on the page now, and the marks that belong to it. */
    function begin() {
      tubes.clear();
      for (const one of sheet.querySelectorAll("[data-tube]")) {
        const circle = /** @type {SVGElement} */ (one);
        tubes.set(circle.dataset.tube ?? "", circle);
      }
      list();
      recall();
      show([...tubes.keys()]);
      if (marked !== plan) {
        said.textContent = worded("tube_map.changed");
      }
    }

    /** @param {Engine} engine */
    function redraw(engine) {
      /** @type {Record<string, Entry>} */
      const inputs = {};
      for (const [input, text] of Object.entries(JSON.parse(map.dataset.fixed ?? "{}"))) inputs[input] = { text, confirmed: true };
      const answer = engine({ do: "calculate", name: map.dataset.calculator ?? "", inputs, want: ["map"] });
      const problem = part("tube-problem");
      const stop = answer.verdicts.find((verdict) => verdict.is === "stop");
      problem.textContent = stop ? worded("tube_map.stop", { because: stop.because }) : "";
      problem.hidden = !stop && answer.map !== undefined;
      if (answer.map === undefined) {
        sheet.replaceChildren();
        problem.textContent = worded("tube_map.no_map", { why: answer.problems[0]?.message ?? worded("tube_map.too_many") });
        plan = "";
      } else {
        sheet.innerHTML = answer.map;
        plan = Object.values(answer.outputs).map((one) => `${one.label} ${one.text}`).join(", ") + ".";
      }
      part("tube-says").textContent = plan;
      const given = [...Object.values(answer.inputs), ...Object.values(answer.outputs)];
      if (given.some((one) => one.ground === "example")) return;
      // The numbers are no other job's any more.
      for (const name of ["tube-says", "tube-left"]) delete part(name).dataset.of;
    }

    /** @param {number} to */
    function size(to) {
      zoom = Math.min(Math.max(to, 0), ZOOMS.length - 1);
      const svg = sheet.querySelector("svg");
      for (const name of ZOOMS) if (name) svg?.classList.remove(name);
      if (ZOOMS[zoom]) svg?.classList.add(ZOOMS[zoom]);
      /** @type {HTMLButtonElement} */ (part("tube-smaller")).disabled = zoom === 0;
      /** @type {HTMLButtonElement} */ (part("tube-larger")).disabled = zoom === ZOOMS.length - 1;
    }

    sheet.addEventListener("click", (event) => {
      const tube = /** @type {Element} */ (event.target).getAttribute("data-tube");
      if (tube) tap(tube);
    });
    part("tube-larger").addEventListener("click", () => size(zoom + 1));
    part("tube-smaller").addEventListener("click", () => size(zoom - 1));
    part("tube-clear").addEventListener("click", clear);
    part("tube-undo").addEventListener("click", undo);
    addEventListener("storage", (event) => { if (event.key === null || event.key === store.own(key)) recall(true); });
    addEventListener("keptagain", () => {
      keeps = true;
      say(worded("tube_map.kept_again"));
    });
    addEventListener("pageshow", (event) => { if (event.persisted) recall(); });

    const ofJob = document.documentElement.classList.contains("of-job");
    if (!ofJob) begin();
    gaugeleaf.engine().then((found) => {
      engine = found;
      if (ofJob) {
        redraw(found);
        begin();
      }
      map.classList.add("is-live");
    }).catch(() => {
      said.textContent = worded("tube_map.time_left_stopped");
      if (ofJob) part("tube-problem").textContent = worded("tube_map.no_map_stopped");
      part("tube-problem").hidden = !ofJob;
    });
  }

  for (const map of document.querySelectorAll("[data-tube-map]")) live(/** @type {HTMLElement} */ (map));
})();
