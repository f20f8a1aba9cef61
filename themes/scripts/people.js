// Whose record this device keeps: tests, observed tasks, supervised strokes and sign-offs. Nothing here is ever sent.
"use strict";
(() => {
  const { store } = gaugeleaf;
  /** The edition in which records are kept. */
  const VERSION = 1;
  /** So many fails in a row, and somebody has to learn it another way first. */
  const FAILS = 2;

  /** @returns {Record<string, Person>} */
  function all() {
    /** @type {Record<string, Person>} */
    const people = {};
    for (const [id, found] of Object.entries(held())) {
      // A newer edition's record, and one that was damaged, stay as they are, and are nobody's here.
      const one = gaugeleaf.record(found);
      if (one) people[id] = one;
    }
    return people;
  }

  function held() {
    const found = store.get("people");
    return typeof found === "object" && found !== null ? /** @type {Record<string, unknown>} */ (found) : {};
  }

  function inHand() {
    const id = String(store.get("person") ?? "");
    return id in all() ? id : "";
  }

  /** As it is kept: others' records untouched, whatever edition kept them. @param {string} id @param {Person | undefined} person */
  function put(id, person) {
    const before = held();
    const { [id]: _, ...others } = before;
    const kept = store.set("people", person ? { ...before, [id]: person } : others);
    // What the device doesn't keep counts nowhere, on this page neither.
    if (!kept) store.set("people", before);
    return kept;
  }

  /** What can't be read at all is set aside before anything is written over it; true where something was. */
  function damaged() {
    const [key, apart] = [store.own("people"), store.own("people/damaged")];
    try {
      const raw = localStorage.getItem(key);
      let found = null;
      try { found = JSON.parse(raw ?? "{}"); } catch { /* damaged */ }
      if (raw !== null && (typeof found !== "object" || found === null)) {
        // Its own room is what the copy needs.
        localStorage.removeItem(key);
        try {
          localStorage.setItem(apart, `${localStorage.getItem(apart) ?? ""}${raw}\n`);
        } catch {
          localStorage.setItem(key, raw);
          return true;
        }
      }
      return localStorage.getItem(apart) !== null;
    } catch { return false; }
  }
  const isDamaged = damaged();
  const changed = () => dispatchEvent(new Event("personchange"));

  /** So long apart, two occasions are two days and no late evening. */
  const NIGHT = 10 * 60 * 60 * 1000;

  /** The occasions since the last fail. @param {Tried[] | undefined} tries */
  function run(tries) {
    const all = gaugeleaf.people.tries(tries);
    return all.slice(all.map(({ passed }) => passed).lastIndexOf(false) + 1);
  }

  // In which handbook a try is made is kept with it.
  void gaugeleaf.bring("scripts/grounds.js").catch(() => {});

  gaugeleaf.people = {
    all,
    inHand,
    unread() {
      const found = Object.values(held()).filter((one) => !gaugeleaf.record(one));
      const names = found.map((one) => String(/** @type {{ name?: unknown } | null} */ (one)?.name ?? "?"));
      return isDamaged ? [...names, "?"] : names;
    },
    nearTo: (name) => Object.values(all()).find((person) => gaugeleaf.names.near(person.name, name)),
    since: (when) => gaugeleaf.people.person()?.incidents.find((one) => one.when >= when),
    person: () => all()[inHand()],

    /** The device's own day; Swedes write days as sheets do. */
    today: () => new Date().toLocaleDateString("sv"),

    /** So many months later, or before. @param {string} day @param {number} months */
    later(day, months) {
      const then = new Date(`${day}T12:00:00`);
      const wanted = then.getDate();
      then.setMonth(then.getMonth() + months);
      // A month without that day ends sooner.
      if (then.getDate() !== wanted) then.setDate(0);
      return then.toLocaleDateString("sv");
    },

    /** Whose record is of this name. @param {string} name */
    named(name) {
      const own = Object.entries(all());
      // Two records may differ in the order of their words alone.
      return own.find(([, person]) => person.name === name.trim()) ?? own.find(([, person]) => gaugeleaf.names.same(person.name, name));
    },

    /** @param {string} id */
    choose(id) {
      const kept = store.set("person", id === "" ? null : id);
      changed();
      return kept;
    },

    /** Begins a record; one of that name is taken in hand instead. @param {string} name */
    add(name) {
      const known = gaugeleaf.people.named(name)?.[0];
      const id = known ?? Date.now().toString(36);
      const kept = known !== undefined || put(id, { version: VERSION, name: name.trim(), tests: {}, tasks: {}, strokes: {}, signed: {}, incidents: [] });
      return gaugeleaf.people.choose(id) && kept;
    },

    /**
     * Changes the record in hand as it stands now: another page may have written since.
     * @param {(person: Person) => void} act
     */
    change(act) {
      const id = inHand();
      const person = all()[id];
      if (!person) return false;
      act(person);
      const kept = put(id, person);
      changed();
      return kept;
    },

    /** @param {string} id */
    remove(id) {
      put(id, undefined);
      if (store.get("person") === id) store.set("person", null);
      changed();
    },

    /** What counts of what is kept: nothing taken back; of a day that isn't here yet the fails alone. @template {Kept} T @param {T[] | undefined} kept @returns {T[]} */
    standing: (kept) => (kept ?? []).filter(({ when, taken, passed, remedy }) =>
      !taken && (when <= gaugeleaf.people.today() || passed === false && remedy === undefined)),

    /** The tries by themselves. @param {Tried[] | undefined} kept */
    tries: (kept) => gaugeleaf.people.standing(kept).filter((one) => one.remedy === undefined),

    /** Whether the last tries all failed, and nobody has gone through it with the candidate since. @param {Tried[] | undefined} tries */
    stuck(tries) {
      const last = gaugeleaf.people.standing(tries).slice(-FAILS);
      return last.length === FAILS && last.every((one) => one.remedy === undefined && !one.passed);
    },

    /** The last try, where it was a pass. @param {Tried[] | undefined} tries */
    passed(tries) {
      const [last] = gaugeleaf.people.tries(tries).slice(-1);
      return last?.passed ? last : undefined;
    },

    /** From when another occasion is a second day to one of these; undefined where there is none since the last fail. @param {Tried[] | undefined} tries */
    again(tries) {
      const [first] = run(tries);
      if (!first) return undefined;
      const day = new Date(`${first.when}T00:00:00`);
      day.setDate(day.getDate() + 1);
      return new Date(Math.max(day.getTime(), (first.at ?? 0) + NIGHT));
    },

    /** The last occasion and one of an earlier day, with no fail since. @param {Tried[] | undefined} tries @returns {[Tried, Tried] | undefined} */
    shown(tries) {
      const all = run(tries);
      const second = all[all.length - 1];
      const isBefore = (/** @type {Tried} */ one) => second !== undefined && one.when < second.when
        && !(one.at !== undefined && second.at !== undefined && second.at - one.at < NIGHT);
      const [first] = all.filter(isBefore).slice(-1);
      return first && second ? [first, second] : undefined;
    },

    /** Takes the last thing of today back: it stays on record, so that no file brings it back. @param {Kept[] | undefined} kept */
    takeBack(kept) {
      const one = gaugeleaf.people.last(kept);
      if (one?.when === gaugeleaf.people.today()) one.taken = true;
    },

    /** @template {Kept} T @param {T[] | undefined} kept @returns {T | undefined} */
    last: (kept) => gaugeleaf.people.standing(kept).slice(-1)[0],

    /** The last day of which a record knows, which no wrong clock undoes. @param {Person} person */
    lastDay(person) {
      /** @type {{ when: string }[]} */
      const all = [person.tests, person.tasks, person.strokes, person.signed, [person.incidents]].flatMap((by) => Object.values(by).flat());
      return [gaugeleaf.people.today(), ...all.map(({ when }) => when)].sort().slice(-1)[0] ?? "";
    },

    /** What every try keeps: its moment, and in which handbook it was made. @param {string} page */
    now: (page) => ({
      when: gaugeleaf.people.today(), at: Date.now(),
      revision: document.querySelector(".job-bar")?.getAttribute("data-revision") ?? "",
      mark: globalThis.gaugeleafGrounds?.shown[page]?.mark ?? "",
    }),

    /** Hands a file to whoever carries it. @param {string} name @param {string} type @param {string} text */
    file(name, type, text) {
      const link = gaugeleaf.element("a", "");
      link.href = URL.createObjectURL(new Blob([text], { type }));
      link.download = name;
      link.click();
      URL.revokeObjectURL(link.href);
    },

    /** What stands on a page is of now: of this record, this device and this day, on paper too. @param {() => void} show */
    follow(show) {
      for (const event of ["personchange", "storage", "pageshow", "focus", "beforeprint"]) addEventListener(event, show);
      document.addEventListener("visibilitychange", show);
    },

    /** A page's address as records name it. @param {HTMLAnchorElement} link */
    place(link) {
      const root = new URL(document.documentElement.dataset.root || ".", location.href).href;
      return link.href.slice(root.length).split(/[?#]/)[0] ?? "";
    },
  };
})();
