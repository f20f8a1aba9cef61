// What a record holds of what a role wants, until when it counts, and whether its sign-off stands today.
"use strict";
(() => {
  const { people, stands } = gaugeleaf;
  /** More strokes than this in a day are a slip of the finger, or of two devices. */
  const MOST = 200;
  /** No day of this device. */
  const NEVER = "9999-12-31";

  /** The last sign-off for a role. @param {Person} person @param {string} role */
  const last = (person, role) => (person.signed[role] ?? []).slice(-1)[0];

  /** @param {string} day @param {string} role @param {RoleTerms} terms @param {Person} person */
  function limits(day, role, terms, person) {
    const ends = (person.signed[role] ?? []).filter(({ ended }) => ended).flatMap(({ when, ended }) => [when, ended?.when ?? ""]);
    const all = [...ends, ...person.incidents.map(({ when }) => when)];
    // What was shown before a sign-off ended, or before an incident, is no ground for the next.
    return { day, since: people.later(day, -terms.months), after: all.sort().slice(-1)[0] ?? "", months: terms.months };
  }

  /** @param {string} text @returns {EvidenceState} */
  const lacking = (text) => ({ done: false, text, until: NEVER, changed: false });

  /** Why something of this day counts no more, or not yet; "" where it counts. @param {string} when @param {Limits} at */
  function tooOld(when, { day, since, after }) {
    if (when > day) return worded("role.ahead", { when });
    if (when < since) return worded("role.too_old", { when });
    return when <= after ? worded("role.before_end", { when }) : "";
  }

  /** What each kind of line rests on. @type {Record<string, (place: string, person: Person, at: Limits, above: string[]) => EvidenceState>} */
  const kinds = {
    first(place, person, { day }, above) {
      const why = standing(place, person, day, above);
      const signed = last(person, place);
      return why === "" && signed
        ? { done: true, text: worded("role.signed_until", { until: signed.until }), until: signed.until, changed: false }
        : lacking(signed ? why : "");
    },
    tests(place, person, at) {
      const tries = person.tests[place];
      const pass = people.passed(tries);
      if (!pass) {
        const count = people.tries(tries).length;
        return lacking(people.stuck(tries) ? worded("role.stuck") : count > 0 ? worded("role.tried", { count }) : "");
      }
      const { when, by, right = 0, of = 0 } = pass;
      const old = tooOld(when, at);
      if (old !== "") return lacking(old);
      const text = pass.aloud ? worded("role.passed_aloud", { when, right, of, by }) : worded("role.passed", { when, right, of });
      return { done: true, text, until: people.later(when, at.months), changed: !stands.isOf(place, pass) };
    },
    tasks(place, person, at) {
      const tries = person.tasks[place];
      const shown = people.shown(tries);
      if (!shown) {
        const [one] = people.tries(tries).slice(-1);
        return lacking(people.stuck(tries) ? worded("role.stuck")
          : one?.passed ? worded("role.once", { when: one.when, by: one.by }) : one ? worded("role.not_shown") : "");
      }
      const [first, second] = shown;
      // Once more is enough after a sign-off has ended; too old counts for both.
      const old = tooOld(first.when, { ...at, after: "" }) || tooOld(second.when, at);
      if (old !== "") return lacking(old);
      const text = shown.map(({ when, by }) => worded("role.seen", { when, by })).join("; ");
      return { done: true, text, until: people.later(first.when, at.months), changed: shown.some((one) => !stands.isOf(place, one)) };
    },
  };

  /** @param {string} role @param {RoleTerms} terms @param {Person} person @param {Limits} at @returns {EvidenceState} */
  function strokes(role, terms, person, at) {
    const counted = people.standing(person.strokes[role]).filter(({ when }) => tooOld(when, at) === "");
    /** @type {Record<string, number>} */
    const days = {};
    for (const { when, count } of counted) days[when] = Math.min(MOST, (days[when] ?? 0) + count);
    const done = Object.values(days).reduce((sum, count) => sum + count, 0);
    const by = [...new Set(counted.map((one) => one.by))].join(", ");
    const oldest = counted.map(({ when }) => when).sort()[0] ?? at.day;
    return {
      done: done >= terms.strokes, text: worded("role.strokes", { done, of: terms.strokes, by }),
      until: people.later(oldest, at.months), changed: false,
    };
  }

  /** The pages of a role's tests and tasks. @param {RoleTerms} terms */
  const places = (terms) => [...terms.tests, ...terms.tasks, ...terms.among];

  /**
   * Each thing that a role wants, in the order in which it is done.
   * @param {string} role @param {Person} person @param {string} day @param {string[]} [above] @returns {Evidence[]}
   */
  function rows(role, person, day, above = []) {
    const terms = stands.role(role);
    if (!terms) return [];
    const at = limits(day, role, terms, person);
    /** @type {[string, string[]][]} */
    const wanted = [["first", terms.first], ["tests", terms.tests], ["tasks", terms.tasks]];
    /** @param {string} kind @param {string} place @returns {Evidence} */
    const row = (kind, place) => ({ kind, place, ...(kinds[kind]?.(place, person, at, [...above, role]) ?? lacking("")) });
    return [
      ...wanted.flatMap(([kind, pages]) => pages.map((place) => row(kind, place))),
      ...(terms.strokes > 0 ? [{ kind: "strokes", place: "", ...strokes(role, terms, person, at) }] : []),
      ...terms.among.map((place) => row("tasks", place)),
    ];
  }

  /** What comes before the supervised strokes, and isn't done. @param {string} role @param {Person} person @param {string} day */
  function before(role, person, day) {
    const among = stands.role(role)?.among ?? [];
    return rows(role, person, day).filter(({ kind, place, done }) => !done && kind !== "strokes" && !(kind === "tasks" && among.includes(place)));
  }

  /** What a row is about. @param {Evidence} row */
  const name = ({ kind, place }) => kind === "first" ? stands.role(place)?.name ?? "" : kind === "strokes" ? worded("role.strokes_name") : stands.title(place);

  /**
   * What comes next on the way to a role: of the roles before it first.
   * @param {string} role @param {Person} person @param {string} day @param {string[]} [above] @returns {{ page: string, title: string, role: string }}
   */
  function next(role, person, day, above = []) {
    const open = rows(role, person, day).find(({ done }) => !done);
    const own = stands.role(role)?.name ?? "";
    if (open?.kind === "first" && !above.includes(open.place)) return next(open.place, person, day, [...above, role]);
    if (!open) return { page: `${role}#role`, title: worded("role.next_sign"), role: own };
    return { page: open.kind === "strokes" ? `${role}#role` : open.place, title: name(open), role: own };
  }

  /**
   * Why somebody's sign-off for a role counts not, or no more; "" where it counts.
   * @param {string} role @param {Person} person @param {string} day @param {string[]} [above] @returns {string}
   */
  function standing(role, person, day, above = []) {
    const signed = last(person, role);
    const terms = stands.role(role);
    if (!signed) return worded("role.not_signed");
    // Roles that want each other first are nobody's.
    if (!terms || above.includes(role)) return worded("role.gone");
    const ended = signed.ended ?? person.incidents.find(({ when }) => when >= signed.when);
    if (ended) return worded("role.ended", { when: ended.when, why: ended.why });
    if (signed.when > day) return worded("role.ahead", { when: signed.when });
    if (signed.until < day) return worded("role.expired", { until: signed.until });
    const open = rows(role, person, day, above).find(({ done }) => !done);
    if (open) return open.kind === "first" ? worded("role.first_gone", { role: name(open) }) : worded("role.shown_again", { title: name(open) });
    const count = stands.changed(signed, places(terms)).length;
    return count === 0 ? "" : worded("role.changed", { count, revision: signed.revision });
  }

  /** Whether somebody of this name is signed off on this device for the role, or for one that builds on it. @param {string} name @param {string} role @param {string} day */
  function mayJudge(name, role, day) {
    const [, person] = people.named(name) ?? [];
    /** @param {string} other @param {string[]} above @returns {boolean} */
    const covers = (other, above = []) => other === role
      || !above.includes(other) && (stands.role(other)?.first ?? []).some((before) => covers(before, [...above, other]));
    return person !== undefined && Object.keys(person.signed).some((other) => covers(other) && standing(other, person, day) === "");
  }

  /** The roles that fall with this one: those that build on it, and after an incident all. @param {Person} person @param {string} role @param {boolean} all */
  function fallWith(person, role, all) {
    /** @param {string} other @param {string[]} above @returns {boolean} */
    const builds = (other, above = []) => !above.includes(other)
      && (stands.role(other)?.first ?? []).some((before) => before === role || builds(before, [...above, other]));
    return Object.keys(person.signed).filter((other) => other !== role && (all || builds(other)) && last(person, other)?.ended === undefined && last(person, other) !== undefined);
  }

  gaugeleaf.evidence = { MOST, rows, before, next, standing, last, places, mayJudge, fallWith };
})();
