// Hands a run over to another shift: who to whom, and what is open.
"use strict";
(() => {
  const { element, runTime } = gaugeleaf;

  /** @param {string} label @param {string} value @param {boolean} [isLong] */
  function field(label, value, isLong = false) {
    const entry = /** @type {HTMLInputElement | HTMLTextAreaElement} */ (document.createElement(isLong ? "textarea" : "input"));
    entry.value = value;
    if (isLong) entry.setAttribute("rows", "3");
    const made = element("label", "run-field", element("span", "", label), entry);
    return { made, entry };
  }

  /** @param {HTMLElement} map @param {TubeBoard} board @param {(words: string) => void} say @param {string} open what the map itself knows to be open */
  gaugeleaf.runHand = (map, board, say, open, typed) => {
    const { hands, who } = board.kept.run;
    const from = field(worded("run.hand_from"), typed?.from ?? hands[hands.length - 1]?.to ?? who);
    const to = field(worded("run.hand_to"), typed?.to ?? "");
    const more = field(worded("run.hand_open"), typed?.open ?? open, true);
    void gaugeleaf.tubeAsk(map, worded("run.hand"), [
      [worded("run.hand_not"), () => {}],
      [worded("run.hand_do"), () => {
        const hand = { from: from.entry.value.trim(), to: to.entry.value.trim(), open: more.entry.value.trim() };
        // Nobody takes a run over from nobody: what was typed stays.
        if (hand.from === "" || hand.to === "") return gaugeleaf.runHand(map, board, say, open, hand);
        board.mark([], "", worded("run.hand_change", { to: hand.to }), { event: { is: "hand", at: runTime.now() }, hand });
        say(worded("run.handed", { from: hand.from, to: hand.to, time: runTime.clock(runTime.now()) }));
      }],
    ], [...(typed ? [element("p", "run-note", worded("run.hand_names"))] : []), element("p", "run-note", worded("run.hand_note")), from.made, to.made, more.made]);
  };
})();
