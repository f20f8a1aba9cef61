// What a record has to be before anything is read from it: a device's own may be damaged, one from a file may be anything.
"use strict";
(() => {
  const isText = (/** @type {unknown} */ one) => typeof one === "string" && one.length < 500;
  const isCount = (/** @type {unknown} */ one) => one === undefined || Number.isInteger(one) && Number(one) >= 0;
  const isDay = (/** @type {unknown} */ one) => typeof one === "string" && /^\d{4}-\d\d-\d\d$/.test(one) && !isNaN(Date.parse(one));
  /** @param {unknown} one @returns {one is Record<string, unknown>} */
  const isHeld = (one) => typeof one === "object" && one !== null && !Array.isArray(one);

  /** @param {unknown} one @returns {one is Incident} */
  const isIncident = (one) => isHeld(one) && isDay(one.when) && isText(one.why) && isCount(one.at);
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

  gaugeleaf.record = (held) => {
    if (!isHeld(held) || held.version !== 1) return null;
    const { name } = held;
    if (typeof name !== "string" || name.trim() === "" || name.length > 200) return null;
    const [tests, tasks] = [lists(held.tests, isTried), lists(held.tasks, isTried)];
    const [strokes, signed] = [lists(held.strokes, isStrokes), lists(held.signed, isSigned)];
    const ends = lists({ all: held.incidents ?? [] }, isIncident);
    return tests && tasks && strokes && signed && ends
      ? { version: 1, name: name.trim(), tests, tasks, strokes, signed, incidents: ends.all ?? [] } : null;
  };
})();
