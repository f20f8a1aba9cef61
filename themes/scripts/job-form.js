// The form of the job in hand: what is typed and understood is kept at once.
"use strict";
(() => {
  /** A hand that rests this long has finished a value. */
  const REST = 450;
  const { jobs } = gaugeleaf;
  const { of, chosen, choose, put, entries } = gaugeleaf.fields;
  const form = /** @type {HTMLElement} */ (document.querySelector("[data-job-form]"));
  /** @param {string} name */
  const part = (name) => /** @type {HTMLElement} */ (form.querySelector(`.${name}`));
  const pick = /** @type {HTMLSelectElement} */ (part("job-pick"));
  const nameEntry = /** @type {HTMLInputElement} */ (part("job-name-text"));
  const note = /** @type {HTMLInputElement} */ (part("job-note"));
  const said = part("job-said");
  const fields = [...form.querySelectorAll(".field")].map((one) => of(/** @type {HTMLElement} */ (one)));
  /** @type {{ id: string, job: KeptJob } | null} */
  let gone = null;

  /** @param {boolean} kept */
  function told(kept) {
    said.textContent = kept ? "" : "This phone keeps nothing: the job lasts for this page. Carry it as a link before you leave.";
  }

  /** The options: the handbook's own, what this phone keeps, what the handbook prepares. */
  function options() {
    const kept = Object.entries(jobs.all()).map(([id, job]) => new Option(job.name || "(no name)", id));
    const prepared = (globalThis.gaugeleafPrepared ?? [])
      .filter((one) => !(`p-${one.name}` in jobs.all()))
      .map((one) => new Option(`${one.name}: ${one.title}`, `prepared ${one.name}`));
    pick.replaceChildren(pick.options[0], ...kept, ...prepared);
    pick.value = jobs.inHand();
  }

  /**
   * The entry's own line and the paper's, from what the engine read.
   * @param {Field} field
   * @param {Answer} answer
   * @param {string | null} quiet
   */
  function show(field, answer, quiet) {
    gaugeleaf.show.answer(form, [field], answer, quiet);
    const reading = answer.inputs[field.name];
    const paper = field.part.parentElement?.querySelector(".paper-value");
    if (paper) paper.textContent = reading?.text ?? "";
    field.part.parentElement?.classList.toggle("is-measured", reading !== undefined);
  }

  /** What there is to say of a field with nothing in it. @type {Answer} */
  const nothing = { calculator: "", inputs: {}, outputs: {}, verdicts: [], working: [], problems: [] };

  /** Puts the job in hand on the form. */
  async function fill() {
    const job = jobs.all()[jobs.inHand()];
    part("job-own-part").hidden = !job;
    for (const name of ["job-copy", "job-share", "job-delete"]) part(name).hidden = !job;
    part("job-share-part").hidden = true;
    nameEntry.value = job?.name ?? "";
    note.value = job?.note ?? "";
    part("paper-job").textContent = job?.name ?? "";
    const given = job?.given ?? {};
    for (const field of fields) {
      const text = given[field.name] ?? "";
      if (field.kind === "choice") choose(field, text);
      else {
        put(field, text, field.given.unit);
      }
    }
    const engine = await gaugeleaf.engine();
    engine({ do: "job", given: gaugeleaf.given() });
    options();
    for (const field of fields) {
      let answer = given[field.name] === undefined ? nothing : engine({ do: "measure", inputs: entries([field]) });
      if (field.kind === "number" && answer.problems[0]?.doubtful) {
        // It was confirmed when it was kept.
        field.confirmed = true;
        answer = engine({ do: "measure", inputs: entries([field]) });
      }
      show(field, answer, null);
    }
    count();
  }

  function count() {
    const given = jobs.all()[jobs.inHand()]?.given ?? {};
    const measured = fields.filter((field) => field.name in given).length;
    part("job-count").textContent = `${measured} of ${fields.length} measured. ${measured < fields.length ? `For the others the values of ${form.dataset.own} stand in.` : ""}`;
  }

  /**
   * Keeps what the engine understood; an entry that is emptied or refused is not kept.
   * @param {Field} field
   * @param {string | undefined} text
   */
  function keep(field, text) {
    const id = jobs.inHand();
    const job = jobs.all()[id];
    if (!job && text === undefined) return;
    const { [field.name]: _, ...given } = job?.given ?? {};
    if (text !== undefined) given[field.name] = text;
    if (job) told(jobs.keep(id, { ...job, given }));
    else {
      told(jobs.add("My job", given));
      options();
      part("job-own-part").hidden = false;
      for (const name of ["job-copy", "job-share", "job-delete"]) part(name).hidden = false;
      nameEntry.value = "My job";
    }
    part("job-share-part").hidden = true;
    count();
  }

  /**
   * @param {Field} field
   * @param {string | null} quiet
   */
  async function read(field, quiet) {
    const engine = await gaugeleaf.engine();
    const empty = field.kind === "number" ? field.typed.text.trim() === "" : chosen(field) === "";
    const answer = empty ? nothing : engine({ do: "measure", inputs: entries([field]) });
    show(field, answer, quiet);
    if (quiet === null) keep(field, answer.inputs[field.name]?.keep);
  }

  for (const field of fields) {
    if (field.kind === "choice") {
      field.part.addEventListener("change", () => read(field, null));
      continue;
    }
    let rest = 0;
    const typed = () => {
      field.typed = { text: field.entry.value, unit: field.unit?.value ?? "" };
      field.confirmed = false;
      clearTimeout(rest);
      rest = setTimeout(() => read(field, null), REST);
      void read(field, field.name);
    };
    field.entry.addEventListener("input", typed);
    field.entry.addEventListener("change", () => {
      clearTimeout(rest);
      void read(field, null);
    });
    field.unit?.addEventListener("change", async () => {
      const engine = await gaugeleaf.engine();
      const to = field.unit?.value ?? "";
      const { text, unit } = field.typed;
      const answer = engine({ do: "switch", name: field.name, text, from: unit, to });
      if (answer.text === undefined) typed();
      else field.entry.value = answer.text;
    });
    field.part.querySelector(".confirm")?.addEventListener("click", () => {
      field.confirmed = true;
      field.entry.focus();
      void read(field, null);
    });
  }

  pick.addEventListener("change", () => {
    const prepared = (globalThis.gaugeleafPrepared ?? []).find((one) => `prepared ${one.name}` === pick.value);
    told(prepared ? jobs.prepare(prepared) : jobs.choose(pick.value));
    void fill();
  });
  for (const [entry, key] of /** @type {[HTMLInputElement, "name" | "note"][]} */ ([[nameEntry, "name"], [note, "note"]])) {
    entry.addEventListener("change", () => {
      const id = jobs.inHand();
      told(jobs.keep(id, { ...jobs.all()[id], [key]: entry.value.trim() }));
      options();
    });
  }
  part("job-new").addEventListener("click", async () => {
    told(jobs.add("My job", {}));
    await fill();
    nameEntry.select();
  });
  part("job-copy").addEventListener("click", async () => {
    const job = jobs.all()[jobs.inHand()];
    told(jobs.add(`${job.name}, copy`, { ...job.given }, job.note));
    await fill();
    nameEntry.select();
  });
  part("job-delete").addEventListener("click", async () => {
    const id = jobs.inHand();
    gone = { id, job: jobs.remove(id) };
    await fill();
    said.textContent = `Job ${gone.job.name} is deleted.`;
    part("job-undo").hidden = false;
    part("job-undo").focus();
  });
  part("job-undo").addEventListener("click", async () => {
    if (!gone) return;
    told(jobs.keep(gone.id, gone.job) && jobs.choose(gone.id));
    part("job-undo").hidden = true;
    await fill();
    pick.focus();
  });
  part("job-share").addEventListener("click", async () => {
    if (!gaugeleaf.share) await gaugeleaf.bring("scripts/share.js");
    gaugeleaf.share?.(part("job-share-part"), jobs.all()[jobs.inHand()], form);
  });
  part("job-take").addEventListener("click", () => {
    part("job-take-part").hidden = false;
    part("job-paste").focus();
  });
  part("job-look").addEventListener("click", async () => {
    const pasted = /** @type {HTMLInputElement} */ (part("job-paste")).value;
    const at = pasted.indexOf("job=");
    if (at < 0) {
      said.textContent = "There is no job in this text. It begins with job= somewhere.";
      return;
    }
    if (!gaugeleaf.takeOver) await gaugeleaf.bring("scripts/take-over.js");
    await gaugeleaf.takeOver(pasted.slice(at).trim());
  });

  form.classList.add("is-live");
  void fill().catch(() => { said.textContent = "The calculator could not start, so nothing can be read here. Open the page again."; });
})();
