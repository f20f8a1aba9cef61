// On every page: fetches what the job in hand needs, and takes a job that arrives in the address.
"use strict";
(() => {
  const page = document.documentElement;
  const { store, bring } = gaugeleaf;

  /** @param {string[]} names */
  async function load(names) {
    for (const name of names) await bring(`scripts/${name}.js`);
  }

  // A job that was in hand and is gone, or that a newer handbook made: the handbook's own values come back.
  if (page.classList.contains("of-job") && !store.kept()) {
    page.classList.remove("of-job");
    page.classList.toggle("with-job", store.newer() !== undefined);
  }

  if (page.classList.contains("with-job")) {
    load(["job-bar", ...(page.classList.contains("of-job") ? ["job-values"] : [])]).catch(() => {
      const bar = document.querySelector(".job-bar");
      if (bar) bar.textContent = worded("job.cannot_show");
    });
  }

  async function arrive() {
    const at = location.hash.indexOf("#job=");
    if (at < 0) return;
    const text = location.hash.slice(at + 1);
    history.replaceState(history.state, "", location.pathname + location.search);
    await load(["jobs", "take-over"]);
    await gaugeleaf.takeOver(text);
  }
  addEventListener("hashchange", () => void arrive());
  void arrive();

  // What is ticked is told at a page's head, and on the lists of pages.
  const progress = () => { if (store.begun()) load(["sheets", "progress"]).catch(() => {}); };
  for (const event of ["pageshow", "storage", "jobchange", "tickschange"]) addEventListener(event, progress);

  // Another window changed the job: this page begins again with it. The form reads the store each time.
  addEventListener("storage", (event) => {
    const ours = event.key === store.own("job") || (event.key === store.own("jobs") && page.classList.contains("of-job"));
    if (ours && !document.querySelector("[data-job-form]")) location.reload();
  });
})();
