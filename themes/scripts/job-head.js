// The head of a job's form: which job is in hand, its name, note and kit, whether the phone keeps it, and what is done with it.
"use strict";
(() => {
  const { jobs, store, element } = gaugeleaf;
  const form = /** @type {HTMLElement} */ (document.querySelector("[data-job-form]"));
  /** @param {string} name */
  const part = (name) => /** @type {HTMLElement} */ (form.querySelector(`.${name}`));
  const pick = /** @type {HTMLSelectElement} */ (part("job-pick"));
  const nameEntry = /** @type {HTMLInputElement} */ (part("job-name-text"));
  const note = /** @type {HTMLInputElement} */ (part("job-note"));
  const kit = /** @type {HTMLSelectElement} */ (part("job-kit"));
  const said = part("job-said");
  /** @type {{ id: string, job: KeptJob } | null} */
  let gone = null;

  /** What holds of keeping a job here; nothing where it lasts. */
  const LASTS = {
    full: worded("job_head.full"),
    refused: worded("job_head.refused"),
    folder: worded("job_head.folder"),
    passing: worded("job_head.passing"),
    lasting: "",
  };

  /** @param {"" | "full" | "refused"} fault */
  async function lasts(fault) {
    const place = part("job-lasts");
    const says = LASTS[fault || await jobs.lasting()];
    if (place.textContent !== says) place.textContent = says;
    place.hidden = says === "";
  }

  /** The options: the handbook's own, what this phone keeps, what the handbook prepares. */
  function options() {
    const kept = Object.entries(jobs.all()).map(([id, job]) => new Option(job.name || worded("job_head.no_name"), id));
    const newer = Object.values(jobs.newer()).map((job) => {
      const option = new Option(worded("job_head.newer", { job: job.name || worded("job_head.no_name") }));
      option.disabled = true;
      return option;
    });
    const prepared = (globalThis.gaugeleafPrepared ?? [])
      .filter((one) => !(`p-${one.name}` in jobs.all()))
      .map((one) => new Option(`${one.name}: ${one.title}`, `prepared ${one.name}`));
    pick.replaceChildren(pick.options[0], ...kept, ...newer, ...prepared);
    pick.value = jobs.inHand();
  }

  /** What newer handbooks made can be carried on, and nothing else. */
  function newer() {
    const rows = Object.values(jobs.newer()).map((job) => {
      const carry = element("button", "", job.name ? worded("job_head.carry", { job: job.name }) : worded("job_head.carry_it"));
      carry.type = "button";
      carry.addEventListener("click", () => share(job));
      return element("li", "", worded("job_head.newer_stays", { job: job.name || worded("job_head.no_name") }), carry);
    });
    part("job-newer").replaceChildren(...rows);
  }

  /** @param {KeptJob | undefined} job */
  function kits(job) {
    const known = globalThis.gaugeleafKits ?? [];
    const made = known.map((one) => new Option(one.title, one.name));
    const strange = job && job.kit !== "" && known.length > 0 && !known.some((one) => one.name === job.kit);
    if (strange) made.push(new Option(worded("job_head.strange_kit", { kit: job.kit }), job.kit));
    kit.replaceChildren(...made);
    kit.value = job?.kit || (known[0]?.name ?? "");
    part("job-kit-part").hidden = made.length < 2;
  }

  /** @param {KeptJob | NewerJob} job */
  async function share(job) {
    if (!gaugeleaf.share) await gaugeleaf.bring("scripts/share.js");
    gaugeleaf.share?.(part("job-share-part"), job);
  }

  gaugeleaf.jobHead = {
    show(job) {
      part("job-own-part").hidden = !job;
      for (const name of ["job-copy", "job-share", "job-delete"]) part(name).hidden = !job;
      part("job-share-part").hidden = true;
      nameEntry.value = job?.name ?? "";
      note.value = job?.note ?? "";
      part("paper-job").textContent = job?.name ?? "";
      gaugeleaf.jobHead.offer(job);
    },
    offer(job) {
      kits(job);
      options();
      newer();
    },
    told(kept) {
      void lasts(kept ? "" : store.fault() || "refused");
    },
    say(text) {
      said.textContent = text;
    },
  };
  const { told } = gaugeleaf.jobHead;

  /** Changes what is said of the job as a whole. @param {Partial<KeptJob>} parts */
  function change(parts) {
    const { id, job } = gaugeleaf.jobForm.shown();
    if (job) told(jobs.keep(id, { ...job, ...parts }));
  }

  pick.addEventListener("change", () => {
    const prepared = (globalThis.gaugeleafPrepared ?? []).find((one) => `prepared ${one.name}` === pick.value);
    told(prepared ? jobs.prepare(prepared) : jobs.choose(pick.value));
    void gaugeleaf.jobForm.fill();
  });
  for (const [entry, key] of /** @type {[HTMLInputElement, "name" | "note"][]} */ ([[nameEntry, "name"], [note, "note"]])) {
    entry.addEventListener("change", () => {
      change({ [key]: entry.value.trim() });
      options();
    });
  }
  kit.addEventListener("change", () => {
    change({ kit: kit.value });
    void gaugeleaf.jobForm.fill();
  });
  part("job-new").addEventListener("click", async () => {
    told(jobs.add({}));
    await gaugeleaf.jobForm.fill();
    nameEntry.select();
  });
  part("job-copy").addEventListener("click", async () => {
    const { job } = gaugeleaf.jobForm.shown();
    if (!job) return;
    const { made, ...parts } = job;
    told(jobs.add({ ...parts, name: worded("job_head.copy", { job: job.name }) }));
    await gaugeleaf.jobForm.fill();
    nameEntry.select();
  });
  part("job-delete").addEventListener("click", async () => {
    const { id } = gaugeleaf.jobForm.shown();
    const job = jobs.remove(id);
    if (!job) return;
    gone = { id, job };
    await gaugeleaf.jobForm.fill();
    said.textContent = worded("job_head.deleted", { job: job.name });
    part("job-undo").hidden = false;
    part("job-undo").focus();
  });
  part("job-undo").addEventListener("click", async () => {
    if (!gone) return;
    told(jobs.keep(gone.id, gone.job) && jobs.choose(gone.id));
    part("job-undo").hidden = true;
    await gaugeleaf.jobForm.fill();
    pick.focus();
  });
  part("job-share").addEventListener("click", async () => {
    const { job } = gaugeleaf.jobForm.shown();
    if (job) await share(job);
  });
  part("job-take").addEventListener("click", () => {
    part("job-take-part").hidden = false;
    part("job-paste").focus();
  });
  part("job-look").addEventListener("click", async () => {
    const pasted = /** @type {HTMLInputElement} */ (part("job-paste")).value;
    const at = pasted.indexOf("job=");
    if (at < 0) {
      said.textContent = worded("job_head.no_job");
      return;
    }
    if (!gaugeleaf.takeOver) await gaugeleaf.bring("scripts/take-over.js");
    await gaugeleaf.takeOver(pasted.slice(at).trim());
  });

  // Whoever types a long job has to know first whether it is kept.
  store.set("probe", true);
  const fault = store.fault();
  store.set("probe", null);
  void lasts(fault);
})();
