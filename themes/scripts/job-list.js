// The form of a job as a short list, a line a value, and what is known of each value: who, when, a note, a doubt.
"use strict";
(() => {
  const { jobs, jobHead, jobForm, element, all } = gaugeleaf;
  const KEY = "gaugeleaf.job-view";
  const form = /** @type {HTMLElement} */ (document.querySelector("[data-job-form]"));
  const measures = all(form, ".measure");

  /** @param {HTMLElement} measure */
  const nameOf = (measure) => /** @type {HTMLElement} */ (measure.querySelector("[data-input]")).dataset.input ?? "";

  /** @returns {string | null} */
  function stored() {
    try { return localStorage.getItem(KEY); } catch { return null; }
  }

  /** @param {boolean} isShort */
  function view(isShort) {
    form.classList.toggle("is-short", isShort);
    for (const [name, on] of /** @type {const} */ ([["view-short", isShort], ["view-pictures", !isShort]])) {
      form.querySelector(`.${name}`)?.setAttribute("aria-pressed", String(on));
    }
    // What is folded in a short list is a tap away.
    for (const part of form.querySelectorAll("details.job-more, details.measure-checks")) part.toggleAttribute("open", !isShort);
  }

  for (const [name, isShort] of /** @type {const} */ ([["view-short", true], ["view-pictures", false]])) {
    form.querySelector(`.${name}`)?.addEventListener("click", () => {
      view(isShort);
      try { localStorage.setItem(KEY, name); } catch { /* it lasts for this page */ }
    });
  }
  // Paper has every blank.
  const folds = all(form, ".measure-checks");
  addEventListener("beforeprint", () => folds.forEach((fold) => fold.setAttribute("open", "")));
  addEventListener("afterprint", () => folds.forEach((fold) => fold.toggleAttribute("open", !form.classList.contains("is-short"))));

  view((stored() ?? (matchMedia("(pointer: coarse) and (max-width: 42rem)").matches ? "view-short" : "")) === "view-short");

  /** A choice in a list is its answer, and opens on a tap. @type {Map<HTMLElement, HTMLButtonElement>} */
  const doors = new Map();
  for (const measure of measures) {
    const legend = measure.querySelector("fieldset > legend");
    if (!legend) continue;
    const door = element("button", "measure-door", element("span", "visually-hidden", `${legend.textContent}: `), element("span", "", ""));
    door.type = "button";
    legend.after(door);
    doors.set(measure, door);
  }

  /** What is known of a value, beside its field. @type {Map<HTMLElement, (job: KeptJob | undefined) => void>} */
  const abouts = new Map();

  /** What a job holds of it is changed as that job is now. @param {string} id @param {string} name @param {(job: KeptJob) => KeptJob} act */
  function change(id, name, act) {
    const job = gaugeleaf.store.opened(gaugeleaf.store.one(id));
    if (!job || !(name in job.given)) return;
    jobHead.told(jobs.change(id, act));
    jobForm.follow();
  }

  /** @param {string} id @param {string} name @param {Partial<KeptValue>} parts */
  function say(id, name, parts) {
    change(id, name, (job) => ({ ...job, given: { ...job.given, [name]: { ...job.given[name], ...parts } } }));
  }

  /**
   * Nothing stands on a value in doubt, as on one over which another was refused; an entry that was refused
   * already stays beneath the doubt, and comes back without it.
   * @param {string} id @param {string} name @param {string} label @param {boolean} on
   */
  function doubt(id, name, label, on) {
    const text = worded("job_form.in_doubt");
    change(id, name, (job) => {
      const { [name]: stood, ...refused } = job.refused;
      if (on) return { ...job, refused: { ...refused, [name]: { ...(stood ?? { text, unit: "", label }), doubt: true } } };
      if (!stood || stood.text === text) return { ...job, refused };
      const { doubt: _, ...entry } = stood;
      return { ...job, refused: { ...refused, [name]: entry } };
    });
  }

  /**
   * @param {string} words
   * @param {string} type
   * @param {string} className
   * @param {(entry: HTMLInputElement, id: string) => void} act
   */
  function line(words, type, className, act) {
    const entry = element("input", className, "");
    entry.type = type;
    entry.autocomplete = "off";
    // It is of the job that stood there as the hand came, whichever another window takes in hand meanwhile.
    let id = "";
    entry.addEventListener("focus", () => { id = jobForm.shown().id; });
    entry.addEventListener("change", () => act(entry, type === "checkbox" ? jobForm.shown().id : id));
    entry.addEventListener("blur", () => update());
    const label = element("label", `of-${type}`, ...(type === "checkbox" ? [entry, words] : [words, entry]));
    return { label, entry };
  }

  /** @param {HTMLElement} measure */
  function about(measure) {
    const name = nameOf(measure);
    const label = /** @type {HTMLElement | null} */ (measure.querySelector(".measure-field"))?.dataset.label ?? name;
    const by = line(worded("job_form.value_by"), "text", "value-by", ({ value }, id) => say(id, name, { by: value.trim() }));
    const when = line(worded("job_form.value_when"), "date", "value-when", (entry, id) => {
      // Nothing was measured on a day that is still to come.
      entry.max = jobs.today();
      if (entry.reportValidity() && entry.value !== "") say(id, name, { when: entry.value });
    });
    const note = line(worded("job_form.value_note"), "text", "value-note", ({ value }, id) => say(id, name, { note: value.trim() }));
    const unsure = line(worded("job_form.doubt"), "checkbox", "value-doubt", ({ checked }, id) => doubt(id, name, label, checked));
    const parts = [unsure, note, by, when];
    const made = element("details", "measure-about", element("summary", "", worded("job_form.about")), ...parts.map((one) => one.label));
    measure.querySelector(".measure-field")?.append(made);
    abouts.set(measure, (job) => {
      const held = job?.given[name];
      made.hidden = held === undefined;
      for (const [{ entry }, text] of /** @type {const} */ ([[by, held?.by], [when, held?.when], [note, held?.note]])) {
        if (document.activeElement !== entry) entry.value = text ?? "";
      }
      unsure.entry.checked = job?.refused[name]?.doubt === true;
    });
  }

  /** The measurement in hand stands open, and no other. @param {HTMLElement} measure */
  function open(measure) {
    if (measure.classList.contains("is-open")) return;
    const before = measure.getBoundingClientRect().top;
    for (const one of measures) {
      one.classList.toggle("is-open", one === measure);
      doors.get(one)?.setAttribute("aria-expanded", String(one === measure));
    }
    if (!abouts.has(measure)) about(measure);
    update();
    // What folded up above it must not take it away from under the finger.
    scrollBy(0, measure.getBoundingClientRect().top - before);
  }

  /** Each line as the job stands. */
  function update() {
    const { job } = jobForm.shown();
    for (const measure of measures) {
      const label = /** @type {HTMLElement | null} */ (measure.querySelector("label, legend"));
      const chosen = measure.querySelector("input:checked + span")?.textContent;
      const answer = doors.get(measure)?.lastElementChild;
      if (answer) answer.textContent = chosen ?? worded("job_form.choose");
      const refused = job?.refused[nameOf(measure)];
      const from = refused ? gaugeleaf.store.typed(refused) : measure.querySelector(".measure-from")?.textContent ?? "";
      if (label && (label.dataset.from ?? "") !== from) label.dataset.from = from;
      measure.classList.toggle("is-doubted", refused !== undefined);
      abouts.get(measure)?.(job);
    }
  }

  let pressed = false;
  addEventListener("pointerdown", () => { pressed = true; }, { capture: true });
  for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => { pressed = false; }, { capture: true });

  /** The line that has the focus opens; a door gives way to what it leads to. */
  function settle() {
    const here = document.activeElement;
    const measure = /** @type {HTMLElement | null} */ (here?.closest(".measure") ?? null);
    if (!here || !measure || !form.contains(measure)) return;
    open(measure);
    if (!here.matches(".measure-door") || !form.classList.contains("is-short")) return;
    /** @type {HTMLElement | null} */ (measure.querySelector("input:checked") ?? measure.querySelector("input"))?.focus();
  }
  // Never while a finger is down: what it is about to press must not move away under it.
  form.addEventListener("focusin", () => {
    if (pressed) addEventListener("pointerup", () => setTimeout(settle), { once: true });
    else setTimeout(settle);
  });
  for (const measure of doors.keys()) measure.addEventListener("change", update);
  gaugeleaf.jobList = { update };
  update();
})();
