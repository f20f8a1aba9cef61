// What is kept of a tube map: two hundred jobs of two thousand tubes have to find room on a phone.
"use strict";
(() => {
  /** As many changes are kept to be undone, also over a reload, and no more than find room in so many letters. */
  const UNDOS = 50;
  const ROOM = 12_000;
  /** What happens in a run, each by a letter. @type {Record<string, RunEvent["is"]>} */
  const EVENTS = { s: "start", d: "done", b: "blocked", l: "later", t: "take", p: "break", g: "on", h: "hand", e: "end" };
  const LETTERS = /** @type {Record<RunEvent["is"], string>} */ (Object.fromEntries(Object.entries(EVENTS).map(([letter, is]) => [is, letter])));

  /** Tubes by their mark, those in a row as one span; what is packed already stays so. @param {Record<string, string>} marks @returns {Record<string, string>} */
  function packed(marks) {
    if (Object.keys(marks).some((name) => !/^\d+$/.test(name))) return marks;
    /** @type {Record<string, string[]>} */
    const by = {};
    for (const [tube, is] of Object.entries(marks)) (by[is] = by[is] ?? []).push(tube);
    return Object.fromEntries(Object.entries(by).map(([is, tubes]) => [is, spans(tubes.map(Number).sort((one, other) => one - other))]));
  }

  /** @param {number[]} tubes in their order */
  function spans(tubes) {
    /** @type {[number, number][]} */
    const found = [];
    for (const tube of tubes) {
      const last = found[found.length - 1];
      if (last && last[1] === tube - 1) last[1] = tube;
      else found.push([tube, tube]);
    }
    return found.map(([from, to]) => (from === to ? String(from) : `${from}-${to}`)).join(",");
  }

  /** Marks by tube, as they were packed, or as editions before kept them. @param {Record<string, string>} kept */
  function unpacked(kept) {
    /** @type {Record<string, string>} */
    const marks = {};
    for (const [is, tubes] of Object.entries(kept)) {
      if (/^\d+$/.test(is)) marks[is] = tubes;
      else {
        for (const span of tubes.split(",")) {
          const [from, to = from] = span.split("-").map(Number);
          for (let tube = from; tube <= to; tube += 1) marks[tube] = is;
        }
      }
    }
    return marks;
  }

  /** What is told of a stroke. */
  const OF_STROKE = ["done", "blocked", "later", "take"];

  /**
   * A run's events: each a letter, its stroke where that is no neighbour of the one before (`-` is the one below), its tubes
   * where they are not as many as before, which they were where not all of the stroke, and how long it came after the event before, in seconds.
   * @param {RunEvent[]} log
   */
  function logged(log) {
    let [time, last, many] = [0, 0, 0];
    return log.map(({ is, stroke = 0, tubes = 0, took, at }) => {
      const since = at - time;
      time = at;
      if (!OF_STROKE.includes(is)) return `${LETTERS[is]}.${since}`;
      const which = stroke === last + 1 ? "" : stroke === last - 1 ? "-" : String(stroke);
      const of = tubes === many ? "" : `:${tubes}`;
      [last, many] = [stroke, tubes];
      return `${LETTERS[is]}${which}${of}${took ? `/${took.join("+")}` : ""}.${since}`;
    }).join(",");
  }

  /** @param {string} kept @returns {RunEvent[]} */
  function unlogged(kept) {
    /** @type {RunEvent[]} */
    const log = [];
    let [at, stroke, tubes] = [0, 0, 0];
    for (const one of kept.split(",")) {
      const [, letter = "", which = "", of = "", took = "", since = ""] = /^([a-z])(-|[0-9]*)(?::([0-9]+))?(?:\/([0-9+]+))?\.(-?[0-9]+)$/.exec(one) ?? [];
      const is = EVENTS[letter];
      if (!is) continue;
      at += Number(since);
      if (!OF_STROKE.includes(is)) {
        log.push({ is, at });
        continue;
      }
      stroke = which === "" ? stroke + 1 : which === "-" ? stroke - 1 : Number(which);
      if (of !== "") tubes = Number(of);
      log.push({ is, at, stroke, tubes, ...(took !== "" && { took: took.split("+").map(Number) }) });
    }
    return log;
  }

  /** @param {Partial<KeptRun> | undefined} kept @returns {TubeRun} */
  const run = ({ log = "", hands = [], who = "", straight = false } = {}) => ({ log: unlogged(log), hands, who, straight });

  /** Nothing but a run that never began is kept as nothing. @param {TubeRun} run @returns {KeptRun | undefined} */
  function keptRun({ log, hands, who, straight }) {
    if (log.length === 0 && hands.length === 0 && who === "" && !straight) return undefined;
    return { log: logged(log), ...(hands.length > 0 && { hands }), ...(who !== "" && { who }), ...(straight && { straight }) };
  }

  gaugeleaf.tubeMarks = {
    unpacked,
    run,
    keptRun,

    /** Changes stay packed until one is undone. */
    read(kept, plan) {
      const { plan: marked = plan, marks = {}, done = [], run: held } = /** @type {Partial<TubeMarks & { run: KeptRun }>} */ (kept ?? {});
      return { plan: marked, marks: unpacked(marks), done, run: run(held) };
    },

    write({ plan, marks, done, run: held }) {
      const changes = done.slice(-UNDOS).map((one) => ({ ...one, before: packed(one.before) }));
      while (changes.length > 1 && JSON.stringify(changes).length > ROOM) changes.shift();
      const of = held && keptRun(held);
      const isEmpty = Object.keys(marks).length === 0 && done.length === 0 && of === undefined;
      return isEmpty ? null : { plan, marks: packed(marks), done: changes, ...(of && { run: of }) };
    },
  };
})();
