// On every page: fetches what the job in hand needs, and takes a job that arrives in the address.
"use strict";
(() => {
  const page = document.documentElement;
  const { store, bring } = gaugeleaf;

  /** @param {string[]} names */
  async function load(names) {
    for (const name of names) await bring(`scripts/${name}.js`);
  }

  // A job that was in hand and is gone, or that a newer handbook made: the handbook's own values come back, and it is told.
  if (page.classList.contains("of-job") && !store.kept()) page.classList.remove("of-job");
  if (history.state?.gone) page.classList.add("with-job");

  if (page.classList.contains("with-job")) {
    bring("styles/job.css").then(() => load(["job-bar", ...(page.classList.contains("of-job") ? ["job-values"] : [])])).catch(() => {
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

  // A term says what it means where it stands; the glossary has the rest.
  document.addEventListener("click", (event) => {
    const term = /** @type {HTMLAnchorElement | null} */ (/** @type {HTMLElement} */ (event.target).closest?.("a.term"));
    if (!term || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    Promise.all([load(["meanings", "terms"]), bring("styles/terms.css")]).then(() => gaugeleaf.meaning(term)).catch(() => { location.href = term.href; });
  });

  // A sheet of paper outlives the page as it is now.
  addEventListener("beforeprint", () => {
    const day = new Intl.DateTimeFormat([], { dateStyle: "medium", timeStyle: "short" }).format();
    const foot = document.querySelector(".uncontrolled");
    if (foot) foot.textContent = worded("page.printed", { day });
  });

  // Where the crew is: the front page leads back to it.
  const tab = document.querySelector(".kind-page .tab b");
  if (tab) store.set(store.ofJob("at"), { page: page.dataset.page, phase: tab.textContent, title: document.querySelector("h1")?.textContent });
  if (document.querySelector(".first-on")) load(["front"]).catch(() => {});

  // Another window changed the job, while this page was open, asleep or left: it begins again. The form reads the store each time.
  const [id, name] = [store.get("job"), store.kept()?.name];
  const stands = () => JSON.stringify([store.get("job"), store.kept()]);
  let stood = stands();
  addEventListener("jobchange", () => { stood = stands(); });
  function anew() {
    if (document.querySelector("[data-job-form]") || stands() === stood) return;
    // A run stays open over its own job, says so, and begins the page again when it is left.
    if (!dispatchEvent(new Event("jobanew", { cancelable: true }))) return;
    stood = stands();
    if (name !== undefined && !store.one(String(id))) history.replaceState({ ...history.state, gone: name }, "");
    if (!store.unkept()) return location.reload();
    // What lasts for this page alone would go with it; the values that stood here go at once.
    page.classList.remove("job-ready");
    page.classList.add("of-job", "with-job", "is-stale");
    void load(["job-bar"]).then(() => gaugeleaf.stale());
  }
  for (const event of ["storage", "pageshow"]) addEventListener(event, anew);
  document.addEventListener("visibilitychange", anew);
})();
