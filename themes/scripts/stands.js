// What tests, tasks and roles stand on, and what a later revision of the handbook has changed of it.
"use strict";
(() => {
  /** The pages of the work that these tests and tasks are about. @param {string[]} places */
  const beneath = (places) => [...new Set(places.flatMap((place) => gaugeleafGrounds.shown[place]?.pages ?? []))];

  gaugeleaf.stands = {
    /** Brought when it is first asked for; nothing else here answers before. */
    ready: () => gaugeleaf.bring("scripts/grounds.js"),
    role: (page) => gaugeleafGrounds.roles[page],
    among: (task) => Object.keys(gaugeleafGrounds.roles).filter((role) => gaugeleafGrounds.roles[role]?.among.includes(task)),
    title: (place) => gaugeleafGrounds.shown[place]?.title ?? "",
    isOf: (place, { mark }) => mark !== undefined && mark !== "" && mark === gaugeleafGrounds.shown[place]?.mark,

    of(places) {
      /** @type {SignedGround} */
      const ground = {};
      for (const page of beneath(places)) {
        const own = gaugeleafGrounds.pages[page];
        if (!own) continue;
        const values = Object.entries(own.values).map(([name, [, text]]) => [name, text]);
        ground[page] = { hazards: Object.keys(own.hazards), values: Object.fromEntries(values) };
      }
      return ground;
    },

    changed(signed, places) {
      const beneathThem = beneath(places);
      /** @type {GroundChange[]} */
      const changes = places
        .filter((place) => !signed.places.includes(place))
        .map((place) => ({ page: place, at: "", text: worded("stands.asked_now", { title: gaugeleaf.stands.title(place) }) }));
      for (const page of new Set([...Object.keys(signed.ground), ...beneathThem])) {
        const [then, now] = [signed.ground[page], gaugeleafGrounds.pages[page]];
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
