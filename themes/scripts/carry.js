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
      if (people.named(found.name) && !confirm(worded("carry.ask_known", { name: found.name }))) return;
      const kept = people.add(found.name) && people.change((person) => {
        merge(person.tests, found.tests);
        merge(person.tasks, found.tasks);
        merge(person.strokes, found.strokes);
        merge(person.signed, found.signed);
        const incidents = { all: person.incidents };
        merge(incidents, { all: found.incidents });
      });
      said.textContent = kept ? worded("carry.taken", { name: found.name }) : worded("person.not_kept");
    });
    addEventListener("personchange", show);
    addEventListener("storage", show);
    show();
  }

  for (const part of all(document, ".register")) live(part);
})();
