// A record as a file: kept on one device, carried by somebody, and taken in on another.
"use strict";
(() => {
  const { people, all } = gaugeleaf;
  const KIND = "training-record";

  const isText = (/** @type {unknown} */ one) => typeof one === "string" && one.length < 500;
  const isCount = (/** @type {unknown} */ one) => one === undefined || Number.isInteger(one) && Number(one) >= 0;
  const isDay = (/** @type {unknown} */ one) => typeof one === "string" && /^\d{4}-\d\d-\d\d$/.test(one) && !isNaN(Date.parse(one));
  /** @param {unknown} one @returns {one is Record<string, unknown>} */
  const isHeld = (one) => typeof one === "object" && one !== null && !Array.isArray(one);

  /** @param {unknown} one @returns {one is Tried} */
  const isTried = (one) => isHeld(one) && isDay(one.when) && isText(one.by) && typeof one.passed === "boolean"
    && [one.right, one.of, one.at, one.missed, one.prompted].every(isCount);
  /** @param {unknown} one @returns {one is SupervisedStrokes} */
  const isStrokes = (one) => isHeld(one) && isDay(one.when) && isText(one.by) && Number.isInteger(one.count) && Number(one.count) > 0;
  /** @param {unknown} one @returns {one is Signed} */
  const isSigned = (one) => isHeld(one) && isDay(one.when) && isDay(one.until) && isHeld(one.ground) && Array.isArray(one.places)
    && one.places.every(isText) && [one.role, one.assessor, one.teacher, one.language, one.revision].every(isText)
    && (one.ended === undefined || isHeld(one.ended) && isDay(one.ended.when) && isText(one.ended.why))
    // A page's address, and no way elsewhere.
    && Object.keys(one.ground).every((page) => /^[^/:\\][^:\\]*\.html$/.test(page))
    && Object.values(one.ground).every((page) => isHeld(page) && isHeld(page.values) && Object.values(page.values).every(isText)
      && Array.isArray(page.hazards) && page.hazards.every(isText));

  /**
   * By page, lists of what passes; `null` where anything doesn't.
   * @template T
   * @param {unknown} held @param {(one: unknown) => one is T} is @returns {Record<string, T[]> | null}
   */
  function lists(held, is) {
    if (!isHeld(held)) return null;
    /** @type {Record<string, T[]>} */
    const found = {};
    for (const [page, kept] of Object.entries(held)) {
      if (!Array.isArray(kept) || !kept.every(is)) return null;
      found[page] = kept;
    }
    return found;
  }

  /** A record as a file says it, or `null`. @param {string} text @returns {Person | null} */
  function read(text) {
    /** @type {unknown} */
    let held;
    try {
      held = JSON.parse(text);
    } catch {
      return null;
    }
    if (!isHeld(held) || held.kind !== KIND || !isHeld(held.person)) return null;
    const { version, name } = held.person;
    if (version !== 1 || typeof name !== "string" || name.trim() === "" || name.length > 200) return null;
    const [tests, tasks] = [lists(held.person.tests, isTried), lists(held.person.tasks, isTried)];
    const [strokes, signed] = [lists(held.person.strokes, isStrokes), lists(held.person.signed, isSigned)];
    return tests && tasks && strokes && signed ? { version: 1, name: name.trim(), tests, tasks, strokes, signed } : null;
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
      });
      said.textContent = kept ? worded("carry.taken", { name: found.name }) : worded("person.not_kept");
    });
    addEventListener("personchange", show);
    addEventListener("storage", show);
    show();
  }

  for (const part of all(document, ".register")) live(part);
})();
