// A run over the whole screen, for one thumb: the stroke in hand, one large key when it is done.
"use strict";
(() => {
  const { element, runTime, tubeAsk } = gaugeleaf;
  const { key, DEAD } = tubeAsk;
  /** How wide a tube stands on the map of a run, in pixels. */
  const WIDE = 52;
  const COUNTED = ["cleaned", "blocked", "plugged"];
  /** A minute, after which the clock's words are of before. */
  const MINUTE = 60_000;

  /** @param {HTMLElement} map @param {TubeBoard} board @param {TubeView} view @param {TubeGuard} guard @returns {Run} */
  gaugeleaf.run = (map, board, view, guard) => {
    const next = gaugeleaf.runNext(map, board);
    const report = gaugeleaf.runReport(map, board);
    const awake = gaugeleaf.runWake((words) => { if (layer) part("run-said").append(` ${words}`); });
    const sheet = /** @type {HTMLElement} */ (map.querySelector(".tube-sheet"));
    const place = document.createComment("");
    /** @type {HTMLElement | null} */
    let layer = null;
    let dead = 0;
    let scrolled = 0;
    /** The job was changed in another window: its page waits until the run is left. */
    let isElsewhere = false;
    /** The map's window, in pixels. */
    let wide = 0;
    /** @type {Element | null} */
    let before = null;

    /** @param {string} name */
    const part = (name) => /** @type {HTMLElement} */ (layer?.querySelector(`.${name}`));

    /** @param {string} words @param {string} [aloud] what stands elsewhere in sight */
    function say(words, aloud = "") {
      if (layer) put("run-said", board.told(words), element("span", "visually-hidden", aloud));
    }

    /** A change of the run, with the moment that it is kept with. @param {RunEvent["is"]} is @param {string} words @param {Partial<RunEvent>} [of] */
    const log = (is, words, of = {}) => board.mark([], "", words, { event: { is, at: runTime.now(), ...of } });

    const times = () => runTime.of(board.kept.run.log);
    const isOver = () => { const { log } = board.kept.run; return log.length > 0 && log[log.length - 1].is === "end"; };

    /** What comes next, after something was said of what is done. @param {string} done */
    function after(done) {
      const stroke = next.next();
      const told = stroke ? worded("run.next", { row: stroke.row, stroke: stroke.stroke }) : `${worded("run.none_left")} ${second()}`;
      say(`${done} ${told}`.trim(), stroke ? ` ${next.warning(stroke)}` : "");
    }

    /** A thumb that comes down twice, or just after another window changed what the key says, has done nothing more. */
    function isSecond() {
      const is = performance.now() - dead < DEAD;
      if (!is) dead = performance.now();
      return is;
    }

    /** Why no stroke may be marked; "" where one may. */
    const stopped = () => (isElsewhere ? worded("run.elsewhere") : guard.noRun());

    /** The large key. */
    function done() {
      if (isSecond()) return;
      board.recall();
      if (stopped() && !isOver()) return say(stopped());
      const stroke = shown;
      if (isOver()) return leave(true);
      if (times().isBreak) return goOn();
      if (!stroke) return end();
      if (!runTime.isSoon(board.kept.run.log, runTime.now())) return cleaned(stroke);
      void tubeAsk(map, worded("run.ask_soon", { stroke: stroke.stroke }), [[worded("run.not_soon"), () => {}], [worded("run.is_soon"), () => cleaned(stroke)]]);
    }

    /** @param {TubeStroke} stroke */
    function cleaned(stroke) {
      board.recall();
      if (stopped()) return say(stopped());
      const own = next.open(stroke);
      if (own.length === 0) return after(worded("run.done_before", { stroke: stroke.stroke }));
      board.mark(own, "cleaned", worded("run.stroke_done", { stroke: stroke.stroke }), {
        event: { is: "done", at: runTime.now(), stroke: stroke.stroke, tubes: own.length, ...taken(stroke, own) },
      });
      after(own.length === 1 ? worded("run.done_one", { stroke: stroke.stroke, tube: own[0] }) : worded("run.done", { stroke: stroke.stroke, tubes: own.join(", ") }));
    }
    /** Which tubes, where they are not all of the stroke. @param {TubeStroke} stroke @param {string[]} own */
    const taken = (stroke, own) => (own.length < stroke.tubes.length ? { took: own.map(Number) } : {});
    /** Blocked tubes come last. */
    const second = () => (board.count("blocked") > 0 ? worded("run.second", { blocked: board.count("blocked") }) : "");
    /** The stroke that the key says. @type {TubeStroke | undefined} */
    let shown;

    function goOn() {
      log("on", worded("run.on_change"));
      after(worded("run.went_on"));
    }

    function rest() {
      if (isSecond()) return;
      if (times().isBreak) return goOn();
      log("break", worded("run.break_change"));
      say(`${worded("run.on_break", { time: runTime.clock(runTime.now()) })} ${worded("run.break_note")}`);
    }

    function end() {
      log("end", worded("run.end_change"));
      say(worded("run.ended", { time: runTime.clock(runTime.now()) }));
    }

    /** Which of the stroke's tubes is blocked: it is locked, the other stays to do, and the drive goes on. */
    function blocked() {
      const stroke = shown;
      if (!stroke || isOver() || times().isBreak || stopped()) return;
      board.recall();
      const own = next.open(stroke);
      /** @param {string[]} tubes */
      const go = (tubes) => {
        board.mark(tubes, "blocked", worded("run.tube_blocked", { tube: tubes.join(", ") }), {
          event: { is: "blocked", at: runTime.now(), stroke: stroke.stroke, tubes: 0, ...taken(stroke, tubes) },
        });
        after(worded("run.was_blocked", { tube: tubes.join(", ") }));
      };
      const sides = own.map((tube) => /** @type {[string, () => void]} */ ([next.side(stroke, tube), () => go([tube])]));
      void tubeAsk(map, worded("run.ask_blocked", { stroke: stroke.stroke }), [
        ...sides,
        ...(own.length > 1 ? [/** @type {[string, () => void]} */ ([worded("run.all_blocked"), () => go(own)])] : []),
        [worded("run.none_blocked"), () => {}],
      ], [], -1);
    }

    /** @param {TubeStroke} stroke */
    function later(stroke) {
      log("later", worded("run.later_change", { stroke: stroke.stroke }), { stroke: stroke.stroke });
      after(worded("run.left_later", { stroke: stroke.stroke }));
    }

    /** Takes another stroke in hand; a finger may have slipped, so it is asked. @param {string} tube */
    function take(tube) {
      const stroke = board.tubes.get(tube)?.stroke;
      if (!stroke || stroke === shown || stopped()) return;
      const own = board.kept.marks[tube];
      if (own) return say(worded("run.tube_is", { tube, stroke: stroke.stroke, mark: board.named(own) }));
      void tubeAsk(map, worded("run.ask_take", { stroke: stroke.stroke, row: stroke.row }), [
        [shown ? worded("run.stay", { stroke: shown.stroke }) : worded("run.stay_none"), () => {}],
        [worded("run.take", { stroke: stroke.stroke }), () => {
          log("take", worded("run.take_change", { stroke: stroke.stroke }), { stroke: stroke.stroke });
          after("");
        }],
      ]);
    }

    function more() {
      const stroke = shown;
      const { straight } = board.kept.run;
      /** @type {[string, () => void][]} */
      const ways = [[worded("run.back_to"), () => {}]];
      if (stroke && !isOver() && !stopped()) ways.push([worded("run.later", { stroke: stroke.stroke }), () => later(stroke)]);
      ways.push(
        [worded("run.hand"), () => gaugeleaf.runHand(map, board, say, open())],
        [straight ? worded("run.way_back") : worded("run.way_straight"), () => {
          board.settle((kept) => ({ ...kept, run: { ...kept.run, straight: !straight } }));
          after("");
        }],
        [worded("run.see_report"), () => leave(true)],
      );
      if (!isOver()) ways.push([worded("run.end_here"), end]);
      void tubeAsk(map, worded("run.more_title"), ways);
    }

    /** What the map knows to be open at a hand-over. */
    function open() {
      const stroke = next.next();
      const told = stroke ? worded("run.open_next", { row: stroke.row, stroke: stroke.stroke, way: way(stroke) }) : worded("run.none_left");
      return `${told} ${worded("run.open_marks", { blocked: board.count("blocked"), plugged: board.count("plugged"), todo: board.count("") })}`;
    }
    /** @param {TubeStroke} stroke */
    const way = (stroke) => (next.isBack(stroke) ? worded("run.from_right") : worded("run.from_left"));

    function build() {
      const made = element("section", "run");
      made.setAttribute("role", "dialog");
      made.setAttribute("aria-modal", "true");
      made.setAttribute("aria-labelledby", "run-title");
      const title = element("h1", "run-row");
      title.id = "run-title";
      const head = element("header", "run-head", key(worded("run.leave"), () => leave(), "run-leave"), element("div", "run-place", title, element("p", "run-stroke"), element("p", "run-job", gaugeleaf.tubeJob())));
      head.append(...tubeAsk.help());
      const warn = element("div", "run-warn", element("strong", "run-word", worded("run.warning")), element("p", "run-warned"));
      const counts = element("ul", "run-counts", ...COUNTED.map((is) => element("li", "", element("b", `run-count-${is}`), ` ${board.named(is)}`)));
      const said = element("p", "run-said");
      said.setAttribute("role", "status");
      const [larger, smaller, find] = [
        key("+", () => view.set(view.zoom * 1.5), "run-larger"), key("−", () => view.set(view.zoom / 1.5), "run-smaller"), key("", () => follow(), "run-find"),
      ];
      for (const [button, name] of /** @type {[HTMLElement, string][]} */ ([[larger, worded("run.larger")], [smaller, worded("run.smaller")], [find, worded("run.find")]])) button.setAttribute("aria-label", name);
      const undo = key("", () => { if (!isSecond()) board.undo(after); }, "run-undo");
      undo.append(element("b", "", worded("tube_map.undo")), element("span", "run-last"));
      const big = key("", done, "run-done");
      big.append(element("span", "run-what"), element("b", "run-is"));
      made.append(
        head, element("div", "run-tape", element("div", "run-far")),
        element("div", "run-map", element("div", "run-zoom", larger, smaller, find)),
        element("div", "run-side", warn, element("dl", "run-facts"), counts, said,
          element("div", "run-sub", key(worded("run.tube_is_blocked"), blocked, "run-blocked"), key(worded("run.break"), rest, "run-break"), key(worded("run.more"), more, "run-more")),
          element("div", "run-big", undo, big)),
      );
      made.addEventListener("keydown", (event) => {
        if (event.key === "Escape") leave();
      });
      return made;
    }

    /** The stroke in hand comes to the middle of the map. */
    function follow() {
      if (!layer) return;
      const middle = next.light(shown);
      if (middle) view.show(middle.x, middle.y);
    }
    /** Figures are read after the mark, and come after it. */
    const soon = () => requestAnimationFrame(() => { setTimeout(facts); });

    /** @param {string} name @param {string} text */
    function set(name, text) {
      const place = part(name);
      if (place.textContent !== text) place.textContent = text;
    }
    /** @param {string} name @param {(string | Node)[]} words */
    const put = (name, ...words) => part(name).replaceChildren(...words);

    /** Puts what is in hand; changes nothing of the map but its lights. */
    function show() {
      if (!layer) return;
      const stroke = isOver() ? undefined : next.next();
      const { isBreak } = times();
      shown = stroke;
      const { rows, strokes, left } = board;
      set("run-row", stroke ? `${worded("run.row", { row: stroke.row, rows })} ${next.isBack(stroke) ? "←" : "→"}` : worded("run.none_left"));
      set("run-stroke", stroke
        ? worded("run.stroke", { stroke: stroke.stroke, strokes: strokes.size })
        : worded("run.strokes", { strokes: strokes.size }));
      part("run-far").style.width = `${(100 * (strokes.size - left)) / Math.max(strokes.size, 1)}%`;
      part("run-tape").style.setProperty("--rows", String(rows));
      warn(stopped() && !isOver() ? stopped() : isBreak ? worded("run.break_note") : stroke ? next.warning(stroke) : "", isBreak && !stopped());
      for (const is of COUNTED) set(`run-count-${is}`, String(board.count(is)));
      keys(stroke, isBreak);
      follow();
      soon();
    }

    /** What is to be read before the large key is pressed; after a break, where to read it. @param {string} words @param {boolean} isBreak */
    function warn(words, isBreak) {
      const box = part("run-warn");
      box.hidden = words === "";
      layer?.classList.toggle("is-warned", words !== "");
      if (part("run-warned").dataset.of === words) return;
      part("run-warned").dataset.of = words;
      const page = isBreak && /** @type {HTMLAnchorElement | null} */ (document.querySelector('a[href*="breaks-and-handovers.html"]'));
      const link = element("a", "", worded("run.break_page"));
      if (page) link.href = page.href;
      put("run-warned", words, ...(page ? [" ", link] : []));
      // It is read from its start.
      if (words !== "") for (const one of [layer, part("run-side")]) if (one) one.scrollTop = 0;
    }

    /** What each key says and whether it acts. @param {TubeStroke | undefined} stroke @param {boolean} isBreak */
    function keys(stroke, isBreak) {
      const { last } = board;
      const big = isOver() ? [worded("run.see"), worded("run.the_report")]
        : isBreak ? [worded("run.break_over"), worded("run.on")]
        : stroke ? [next.open(stroke).length < stroke.tubes.length
          ? worded("run.alone", { stroke: stroke.stroke, tube: next.sides(stroke, next.open(stroke)) }) : worded("run.the_stroke", { stroke: stroke.stroke }), worded("run.is_done")]
        : [worded("run.all_done"), worded("run.end")];
      set("run-what", `${big[0]} `);
      set("run-is", big[1]);
      set("run-last", last ? ` ${last.words}` : "");
      /** @type {HTMLButtonElement} */ (part("run-undo")).disabled = !last;
      set("run-break", isBreak ? worded("run.on") : worded("run.break"));
      /** @type {HTMLButtonElement} */ (part("run-break")).disabled = isOver();
      /** @type {HTMLButtonElement} */ (part("run-blocked")).disabled = !stroke || isBreak || isOver() || stopped() !== "";
      /** @type {HTMLButtonElement} */ (part("run-done")).disabled = stopped() !== "" && !isOver();
      part("run-done").classList.toggle("is-on", isBreak);
    }

    /** Own pace and time left, as the calculator gives them; by which clock that is over. */
    async function facts() {
      if (!layer) return;
      const now = times();
      const of = now.tubes;
      const pace = await runTime.pace(map.dataset.pace ?? "", now, board.count("")).catch(() => undefined);
      if (!layer || times().tubes !== of) return;
      /** @param {string} name @param {string} text */
      const fact = (name, text) => element("div", "", element("dt", "", name), element("dd", "", text));
      if (board.left === 0 || isOver()) return put("run-facts");
      if (!pace) return put("run-facts", fact(worded("run.pace"), worded("run.no_pace")));
      put("run-facts", fact(worded("run.each"), pace.each), fact(worded("run.left"), pace.left),
        // The engine's seconds, put on the phone's clock: no quantity is worked out, and none is printed but the engine's.
        ...(now.isBreak || pace.seconds === undefined ? [] : [fact(worded("run.by"), runTime.clock(runTime.now() + pace.seconds))]));
    }

    function open_() {
      if (layer || board.tubes.size === 0) return;
      before = document.activeElement;
      scrolled = scrollY;
      board.recall();
      if (guard.noRun()) return;
      layer = build();
      document.body.append(layer);
      sheet.before(place);
      part("run-map").prepend(sheet);
      document.documentElement.classList.add("is-running");
      map.classList.add("is-running");
      const { log: held } = board.kept.run;
      if (held.length === 0 || isOver()) log("start", worded("run.start_change"));
      // The second half of the tap that opened it is for nothing here.
      dead = performance.now();
      wide = sheet.clientWidth;
      view.fit(WIDE);
      view.cull(true);
      show();
      part("run-done").focus({ preventScroll: true });
      after(times().isBreak ? worded("run.still_break") : "");
      void awake.ask();
      if (layer.requestFullscreen) layer.requestFullscreen().catch(() => { /* the layer covers the page without it */ });
    }

    /** @param {boolean} [toReport] */
    function leave(toReport = false) {
      if (!layer) return;
      const gone = layer;
      layer = null;
      next.light(undefined);
      view.cull(false);
      place.replaceWith(sheet);
      document.documentElement.classList.remove("is-running");
      map.classList.remove("is-running");
      gone.remove();
      view.fit(0, 16);
      view.set(1);
      awake.end();
      if (document.fullscreenElement) void document.exitFullscreen().catch(() => {});
      map.dispatchEvent(new Event("runleft"));
      if (isElsewhere) return location.reload();
      scrollTo(0, scrolled);
      report.show();
      if (toReport) report.open();
      else /** @type {HTMLElement | null} */ (before)?.focus();
    }

    board.follow(show);
    board.follow(() => report.show());
    sheet.addEventListener("click", (event) => {
      const tube = /** @type {Element} */ (event.target).getAttribute("data-tube");
      if (layer && tube) take(tube);
    });
    document.addEventListener("fullscreenchange", () => {
      if (layer && !document.fullscreenElement) leave();
    });
    // Paper shows the page.
    addEventListener("beforeprint", () => leave());
    addEventListener("jobanew", (event) => {
      if (!layer) return;
      event.preventDefault();
      isElsewhere = true;
      show();
      say(worded("run.elsewhere"));
    });
    addEventListener("storage", () => { dead = performance.now(); });
    addEventListener("resize", () => {
      if (!layer || sheet.clientWidth === 0) return;
      // A tube stays as large as it was, on its side too.
      view.set((view.zoom * wide) / sheet.clientWidth);
      wide = sheet.clientWidth;
      follow();
    });
    addEventListener("keptagain", () => say(worded("tube_map.kept_again")));
    setInterval(() => void facts(), MINUTE);
    report.show();
    return { open: open_, leave: () => leave() };
  };
})();
