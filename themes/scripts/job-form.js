// The form of the job in hand: what is typed and understood is kept as soon as the hand leaves it.
"use strict";
(() => {
  /** A hand that rests this long has finished a value. */
  const REST = 450;
  const { jobs, jobHead } = gaugeleaf;
  const { of, chosen, choose, put, entries } = gaugeleaf.fields;
  const form = /** @type {HTMLElement} */ (document.querySelector("[data-job-form]"));
  const counted = /** @type {HTMLElement} */ (form.querySelector(".job-count"));
  const fields = [...form.querySelectorAll(".field")].map((one) => of(/** @type {HTMLElement} */ (one)));
  /** What a field held before it was emptied or typed over, with its day. @type {Map<string, KeptValue>} */
  const earlier = new Map();
  /** The job whose values stand in the fields: what is typed is this one's, whatever another window takes in hand. */
  let shown = "";
  /** That job as it was last seen, should another window delete it. @type {KeptJob | undefined} */
  let known;
  /** What each field last showed of the job. @type {Map<Field, string>} */
  const seen = new Map();
  /** Fields that a hand is changing, or whose entries are being read. @type {Set<Field>} */
  const changed = new Set();
  const current = () => gaugeleaf.store.opened(gaugeleaf.store.one(shown));

  /**
   * The entry's own line and the paper's, from what the engine read.
   * @param {Field} field
   * @param {MeasureAnswer} answer
   * @param {string | null} quiet
   */
  function show(field, answer, quiet) {
    gaugeleaf.show.answer(form, [field], answer, quiet);
    const reading = answer.inputs[field.name];
    const paper = field.part.parentElement?.querySelector(".paper-value");
    if (paper) paper.textContent = reading?.text ?? "";
    field.part.parentElement?.classList.toggle("is-measured", reading !== undefined);
    field.part.classList.remove("is-waiting");
  }

  /**
   * Says that an entry was not taken, or that one was taken away, and what the job still holds or held.
   * @param {Field} field
   * @param {string} words
   * @param {string} act
   * @param {() => void} [undo]
   */
  function tell(field, words, act = "", undo) {
    const place = /** @type {HTMLElement} */ (field.part.querySelector(".not-taken") ?? document.createElement("div"));
    place.className = "not-taken";
    place.setAttribute("role", "status");
    place.hidden = words === "";
    // A button that is being pressed stays the button that it was.
    if (place.dataset.says === words + act) return;
    place.dataset.says = words + act;
    const line = document.createElement("p");
    line.textContent = words;
    place.replaceChildren(line);
    if (undo) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = act;
      button.addEventListener("click", undo);
      place.append(button);
    }
    field.part.querySelector(".problem")?.after(place);
  }

  /** Puts a value back that the job holds or held. @param {Field} field @param {string} text */
  function back(field, text) {
    if (field.kind === "choice") choose(field, text);
    else {
      put(field, text, field.given.unit);
      // It was taken once, so whatever is unusual in it was confirmed.
      field.confirmed = true;
    }
    void read(field, null);
  }

  /** What a refused entry leaves to say. @param {Field} field */
  function refusal(field) {
    const job = current();
    seen.set(field, holds(field));
    const refused = job?.refused?.[field.name];
    if (!refused) return tell(field, "");
    const held = job?.given[field.name];
    const typed = gaugeleaf.store.typed(refused);
    if (held && refused.doubt) tell(field, worded("job_form.doubted", { held: held.text }), worded("job_form.keep", { held: held.text }), () => back(field, held.text));
    else if (held === undefined) tell(field, worded("job_form.not_taken", { typed }));
    else tell(field, worded("job_form.not_taken_keep", { typed, held: held.text }), worded("job_form.keep", { held: held.text }), () => back(field, held.text));
  }

  /** What the job holds of a field. @param {Field} field */
  function holds(field, job = current()) {
    return JSON.stringify([job?.given[field.name]?.text, job?.refused[field.name]]);
  }

  /** What there is to say of a field with nothing in it. @type {MeasureAnswer} */
  const nothing = { inputs: {}, problems: [] };

  /** What to say where the engine stops over an entry again and again. @param {Field} field @returns {MeasureAnswer} */
  const stopped = (field) => ({
    ...nothing,
    problems: [{ input: field.name, message: worded("job_form.stopped"), help: worded("job_form.stopped_help"), doubtful: false }],
  });

  /** Whether another window deleted the job that stood here, and none has stood here since. */
  let orphaned = false;

  /** What stands in a field, and whose it is. @param {Field} field */
  const now = (field) => JSON.stringify([shown, entries([field])]);

  /**
   * Reads one entry; null where another one, or another job's, stands there by then and is being read.
   * @param {Field} field
   */
  async function measured(field) {
    const asked = now(field);
    const answer = await gaugeleaf.ask({ do: "measure", inputs: entries([field]) }).catch(() => stopped(field));
    return asked === now(field) ? answer : null;
  }

  /** Puts what the job holds into a field; a later entry that was lost is no text to go on with. @param {Field} field */
  function place(field) {
    const { given = {}, refused = {} } = current() ?? {};
    const one = refused[field.name];
    const no = one?.lost || one?.doubt ? undefined : one;
    const text = no?.text ?? given[field.name]?.text ?? "";
    if (field.kind === "choice") choose(field, text);
    else put(field, text, no?.unit || field.given.unit);
  }

  /** Reads what the job holds of a field, and says what there is to say of it. @param {Field} field */
  async function tellHeld(field) {
    const { given = {}, refused = {} } = current() ?? {};
    const isGood = field.name in given && (refused[field.name]?.doubt ?? !(field.name in refused));
    const isEmpty = !(field.name in given) && !(field.name in refused);
    let answer = isEmpty ? nothing : await measured(field);
    if (isGood && field.kind === "number" && answer?.problems[0]?.doubtful) {
      // It was confirmed when it was kept.
      field.confirmed = true;
      answer = await measured(field);
    }
    if (!answer) return;
    show(field, answer, null);
    refusal(field);
  }

  /** What a hand has typed belongs to the job that stood here then. */
  const leave = () => Promise.all([...changed].map((field) => read(field, null)));

  /** Puts the job in hand on the form. */
  async function fill() {
    if (current()) await leave();
    // What was typed for a job that is gone becomes no other job's.
    if (orphaned && jobs.inHand() !== "") changed.clear();
    if (jobs.inHand() !== "") orphaned = false;
    shown = jobs.inHand();
    known = current();
    earlier.clear();
    jobHead.show(known);
    // Where the job is gone, what was typed stays; it is nobody's yet.
    for (const field of fields) if (!changed.has(field)) place(field);
    const stood = fields.map(now);
    try {
      // The kits and the prepared jobs come with it.
      await gaugeleaf.engine();
    } catch {
      jobHead.say(worded("job_form.no_start"));
      return;
    }
    jobHead.offer(current());
    for (const [at, field] of fields.entries()) {
      // What a hand typed meanwhile is read and judged by itself.
      if (now(field) === stood[at] && !changed.has(field)) await tellHeld(field);
    }
    await count();
  }

  /** Another window changed this job: what it changed comes in, never under a hand that types. */
  async function refresh() {
    known = current();
    jobHead.show(known, true);
    for (const field of fields) {
      if (seen.get(field) === holds(field)) continue;
      if (changed.has(field)) {
        seen.set(field, holds(field));
        tell(field, worded("job_form.other_window", { held: known?.given[field.name]?.text ?? worded("job_form.nothing") }));
      } else {
        earlier.delete(field.name);
        place(field);
        await tellHeld(field);
      }
    }
    await count();
  }

  /** Another window deleted this job. */
  function deleted() {
    if (known) jobHead.deleted(shown, known, worded("job_form.gone", { job: known.name }));
    shown = "";
    known = undefined;
    orphaned = true;
  }

  /** Says how much is measured, and of each value when. */
  async function count() {
    const job = current();
    const { given = {}, refused = {} } = job ?? {};
    const measured = fields.filter((field) => field.name in given && !(field.name in refused)).length;
    const typed = Object.values(refused).filter((one) => !one.doubt);
    const not = typed.length;
    const entries = typed.map((one) => one.label).join(", ");
    const old = Object.values(given).some((one) => one.when === worded("job.no_date"));
    counted.textContent = [
      worded("job_form.measured", { taken: measured, of: fields.length }),
      not === 0 ? "" : not === 1 ? worded("job_form.one_refused", { entries }) : worded("job_form.refused", { number: not, entries }),
      job && measured < fields.length ? worded("job_form.stay_open") : "",
      job ? "" : worded("job_form.no_job"),
      old ? worded("job_form.old") : "",
    ].filter(Boolean).join(" ");
    const asked = Object.fromEntries(fields.map((field) => [field.name, null]));
    const origins = await gaugeleaf.engine().then((engine) => {
      engine(gaugeleaf.whose());
      return engine({ do: "measure", inputs: asked }).inputs;
    }).catch(() => ({}));
    for (const field of fields) {
      const reading = /** @type {Record<string, Reading>} */ (origins)[field.name];
      const told = current() && reading && ["measured", "assumed"].includes(reading.ground ?? "");
      const { by, note } = given[field.name] ?? {};
      const from = [told ? reading.from : "", by ? worded("job_form.by", { who: by }) : "", note].filter(Boolean).join(", ");
      field.part.parentElement?.querySelector(".measure-from")?.replaceChildren(from);
    }
    gaugeleaf.jobList?.update();
  }

  /**
   * Changes the job in hand, or begins one; false where the phone keeps nothing.
   * @param {(job: Pick<KeptJob, "given" | "refused">) => Pick<KeptJob, "given" | "refused">} change
   */
  function alter(change) {
    if (shown !== "" && !current()) deleted();
    const isNew = shown === "";
    orphaned = false;
    const kept = isNew ? jobs.add({ ...change({ given: {}, refused: {} }), ...author("who") }) : jobs.change(shown, (job) => ({ ...job, ...change(job) }));
    if (isNew) shown = jobs.inHand();
    known = current();
    if (isNew) jobHead.show(known);
    jobHead.told(kept);
    void count();
    return kept;
  }

  /** Whoever measures now, as the head says. @template {string} K @param {K} key */
  function author(key) {
    const { value } = /** @type {HTMLInputElement} */ (form.querySelector(".job-who"));
    return /** @type {{ [key in K]?: string }} */ (value.trim() === "" ? {} : { [key]: value.trim() });
  }

  /**
   * Keeps what the engine understood. What it refused stays beside the value that the job holds already;
   * only an entry that is left empty takes one away, and that is undone by a tap.
   * @param {Field} field
   * @param {boolean} empty
   * @param {string | undefined} text
   */
  function keep(field, empty, text) {
    const before = current();
    const held = before?.given[field.name];
    if (held) earlier.set(field.name, held);
    if (!before && text === undefined) return;
    const typed = field.kind === "choice" ? { text: chosen(field), unit: "" } : field.typed;
    const label = field.part.parentElement?.dataset.label ?? field.name;
    const [past, today] = [earlier.get(field.name), jobs.today()];
    /** What stood there as this was typed. @type {{ text?: string } | undefined} */
    let was;
    const kept = alter(({ given, refused }) => {
      const { [field.name]: stood, ...others } = given;
      const { [field.name]: no, ...rest } = refused;
      const open = { given, refused: { ...rest, [field.name]: { ...typed, label } } };
      // It waited for room, and another page has kept something else since: the crew settles which holds.
      if (was && was.text !== stood?.text && (stood || !no?.lost)) return empty ? { given, refused } : open;
      was = was ?? { text: stood?.text };
      if (empty) return { given: others, refused: rest };
      // The same value again is not measured again.
      const taken = past && past.text === text && past.when !== gaugeleaf.store.LATER ? past : { ...(past?.note && past.text === text && { note: past.note }), ...author("by"), text: text ?? "", when: today };
      if (text !== undefined) return { given: { ...others, [field.name]: taken }, refused: rest };
      return open;
    });
    if (empty && held !== undefined) {
      tell(field, worded("job_form.taken_away", { held: held.text }), worded("job_form.put_back", { held: held.text }), () => back(field, held.text));
    } else if (!empty || before?.refused?.[field.name]) refusal(field);
    seen.set(field, holds(field));
    if (kept) return;
    // What other pages still read is older than what stands here.
    jobs.doubt(shown, field.name);
    tell(field, worded("job_form.not_kept"));
  }

  /**
   * @param {Field} field
   * @param {string | null} quiet  the field while a hand is in it
   * @param {boolean} [left]  the hand has left it: until then the job keeps what it held, for half a number is one too
   */
  async function read(field, quiet, left = true) {
    field.part.classList.add("is-waiting");
    if (left) changed.add(field);
    const empty = field.kind === "number" ? field.typed.text.trim() === "" : chosen(field) === "";
    const answer = empty ? nothing : await measured(field);
    if (!answer) return;
    show(field, answer, quiet);
    if (!left) return;
    changed.delete(field);
    keep(field, empty, answer.inputs[field.name]?.keep);
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
      changed.add(field);
      clearTimeout(rest);
      rest = setTimeout(() => read(field, null, false), REST);
      void read(field, field.name, false);
    };
    field.entry.addEventListener("input", typed);
    field.entry.addEventListener("change", () => {
      // What nobody typed settles no doubt.
      if (!changed.has(field)) return;
      clearTimeout(rest);
      void read(field, null);
    });
    field.unit?.addEventListener("change", async () => {
      const to = field.unit?.value ?? "";
      const { text, unit } = field.typed;
      const answer = await gaugeleaf.ask({ do: "switch", name: field.name, text, from: unit, to }).catch(() => null);
      // Typed on, or switched again, while the answer was on its way.
      if (field.typed.text !== text || field.typed.unit !== unit || field.unit?.value !== to) return;
      // Nothing was converted, so the number keeps the unit that it was typed in.
      if (!answer) field.unit.value = unit;
      else if (answer.text !== undefined) field.entry.value = answer.text;
      else {
        typed();
        void read(field, null);
      }
    });
    field.part.querySelector(".confirm")?.addEventListener("click", () => {
      field.confirmed = true;
      field.entry.focus();
      void read(field, null);
    });
  }

  // A page that goes away keeps what a hand was still in.
  addEventListener("pagehide", () => { for (const field of changed) void read(field, null); });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") for (const field of changed) void read(field, null);
  });

  // Another window took another job in hand, changed this one or deleted it, while this page was open, asleep or left.
  function follow() {
    const job = current();
    const isGone = shown !== "" && !job;
    if (isGone) deleted();
    if (isGone || shown !== jobs.inHand()) void fill();
    else if (fields.some((field) => seen.get(field) !== holds(field, job)) || JSON.stringify(known) !== JSON.stringify(job)) void refresh();
  }
  for (const event of ["storage", "pageshow"]) addEventListener(event, follow);
  document.addEventListener("visibilitychange", follow);
  addEventListener("keptagain", () => {
    jobHead.told(true);
    // What another page changed meanwhile is shown anew, and not taken for seen.
    for (const field of fields) if (seen.get(field) === holds(field)) refusal(field);
    follow();
  });

  gaugeleaf.jobForm = { fill, leave, follow, shown: () => ({ id: shown, job: current() }) };
  form.classList.add("is-live");
  void fill();
})();
