// What a sign-off stands on, and what a later revision of the handbook has changed of it.
"use strict";
(() => {
  /** Brought when it is first asked for. */
  async function grounds() {
    if (globalThis.gaugeleafGrounds === undefined) await gaugeleaf.bring("scripts/grounds.js");
    return gaugeleafGrounds;
  }

  /** The pages of the work that these tests and tasks are about. @param {string[]} pages */
  async function beneath(pages) {
    const { of } = await grounds();
    return [...new Set(pages.flatMap((page) => of[page] ?? []))];
  }

  gaugeleaf.stands = {
    async of(pages) {
      const beneathThem = await beneath(pages);
      const { pages: known } = await grounds();
      /** @type {SignedGround} */
      const ground = {};
      for (const page of beneathThem) {
        const own = known[page];
        if (!own) continue;
        const values = Object.entries(own.values).map(([name, [, text]]) => [name, text]);
        ground[page] = { hazards: Object.keys(own.hazards), values: Object.fromEntries(values) };
      }
      return ground;
    },

    async changed(signed, pages) {
      const beneathThem = await beneath(pages);
      const { pages: known } = await grounds();
      /** @type {GroundChange[]} */
      const changes = [];
      for (const page of new Set([...Object.keys(signed.ground), ...beneathThem])) {
        const [then, now] = [signed.ground[page], known[page]];
        if (!now || !beneathThem.includes(page)) {
          changes.push({ page, at: "", text: worded("stands.page_gone") });
          continue;
        }
        if (!then) {
          changes.push({ page, at: "", text: worded("stands.page_new", { title: now.title }) });
          continue;
        }
        for (const [key, [at, text]] of Object.entries(now.hazards)) {
          if (!then.hazards.includes(key)) changes.push({ page, at, text: worded("stands.hazard", { title: now.title, hazard: text }) });
        }
        const dropped = then.hazards.filter((key) => !(key in now.hazards)).length;
        if (dropped > 0) changes.push({ page, at: "", text: worded("stands.dropped", { title: now.title, count: dropped }) });
        for (const [name, [label, text]] of Object.entries(now.values)) {
          const was = then.values[name] ?? worded("stands.none");
          if (was !== text) changes.push({ page, at: "", text: worded("stands.value", { title: now.title, label, was, text }) });
        }
      }
      return changes;
    },
  };
})();
