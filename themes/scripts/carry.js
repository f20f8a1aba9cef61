// A record as a file: kept on one device, carried by somebody, and taken in on another.
"use strict";
(() => {
  const { people, all } = gaugeleaf;
  const KIND = "training-record";

  /** A record as a file says it, or `null`. @param {string} text @returns {Person | null} */
  function read(text) {
    /** @type {unknown} */
    let held;
    try {
      held = JSON.parse(text);
    } catch {
      return null;
    }
    const { kind, person } = /** @type {Record<string, unknown>} */ (held ?? {});
    return kind === KIND ? gaugeleaf.record(person) : null;
  }

  /** The later end, with every reason that either device knows. @param {Signed["ended"]} own @param {NonNullable<Signed["ended"]>} other */
  function both(own, other) {
    if (!own) return other;
    const why = own.why.includes(other.why) ? own.why : other.why.includes(own.why) ? other.why : `${own.why}; ${other.why}`;
    return { when: own.when > other.when ? own.when : other.when, why };
  }

  /** What both hold, each once; a device's own stays in the order in which it was kept, whatever its clock said. @template {{ when: string, at?: number, taken?: true, ended?: Signed["ended"] }} T @param {Record<string, T[]>} into @param {Record<string, T[]>} from */
  function merge(into, from) {
    /** @param {T} one */
    const key = (one) => JSON.stringify(Object.entries({ ...one, ended: undefined, taken: undefined }).sort());
    /** @param {T} one @param {T} other */
    const isLater = (one, other) => one.when > other.when || one.when === other.when && (one.at ?? 0) > (other.at ?? 0);
    for (const [page, kept] of Object.entries(from)) {
      const own = into[page] ??= [];
      for (const one of kept) {
        const same = own.find((other) => key(other) === key(one));
        if (!same) {
          const after = own.findIndex((other) => isLater(other, one));
          own.splice(after < 0 ? own.length : after, 0, one);
        } else {
          // An end or a taking back that either device knows holds.
          if (one.ended) same.ended = both(same.ended, one.ended);
          if (one.taken) same.taken = true;
        }
      }
    }
  }

  /**
   * Strokes of one day beside one person are the same strokes, whichever device was told: the greater number of the two.
   * @param {Record<string, SupervisedStrokes[]>} into @param {Record<string, SupervisedStrokes[]>} from
   */
  function mergeStrokes(into, from) {
    const sum = (/** @type {SupervisedStrokes[]} */ days) => days.reduce((sum, { count, taken }) => sum + (taken ? 0 : count), 0);
    /** The one of these that is the same entry. @param {SupervisedStrokes[]} days @param {SupervisedStrokes} one */
    const twin = (days, one) => days.find(({ when, at, by }) => when === one.when && at === one.at && by === one.by);
    for (const [page, kept] of Object.entries(from)) {
      const own = into[page] ?? [];
      for (const one of own) one.taken ||= twin(kept, one)?.taken;
      for (const one of kept) one.taken ||= twin(own, one)?.taken;
      let both = own;
      for (const { when, by } of kept) {
        const of = (/** @type {SupervisedStrokes} */ one) => one.when === when && gaugeleaf.names.same(one.by, by);
        if (sum(kept.filter(of)) > sum(own.filter(of))) both = [...both.filter((one) => !of(one)), ...kept.filter(of)];
      }
      // What was taken back stays on record, so that no older file brings it back.
      for (const one of [...own, ...kept]) if (one.taken && !twin(both, one)) both = [...both, one];
      into[page] = [...both].sort((one, other) => one.when.localeCompare(other.when) || (one.at ?? 0) - (other.at ?? 0));
    }
  }

  /** Whose record on this device this one is put together with: its name, or the one that is nearly it. @param {string} name */
  function ownName(name) {
    if (people.named(name)) return confirm(worded("carry.ask_known", { name })) ? name : "";
    const near = people.nearTo(name);
    if (!near || gaugeleaf.names.apart(near.name, name)) return name;
    // A question waved away puts nobody's records together.
    return confirm(worded("carry.ask_known", { name: near.name })) ? near.name : "";
  }

  /** @param {HTMLElement} part */
  function live(part) {
    const keep = /** @type {HTMLButtonElement} */ (part.querySelector(".carry-keep"));
    const take = /** @type {HTMLInputElement} */ (part.querySelector(".carry-take"));
    const said = /** @type {HTMLElement} */ (part.querySelector(".carry-said"));

    function show() {
      const person = people.person();
      keep.hidden = person === undefined;
      keep.textContent = worded("carry.keep", { name: person?.name ?? "" });
    }

    keep.addEventListener("click", () => {
      const person = people.person();
      if (!person) return;
      const name = person.name.replace(/[^\p{L}\p{N}]+/gu, "-").toLowerCase();
      people.file(`record-${name}-${people.today()}.json`, "application/json", JSON.stringify({ kind: KIND, person }));
    });
    take.addEventListener("change", async () => {
      const file = take.files?.[0];
      if (!file) return;
      const found = read(await file.text().catch(() => ""));
      take.value = "";
      if (!found) {
        said.textContent = worded("carry.not_read", { file: file.name });
        return;
      }
      if (people.unread().some((name) => gaugeleaf.names.same(name, found.name))) {
        said.textContent = worded("carry.unread", { name: found.name });
        return;
      }
      const name = ownName(found.name);
      if (name === "") return;
      const kept = people.add(name) && people.change((person) => {
        merge(person.tests, found.tests);
        merge(person.tasks, found.tasks);
        mergeStrokes(person.strokes, found.strokes);
        merge(person.signed, found.signed);
        const incidents = { all: person.incidents };
        merge(incidents, { all: found.incidents });
      });
      said.textContent = kept ? worded("carry.taken", { name }) : worded("person.not_kept");
    });
    addEventListener("personchange", show);
    addEventListener("storage", show);
    show();
  }

  for (const part of all(document, ".register")) live(part);
})();
