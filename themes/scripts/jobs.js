// The jobs that this phone keeps: each a name, a note, a kit, and values as typed with the day of each.
"use strict";
(() => {
  const { store } = gaugeleaf;
  /** Each job is kept by itself: a value of one writes nothing of the others. @param {string} id */
  const key = (id) => `job/${id}`;

  /** What stands where editions before kept a job that is kept by itself now: to them it is a newer handbook's. */
  const MOVED = 99;
  /** What editions before kept, all in one. @returns {Record<string, unknown>} */
  const older = () => Object.fromEntries(Object.entries(store.get("jobs") ?? {}).filter(([, job]) => job?.version !== MOVED));

  /** As they are kept, of whatever edition. @returns {Record<string, unknown>} */
  function held() {
    const jobs = { ...older() };
    for (const one of store.keys(key(""))) {
      const kept = store.get(one);
      if (kept !== null) jobs[one.slice(key("").length)] = kept;
    }
    return jobs;
  }

  /** @returns {Record<string, KeptJob>} */
  function all() {
    /** @type {Record<string, KeptJob>} */
    const jobs = {};
    for (const [id, found] of Object.entries(held())) {
      const job = store.opened(found);
      if (job) jobs[id] = job;
    }
    return jobs;
  }

  /** What a browser tab keeps may be thrown away after some days; a browser may be asked not to. */
  async function lasting() {
    if (location.protocol === "file:") return "folder";
    const { storage } = navigator;
    return storage?.persisted && (await storage.persisted().catch(() => false)) ? "lasting" : "passing";
  }

  /**
   * Forgets what an edition before kept of a job. A page of that edition may still be open or come back: it
   * has to find that the job is beyond it, or it shows the handbook's own values in its place.
   * @param {string} id
   * @param {NewerJob} [moved]
   */
  function forget(id, moved) {
    if (!Object.keys(store.get("jobs") ?? {}).includes(id)) return;
    store.change("jobs", (kept) => {
      const { [id]: _, ...rest } = /** @type {Record<string, unknown>} */ (kept ?? {});
      if (moved) rest[id] = moved;
      return Object.keys(rest).length > 0 ? rest : null;
    });
  }

  /**
   * @param {string} id
   * @param {(kept: unknown) => unknown} act
   */
  function put(id, act) {
    const isFirst = store.keys(key("")).length === 0 && Object.keys(older()).length === 0;
    const old = older()[id];
    const kept = store.change(key(id), (kept) => act(kept ?? old ?? null));
    if (kept && old) forget(id, { version: MOVED, name: /** @type {NewerJob} */ (old).name });
    if (isFirst) void navigator.storage?.persist?.().catch(() => false);
    return kept;
  }

  /** Keeps a job under its id; false where it lasts for this page alone. @param {string} id @param {unknown} job */
  const keep = (id, job) => put(id, () => job);

  /** Whether there is room for this. @param {string} place @param {unknown} value */
  function fits(place, value) {
    try {
      localStorage.setItem(store.own(place), JSON.stringify(value));
      return true;
    } catch {
      return false;
    }
  }

  /** A new job's id: that of no other, nor of one whose marks are still here, whatever the clock says. */
  function fresh() {
    const id = () => Date.now().toString(36) + Math.random().toString(36).slice(2, 8);
    let made = id();
    while (store.keys(`${made}/`).length > 0 || store.one(made)) made = id();
    return made;
  }

  /** Two jobs of one name would be taken for each other. @param {string} name @param {string} [id] */
  function named(name, id) {
    const taken = new Set(Object.entries(held()).filter(([other]) => other !== id).map(([, job]) => /** @type {NewerJob} */ (job)?.name));
    let own = name;
    for (let nth = 2; taken.has(own); nth += 1) own = `${name} (${nth})`;
    return own;
  }

  gaugeleaf.jobs = {
    all,
    keep,
    lasting,
    named,

    /** Changes a job as it is now; one that is gone stays so. @param {string} id @param {(job: KeptJob) => KeptJob} act */
    change: (id, act) => put(id, (kept) => {
      const job = store.opened(kept);
      return job ? act(job) : kept;
    }),

    /** Says in the job that a later entry of a value was not kept, or that of its kit. @param {string} id @param {string} name */
    doubt(id, name) {
      for (const place of [key(id), "jobs"]) {
        try {
          const held = JSON.parse(localStorage.getItem(store.own(place)) ?? "null");
          const job = place === "jobs" ? held[id] : held;
          const { [name]: one = store.LATER } = job.given;
          if (name === "kit") job.kit = store.LATER;
          else job.given[name] = one === store.LATER ? one : { text: one.text ?? one, when: store.LATER };
          // The day of what had none needs room: that of its making goes, the value itself, and the note at last.
          const rooms = [
            () => { delete job.made; },
            () => { if (name !== "kit") job.given[name] = store.LATER; },
            () => { delete job.note; },
          ];
          for (let nth = 0; !fits(place, held) && nth < rooms.length; nth += 1) rooms[nth]();
        } catch { /* nothing older is kept here */ }
      }
    },

    /** The device's own day; Swedes write days as the engine reads them. */
    today: () => new Date().toLocaleDateString("sv"),

    /** What newer handbooks made: it stays as it is. */
    newer() {
      const found = Object.entries(held()).filter(([, job]) => typeof job === "object" && job !== null && !store.opened(job));
      return /** @type {Record<string, NewerJob>} */ (Object.fromEntries(found));
    },

    /** The id of the job in hand; "" for the handbook's own values. */
    inHand() {
      const id = String(store.get("job") ?? "");
      return store.opened(store.one(id)) ? id : "";
    },

    /** @param {string} id */
    choose: (id) => store.set("job", id === "" ? null : id),

    /** Keeps a new job and takes it in hand. */
    add(parts) {
      const id = fresh();
      const kit = globalThis.gaugeleafKits?.[0]?.name ?? "";
      const kept = keep(id, {
        version: 2, note: "", kit, given: {}, refused: {}, made: new Date().toISOString(), ...parts, name: named(parts.name || worded("job.mine")),
      });
      return store.set("job", id) && kept;
    },

    /** Keeps what a newer handbook made, as it came. */
    addNewer: (job) => keep(fresh(), job),

    /** Forgets a job; the marks that were made on it stay until it is brought back. */
    remove(id) {
      const gone = store.one(id);
      store.set(key(id), null);
      forget(id);
      if (store.get("job") === id) store.set("job", null);
      return store.opened(gone);
    },

    /** Lets the value stand that the job held before another was refused. */
    settle: (id, name) => gaugeleaf.jobs.change(id, (job) => {
      const { [name]: _, ...refused } = job.refused;
      const one = job.given[name];
      const given = one?.when === store.LATER ? { ...job.given, [name]: { ...one, when: worded("job.no_date") } } : job.given;
      return { ...job, given, refused };
    }),

    /** Takes a job in hand that a page of the handbook prepares; what was measured on it before stays. */
    prepare({ name, title, kit, given }) {
      const id = `p-${name}`;
      if (store.one(id)) return store.set("job", id);
      const taken = Object.entries(given).map(([input, text]) => [input, { text, when: worded("job.on", { job: name }) }]);
      const kept = keep(id, { version: 2, name, note: title, kit, given: Object.fromEntries(taken), refused: {}, made: new Date().toISOString() });
      return store.set("job", id) && kept;
    },
  };
})();
