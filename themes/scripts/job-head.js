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
  const who = /** @type {HTMLInputElement} */ (part("job-who"));
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
    // By name, in the order in which people count: no clock's order, as a phone's may be wrong.
    const byName = Object.entries(jobs.all()).sort(([, one], [, other]) => one.name.localeCompare(other.name, undefined, { numeric: true }));
    const kept = byName.map(([id, job]) => new Option(job.name || worded("job_head.no_name"), id));
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
    show(job, isSame = false) {
      part("job-own-part").hidden = !job;
      for (const name of ["job-copy", "job-share", "job-delete"]) part(name).hidden = !job;
      // What was to be carried is not this any more.
      part("job-share-part").hidden = true;
      for (const [entry, text] of /** @type {[HTMLInputElement, string][]} */ ([[nameEntry, job?.name ?? ""], [note, job?.note ?? ""], [who, job ? job.who ?? "" : who.value]])) {
        if (!isSame || document.activeElement !== entry) entry.value = text;
      }
      part("paper-job").textContent = job?.name ?? "";
      gaugeleaf.jobHead.offer(job);
    },
    offer(job) {
      kits(job);
      options();
      newer();
    },
    deleted(id, job, words) {
      gone = { id, job };
      said.textContent = words;
      part("job-undo").hidden = false;
    },
    told(kept) {
      part("job-share-part").hidden = true;
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
    if (!job) return;
    const kept = jobs.change(id, (job) => ({ ...job, ...parts }));
    if (!kept && parts.kit !== undefined) jobs.doubt(id, "kit");
    told(kept);
  }

  /** Takes another job in hand, once what was typed is in the one that stands here. @param {() => boolean} take */
  async function turn(take) {
    await gaugeleaf.jobForm.leave();
    told(take());
    await gaugeleaf.jobForm.fill();
  }

  pick.addEventListener("change", () => {
    const { value } = pick;
    const prepared = (globalThis.gaugeleafPrepared ?? []).find((one) => `prepared ${one.name}` === value);
    void turn(() => (prepared ? jobs.prepare(prepared) : jobs.choose(value)));
  });
  for (const [entry, key] of /** @type {[HTMLInputElement, "name" | "note" | "who"][]} */ ([[nameEntry, "name"], [note, "note"], [who, "who"]])) {
    entry.addEventListener("change", () => {
      const { id } = gaugeleaf.jobForm.shown();
      if (key === "name") entry.value = jobs.named(entry.value.trim(), id);
      change({ [key]: entry.value.trim() });
      options();
    });
  }
  kit.addEventListener("change", () => {
    change({ kit: kit.value });
    void gaugeleaf.jobForm.fill();
  });
  part("job-new").addEventListener("click", async () => {
    await turn(() => jobs.add({ name: worded("job_form.next_name", { day: jobs.today() }) }));
    nameEntry.select();
  });
  part("job-copy").addEventListener("click", async () => {
    if (!gaugeleaf.jobForm.shown().job) return;
    await turn(() => {
      const { made, name = "", ...parts } = gaugeleaf.jobForm.shown().job ?? {};
      return jobs.add({ ...parts, name: worded("job_head.copy", { job: name }) });
    });
    nameEntry.select();
  });
  part("job-delete").addEventListener("click", async () => {
    await gaugeleaf.jobForm.leave();
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
    // Another window may have brought it back, and gone on with it.
    const { id, job } = gone;
    part("job-undo").hidden = true;
    await turn(() => (id in jobs.all() || jobs.keep(id, { ...job, name: jobs.named(job.name, id) })) && jobs.choose(id));
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
