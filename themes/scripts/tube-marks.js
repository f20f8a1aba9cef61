// What is kept of a tube map: two hundred jobs of two thousand tubes have to find room on a phone.
"use strict";
(() => {
  /** As many changes are kept to be undone, also over a reload, and no more than find room in so many letters. */
  const UNDOS = 50;
  const ROOM = 12_000;

  /** Tubes by their mark, those in a row as one span. @param {Record<string, string>} marks @returns {Record<string, string>} */
  function packed(marks) {
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

  gaugeleaf.tubeMarks = {
    read(kept, plan) {
      const { plan: marked = plan, marks = {}, done = [] } = /** @type {Partial<TubeMarks>} */ (kept ?? {});
      return { plan: marked, marks: unpacked(marks), done: done.map((one) => ({ ...one, before: unpacked(one.before) })) };
    },

    write({ plan, marks, done }) {
      const changes = done.slice(-UNDOS).map((one) => ({ ...one, before: packed(one.before) }));
      while (changes.length > 1 && JSON.stringify(changes).length > ROOM) changes.shift();
      const isEmpty = Object.keys(marks).length === 0 && done.length === 0;
      return isEmpty ? null : { plan, marks: packed(marks), done: changes };
    },
  };
})();
