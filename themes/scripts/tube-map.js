// The tube map: marks on the sheet, kept for the job; what is left, and how long it takes.
"use strict";
(() => {
  const { tubeAsk } = gaugeleaf;
  const { key } = tubeAsk;

  /** @param {HTMLElement} map */
  function live(map) {
    /** @param {string} name */
    const part = (name) => /** @type {HTMLElement} */ (map.querySelector(`.${name}`));
    const sheet = part("tube-sheet");
    const said = part("tube-said");
    const rows = /** @type {HTMLOListElement} */ (map.querySelector(".tube-rows ol"));
    const board = gaugeleaf.tubeBoard(map, sheet);
    const view = gaugeleaf.tubeView(sheet);
    const guard = gaugeleaf.tubeGuard(map, board);
    const { locked, named } = board;
    /** The sheet that stands here. */
    let plan = part("tube-says").textContent ?? "";
    /** @type {Engine | null} */
    let engine = null;
    /** The buttons of tubes, as far as rows were opened. @type {Map<string, HTMLElement>} */
    const buttons = new Map();

    const mode = () => /** @type {HTMLInputElement | null} */ (map.querySelector(".tube-modes input:checked"))?.value ?? "";

    /** @param {string} words */
    function say(words) {
      said.textContent = board.told(words);
    }

    function tally() {
      const isNone = board.tubes.size === 0;
      for (const place of gaugeleaf.all(map, ".tube-count")) place.textContent = isNone ? "–" : String(board.count(place.dataset.count ?? ""));
      if (isNone) {
        for (const name of ["tube-strokes", "tube-time"]) part(name).textContent = "–";
        return;
      }
      part("tube-strokes").textContent = String(board.left);
      part("tube-time").textContent = board.left === 0 ? worded("tube_map.none") : time(String(board.left));
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

    /** What the page says of the marks; nobody sees it under a run, and it waits for its end. @param {string[]} changed */
    function show(changed) {
      const { last } = board;
      part("tube-undo").hidden = !last;
      part("tube-undo").textContent = last ? worded("tube_map.undo_this", { change: last.words }) : worded("tube_map.undo");
      const { log } = board.kept.run;
      part("run-start").textContent = log.length > 0 && log[log.length - 1].is !== "end" ? worded("run.go_on") : worded("run.start");
      tally();
      for (const tube of changed) {
        const button = buttons.get(tube);
        if (button) button.textContent = words(tube);
      }
    }
    board.follow((changed) => { if (!map.classList.contains("is-running")) show(changed); });
    map.addEventListener("runleft", () => show([...buttons.keys()]));

    /** One tap on one tube. @param {string} tube */
    function tap(tube) {
      board.recall();
      if (guard.noMarks()) return say(guard.noMarks());
      const was = board.kept.marks[tube];
      const is = was === mode() ? "" : mode();
      const act = () => {
        board.mark([tube], is, worded("tube_map.tube_change", { tube, mark: named(is) }), { isAsked: locked(was) });
        say(worded("tube_map.tube_marked", { tube, mark: named(is) }));
      };
      if (!locked(was)) act();
      else tubeAsk(map, worded("tube_map.ask_tube", { tube, stroke: number(tube), mark: named(was) }), [
        [worded("tube_map.leave_it", { mark: named(was) }), () => {}],
        [worded("tube_map.mark_it", { mark: named(is) }), act],
      ]);
    }

    /** @param {string} row @param {string[]} own */
    function markRow(row, own) {
      board.recall();
      if (guard.noMarks()) return say(guard.noMarks());
      const { marks } = board.kept;
      const is = mode();
      const stay = own.filter((tube) => locked(marks[tube]) && marks[tube] !== is);
      const change = own.filter((tube) => !stay.includes(tube) && (marks[tube] ?? "") !== is);
      if (change.length > 0) board.mark(change, is, worded("tube_map.row_change", { row, mark: named(is) }));
      const left = stay.length === 0 ? "" : worded("tube_map.row_left", { tubes: stay.map((tube) => worded("tube_map.tube_change", { tube, mark: named(marks[tube]) })).join(", ") });
      say(change.length > 0 || stay.length === 0 ? worded("tube_map.row_marked", { row, mark: named(is), left }) : worded("tube_map.row_same", { row, left }));
    }

    function clear() {
      board.recall();
      const { marks } = board.kept;
      const all = Object.keys(marks);
      const stay = all.filter((tube) => locked(marks[tube]));
      const loose = all.filter((tube) => !stay.includes(tube));
      /** @param {string[]} which @param {string} words */
      const go = (which, words) => {
        const isAll = which.length === all.length;
        // The times of a run go with its last mark, and come back with it.
        if (which.length > 0 || board.kept.run.log.length > 0) board.mark(which, "", words, { isAsked: isAll, anew: isAll });
        say(isAll ? worded("tube_map.all_cleared") : worded("tube_map.some_cleared", { cleared: loose.length, left: stay.length }));
      };
      if (stay.length === 0) return go(all, worded("tube_map.cleared_change"));
      tubeAsk(map, worded("tube_map.ask_clear", { marks: board.held(stay) }), [
        [worded("tube_map.leave_marks"), () => {}],
        [worded("tube_map.clear_rest"), () => go(loose, worded("tube_map.loose_change"))],
        [worded("tube_map.clear_these"), () => go(all, worded("tube_map.cleared_change"))],
      ]);
    }

    /** @param {string} tube */
    const number = (tube) => String(board.tubes.get(tube)?.stroke.stroke ?? "");

    /** What a tube's button says. @param {string} tube */
    const words = (tube) => worded("tube_map.tube", { tube, stroke: number(tube), mark: board.kept.marks[tube] ? named(board.kept.marks[tube]) : worded("tube_map.to_do") });

    /** The rows as words and buttons; a row's tubes come when it is opened. */
    function list() {
      buttons.clear();
      /** @type {Map<string, string[]>} */
      const own = new Map();
      for (const [tube, { stroke: { row } }] of board.tubes) own.set(row, [...(own.get(row) ?? []), tube]);
      rows.replaceChildren(...[...own].map(([row, tubes]) => {
        const item = document.createElement("li");
        const more = document.createElement("details");
        const summary = document.createElement("summary");
        summary.textContent = worded("tube_map.tubes_of", { row });
        more.append(summary);
        const fill = () => {
          if (more.querySelector("button")) return;
          for (const tube of tubes) {
            const one = key(words(tube), () => tap(tube));
            one.dataset.tubeOf = tube;
            buttons.set(tube, one);
            more.append(one);
          }
        };
        // opened by a key or a tap, it is full before the next key; by the browser's own search, soon after
        summary.addEventListener("click", fill);
        more.addEventListener("toggle", fill);
        item.append(key(worded("tube_map.mark_row", { row }), () => markRow(row, tubes)), more);
        return item;
      }));
    }

    /** Reads the sheet that stands on the page now, and the marks that belong to it. */
    function begin() {
      board.begin(plan);
      list();
      map.classList.toggle("is-none", board.tubes.size === 0);
    }

    /** What the map's calculator says of the job. @param {Engine} engine */
    function ask(engine) {
      /** @type {Record<string, Entry>} */
      const inputs = {};
      for (const [input, text] of Object.entries(JSON.parse(map.dataset.fixed ?? "{}"))) inputs[input] = { text, confirmed: true };
      return engine({ do: "calculate", name: map.dataset.calculator ?? "", inputs, want: ["map"] });
    }

    /** @param {Answer} answer */
    function redraw(answer) {
      const problem = part("tube-problem");
      const stop = answer.verdicts.find((verdict) => verdict.is === "stop");
      const open = answer.verdicts.find((verdict) => verdict.is === "open");
      problem.textContent = stop ? worded("tube_map.stop", { because: stop.because }) : "";
      problem.hidden = !stop && answer.map !== undefined;
      if (answer.map === undefined) {
        sheet.replaceChildren();
        problem.textContent = worded("tube_map.no_map", { why: answer.problems[0]?.message ?? (stop ? worded("tube_map.stop", { because: stop.because }) : open ? worded("tube_map.open", { because: open.because }) : worded("tube_map.too_many")) });
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

    /** @type {Run | null} */
    let run = null;
    /** The run and its report come by scripts of their own, soon after the map: a shift begins without a signal. */
    const bring = async () => {
      for (const name of ["run-time", "run-next", "run-report", "run-hand", "run-wake", "run"]) await gaugeleaf.bring(`scripts/${name}.js`);
      run = run ?? gaugeleaf.run(map, board, view, guard);
      return run;
    };
    part("run-start").addEventListener("click", () => {
      bring().then((run) => { if (!guard.noRun()) run.open(); }, () => say(worded("run.not_come")));
    });

    sheet.addEventListener("click", (event) => {
      const tube = /** @type {Element} */ (event.target).getAttribute("data-tube");
      if (tube && !map.classList.contains("is-running")) tap(tube);
    });
    const [larger, smaller] = /** @type {HTMLButtonElement[]} */ ([part("tube-larger"), part("tube-smaller")]);
    larger.addEventListener("click", () => view.set(view.zoom * 2));
    smaller.addEventListener("click", () => view.set(view.zoom / 2));
    sheet.addEventListener("zoomed", () => [larger.disabled, smaller.disabled] = [view.isMost, view.isLeast]);
    part("tube-clear").addEventListener("click", clear);
    part("tube-undo").addEventListener("click", () => board.undo((words) => {
      say(words);
      if (!board.last) part("tube-clear").focus();
    }));
    addEventListener("keptagain", () => say(worded("tube_map.kept_again")));

    const ofJob = document.documentElement.classList.contains("of-job");
    if (!ofJob) begin();
    gaugeleaf.engine().then((found) => {
      engine = found;
      const answer = ask(found);
      if (ofJob) {
        redraw(answer);
        begin();
      }
      guard.judge(found, answer);
    }).then(() => {
      map.classList.add("is-live");
      void bring().catch(() => { /* it is told when it is wanted */ });
    }, () => {
      said.textContent = worded("tube_map.time_left_stopped");
      guard.stopped();
      if (ofJob) part("tube-problem").textContent = worded("tube_map.no_map_stopped");
      part("tube-problem").hidden = !ofJob;
      if (!ofJob) void bring().catch(() => {});
    });
  }

  for (const map of document.querySelectorAll("[data-tube-map]")) live(/** @type {HTMLElement} */ (map));
})();
