// The jobs that this phone keeps: each a name, a note and values as typed.
"use strict";
(() => {
  const { store } = gaugeleaf;

  /** @returns {Record<string, KeptJob>} */
  function all() {
    const kept = store.get("jobs");
    return typeof kept === "object" && kept !== null ? /** @type {Record<string, KeptJob>} */ (kept) : {};
  }

  /**
   * Keeps a job under its id; false where it lasts for this page alone.
   * @param {string} id
   * @param {KeptJob} job
   */
  const keep = (id, job) => store.set("jobs", { ...all(), [id]: job });

  gaugeleaf.jobs = {
    all,
    keep,

    /** The id of the job in hand; "" for the handbook's own values. */
    inHand() {
      const id = String(store.get("job") ?? "");
      return id in all() ? id : "";
    },

    /** @param {string} id */
    choose: (id) => store.set("job", id === "" ? null : id),

    /** Keeps a new job and takes it in hand. */
    add(name, given, note = "", refused = {}) {
      const id = Date.now().toString(36);
      const kept = keep(id, { name, note, given, refused, made: new Date().toISOString() });
      return store.set("job", id) && kept;
    },

    /** Forgets a job and every mark that was made on it. */
    remove(id) {
      const { [id]: gone, ...rest } = all();
      store.set("jobs", rest);
      if (store.get("job") === id) store.set("job", null);
      return gone;
    },

    /** Takes a job in hand that a page of the handbook prepares; what was measured on it before stays. */
    prepare({ name, title, given }) {
      const id = `p-${name}`;
      if (id in all()) return store.set("job", id);
      const kept = keep(id, { name, note: title, given, made: new Date().toISOString() });
      return store.set("job", id) && kept;
    },
  };
})();
