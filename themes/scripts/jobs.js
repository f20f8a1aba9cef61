// The jobs that this phone keeps: each a name, a note, a kit, and values as typed with the day of each.
"use strict";
(() => {
  const { store } = gaugeleaf;

  /** As they are kept, of whatever edition. @returns {Record<string, unknown>} */
  function held() {
    const kept = store.get("jobs");
    return typeof kept === "object" && kept !== null ? /** @type {Record<string, unknown>} */ (kept) : {};
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
   * Keeps a job under its id; false where it lasts for this page alone.
   * @param {string} id
   * @param {unknown} job
   */
  function keep(id, job) {
    const before = held();
    const kept = store.set("jobs", { ...before, [id]: job });
    if (Object.keys(before).length === 0) void navigator.storage?.persist?.().catch(() => false);
    return kept;
  }

  gaugeleaf.jobs = {
    all,
    keep,
    lasting,

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
      return id in all() ? id : "";
    },

    /** @param {string} id */
    choose: (id) => store.set("job", id === "" ? null : id),

    /** Keeps a new job and takes it in hand. */
    add(parts) {
      const id = Date.now().toString(36);
      const kit = globalThis.gaugeleafKits?.[0]?.name ?? "";
      const kept = keep(id, { version: 2, name: worded("job.mine"), note: "", kit, given: {}, refused: {}, made: new Date().toISOString(), ...parts });
      return store.set("job", id) && kept;
    },

    /** Keeps what a newer handbook made, as it came. */
    addNewer: (job) => keep(Date.now().toString(36), job),

    /** Forgets a job; the marks that were made on it stay until it is brought back. */
    remove(id) {
      const { [id]: gone, ...rest } = held();
      store.set("jobs", rest);
      if (store.get("job") === id) store.set("job", null);
      return store.opened(gone);
    },

    /** Lets the value stand that the job held before another was refused. */
    settle(id, name) {
      const job = all()[id];
      if (!job) return false;
      const { [name]: _, ...refused } = job.refused;
      return keep(id, { ...job, refused });
    },

    /** Takes a job in hand that a page of the handbook prepares; what was measured on it before stays. */
    prepare({ name, title, kit, given }) {
      const id = `p-${name}`;
      if (id in held()) return store.set("job", id);
      const taken = Object.entries(given).map(([input, text]) => [input, { text, when: worded("job.on", { job: name }) }]);
      const kept = keep(id, { version: 2, name, note: title, kit, given: Object.fromEntries(taken), refused: {}, made: new Date().toISOString() });
      return store.set("job", id) && kept;
    },
  };
})();
