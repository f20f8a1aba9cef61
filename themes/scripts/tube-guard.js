// What speaks against a run, or against any mark: the plan's verdict, how the lances stand, a sheet that was measured anew.
"use strict";
(() => {
  const { tubeAsk, element, store } = gaugeleaf;

  /** The job of the map, as a report and a run name it; the handbook's own example is for training. */
  gaugeleaf.tubeJob = () => {
    const { job, own } = document.documentElement.dataset;
    const named = job ?? store.kept()?.name;
    return named ?? (own ? worded("run.training", { job: own }) : "");
  };

  /** How the two lances stand; across the rows, no stroke of this map is one of theirs. @param {Engine} engine @param {boolean} isExample */
  function across(engine, isExample) {
    let found;
    try {
      found = engine({ do: "measure", inputs: { pitch_direction: null } }).inputs?.pitch_direction;
    } catch {
      // A handbook that has no such measurement.
      return "";
    }
    if (!found || !("choice" in found || "ground" in found)) return "";
    if (found.choice === "across-rows") return worded("tube_map.across");
    if (found.doubt) return worded("tube_map.direction_doubt");
    if (!found.choice || (found.ground === "example" && !isExample)) return worded("tube_map.direction_open");
    return "";
  }

  /** @param {HTMLElement} map @param {TubeBoard} board @returns {TubeGuard} */
  gaugeleaf.tubeGuard = (map, board) => {
    const held = /** @type {HTMLElement} */ (map.querySelector(".tube-held"));
    const start = /** @type {HTMLButtonElement} */ (map.querySelector(".run-start"));
    const modes = /** @type {HTMLFieldSetElement} */ (map.querySelector(".tube-modes"));
    let [run, marks] = [worded("tube_map.not_judged"), ""];
    let isJudged = false;
    let shown = "";

    const isOther = () => board.tubes.size > 0 && board.kept.plan !== board.plan && Object.keys(board.kept.marks).length > 0;
    const noMarks = () => marks || (isOther() ? worded("tube_map.changed") : "");
    const noRun = () => noMarks() || run;

    /** One locked mark after the other, by the crew's word for each. @param {string[]} tubes @param {number} nth */
    function compare(tubes, nth) {
      const sheet = board.plan;
      const tube = tubes[nth];
      const done = () => {
        board.recall();
        if (!isOther() || board.plan !== sheet) return;
        board.settle((kept) => ({ ...kept, plan: sheet, done: [...kept.done, { words: worded("tube_map.compared_change"), before: {}, plan: kept.plan }] }));
      };
      if (tube === undefined) {
        return void tubeAsk(map, worded("tube_map.ask_compared"), [[worded("tube_map.compare_not"), () => {}], [worded("tube_map.compared"), done]]);
      }
      const place = board.tubes.get(tube)?.stroke;
      const mark = board.named(board.kept.marks[tube]);
      void tubeAsk(map, place
        ? worded("tube_map.ask_compare", { tube, mark, row: place.row, nth: place.tubes.indexOf(tube) + 1, stroke: place.stroke })
        : worded("tube_map.ask_gone", { tube, mark }), [
        [worded("tube_map.compare_not"), () => {}],
        ...(place ? [/** @type {[string, () => void]} */ ([worded("tube_map.compare_yes", { mark }), () => compare(tubes, nth + 1)])] : []),
      ]);
    }

    function show() {
      const [why, mark] = [noRun(), noMarks()];
      start.disabled = why !== "";
      modes.disabled = mark !== "";
      map.classList.toggle("is-held", mark !== "");
      // Until the calculator has spoken nothing is told: it is soon there.
      if (!isJudged && !mark) return;
      const now = `${why}${isOther()}`;
      if (now === shown) return;
      shown = now;
      held.hidden = why === "";
      held.replaceChildren(element("p", "", why));
      if (!isOther() || marks) return;
      held.append(tubeAsk.key(worded("tube_map.compare"), () => {
        board.recall();
        compare(Object.keys(board.kept.marks).filter((tube) => board.locked(board.kept.marks[tube])), 0);
      }));
    }
    board.follow(show);

    return {
      noRun, noMarks,
      stopped() {
        isJudged = true;
        run = worded("tube_map.not_judged_stopped");
        show();
      },
      judge(engine, answer) {
        isJudged = true;
        const isExample = !document.documentElement.classList.contains("of-job");
        const plan = answer.verdicts[0];
        // The handbook's own example is nobody's job: it is what it would be.
        const is = isExample && plan?.is === "open" && plan.would ? plan.would : plan?.is;
        run = is === "stop" ? worded("tube_map.stop", { because: plan.because })
          : is === "open" ? worded("tube_map.open", { because: plan.because })
          : board.tubes.size === 0 ? worded("tube_map.no_map", { why: answer.problems[0]?.message ?? worded("tube_map.too_many") }) : "";
        marks = board.tubes.size === 0 ? run : across(engine, isExample);
        map.dataset.method = answer.inputs.odd_method?.choice ?? "";
        show();
      },
    };
  };
})();
