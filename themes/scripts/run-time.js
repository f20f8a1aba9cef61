// What the phone's clock says of a run: the pace by its marks, breaks, and where the clock can't be true.
"use strict";
(() => {
  /** Who forgot to mark a break has worked no half hour at one stroke, in seconds. */
  const GAP = 30 * 60;
  /** No stroke is sooner than this after the one before, in seconds; after so many, none takes less than a third of most. */
  const [SOON, SOME] = [5, 5];
  /** What a crew has done or left at a stroke; from one of these to the next is its pace. */
  const WORK = ["done", "blocked", "later"];

  /** @param {RunEvent[]} log @returns {RunTimes} */
  function of(log) {
    /** @type {RunTimes} */
    const times = { worked: 0, tubes: 0, started: log[0]?.at, ended: undefined, breaks: [], gaps: [], back: [], isBreak: false, from: undefined, each: [] };
    /** The mark that the next one is timed from: none after a start or a break, when the line is proved first. */
    let from = /** @type {number | undefined} */ (undefined);
    for (const [nth, { is, at, tubes = 0 }] of log.entries()) {
      const before = log[nth - 1]?.at ?? at;
      if (at < before) {
        times.back.push({ before, after: at });
        from = undefined;
      }
      if (is === "break") times.breaks.push({ from: at, to: undefined });
      const rest = times.breaks[times.breaks.length - 1];
      // Whatever is marked next ends a break; who is handed the run in a break is still in it.
      if (is !== "break" && is !== "take" && is !== "hand" && rest && rest.to === undefined) rest.to = at;
      times.ended = is === "end" ? at : is === "take" ? times.ended : undefined;
      if (!WORK.includes(is)) {
        if (is !== "take") from = undefined;
        continue;
      }
      if (from !== undefined && at - from > GAP) times.gaps.push({ from, to: at });
      else if (from !== undefined) {
        times.worked += at - from;
        times.tubes += tubes;
        if (is === "done") times.each.push(at - from);
      }
      from = at;
    }
    const last = times.breaks[times.breaks.length - 1];
    times.from = from;
    times.isBreak = last !== undefined && last.to === undefined;
    return times;
  }

  gaugeleaf.runTime = {
    of,
    /** Whether a stroke comes too soon after the one before to have been run: it is asked. */
    isSoon(log, at) {
      const { from, each } = of(log);
      if (from === undefined || at < from) return false;
      const middle = [...each].sort((one, other) => one - other)[Math.floor(each.length / 2)] ?? 0;
      return at - from < (each.length < SOME ? SOON : Math.max(SOON, middle / 3));
    },

    /** In seconds: no run is told closer. */
    now: () => Math.round(Date.now() / 1000),

    /** What the calculator makes of the time so far; nothing, where that tells nothing yet. */
    async pace(name, { worked, tubes }, todo) {
      if (name === "" || tubes === 0 || worked === 0) return undefined;
      const inputs = {
        tubes_done: { text: String(tubes), confirmed: true },
        time_so_far: { text: String(worked), unit: "s", confirmed: true },
        tubes_in_all: { text: String(tubes + todo), confirmed: true },
      };
      const { outputs } = await gaugeleaf.ask({ do: "calculate", name, inputs, want: [] });
      const { time_each: each, time_left: left } = outputs ?? {};
      if (!each?.text || !left?.text || typeof left.si !== "number") return undefined;
      return { each: each.text, left: left.text, seconds: left.si };
    },

    /** The phone's own clock; the day too, where it isn't today or is asked for. */
    clock(at, isDay = false) {
      const then = new Date(at * 1000);
      const time = then.toTimeString().slice(0, 5);
      // Swedes write days as the rest of a report does.
      const day = then.toLocaleDateString("sv");
      return !isDay && day === new Date().toLocaleDateString("sv") ? time : `${day} ${time}`;
    },
  };
})();
