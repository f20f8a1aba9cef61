// Puts the values of the job in hand beside the handbook's own, wherever the page prints one.
"use strict";
(async () => {
  const page = document.documentElement;
  const { element, store } = gaugeleaf;
  const own = page.dataset.own ?? "";
  const name = store.kept()?.name ?? "";

  /** @type {Map<string, Answer>} */
  const known = new Map();

  /**
   * One answer for all values of a calculation.
   * @param {Engine} engine
   * @param {HTMLElement} part
   * @param {WantedPart[]} want
   */
  function answer(engine, part, want) {
    const { value, calculator, fixed = "{}" } = part.dataset;
    const asked = calculator ?? value?.split(".")[0] ?? "";
    const key = [asked, fixed, ...want].join(" ");
    /** @type {Record<string, Entry>} */
    const inputs = {};
    // The trainer's own values were looked at when the handbook was published; nobody measured them on the job.
    for (const [input, text] of Object.entries(JSON.parse(fixed))) inputs[input] = { text, confirmed: true, example: true };
    const found = known.get(key) ?? engine({ do: "calculate", name: asked, inputs, want });
    known.set(key, found);
    return found;
  }

  /**
   * The value that a link names, for the job in hand; or what it lacks, and why there is none.
   * @param {Engine} engine
   * @param {HTMLElement} part
   * @returns {FoundValue}
   */
  function worked(engine, part) {
    const [value, output] = (part.dataset.value ?? "").split(".");
    const measured = output === undefined;
    const found = measured ? engine({ do: "measure", inputs: { [value]: null } }) : answer(engine, part, []);
    const reading = "outputs" in found ? found.outputs[output] : found.inputs[value];
    const problem = found.problems[0];
    if (problem) {
      const { label, message, help } = problem;
      return measured && !help ? { lacks: `${message}: ${label ?? value}`, why: worded("job_values.on_this_job", { lacks: message }) } : { why: [message, help].filter(Boolean).join("; ") };
    }
    // An entry that was refused has to be settled before anything stands on the older one.
    if (reading?.ground === "doubted") {
      const why = "outputs" in found ? found.verdicts.find((one) => one.is === "open")?.because : reading.from;
      return { lacks: worded("job_values.not_settled", { value: reading.label }), why: why ?? worded("job_values.entry_refused") };
    }
    if (reading?.why) return { lacks: worded("job_values.value_not_known", { value: reading.label }), why: reading.why };
    const text = part.dataset.also === undefined ? reading?.text : reading?.also;
    // A result that doesn't exist has no number behind its text.
    if (!text || !reading || reading.value === null) return { why: worded("job_values.no_such") };
    return { text };
  }

  /**
   * @param {HTMLElement} link
   * @param {string} why
   * @param {string} [lacks]
   */
  function none(link, why, lacks = worded("job_values.none")) {
    const told = element("span", "no-value-why", why);
    told.hidden = true;
    const says = /** @type {HTMLButtonElement} */ (element("button", "no-value", lacks));
    says.type = "button";
    says.setAttribute("aria-expanded", "false");
    says.addEventListener("click", () => {
      told.hidden = !told.hidden;
      says.setAttribute("aria-expanded", String(!told.hidden));
    });
    link.hidden = true;
    link.after(says, told);
  }

  /**
   * @param {HTMLElement} link
   * @param {FoundValue} found
   */
  function put(link, { text, lacks, why }) {
    // In the other unit system it is lacking too, and has been said.
    if (text === undefined) return none(link, why ?? "", link.dataset.also === undefined ? lacks : worded("job_values.not_known"));
    // It is the job's from here on, though the number may be the same.
    delete link.dataset.of;
    link.textContent = text.replaceAll(" ", "\u00a0");
    link.classList.add("job-value");
  }

  /**
   * @param {Engine} engine
   * @param {HTMLElement} drawing
   */
  function redraw(engine, drawing) {
    const sheet = drawing.querySelector(".sheet");
    const found = answer(engine, drawing, ["figure"]);
    const lacks = found.unset?.flatMap((input) => input.needs.map((leaf) => `${leaf.label}: ${leaf.from}`)) ?? [];
    const why = found.problems[0]?.message ?? [...new Set(lacks)].join(", ");
    if (sheet) {
      if (why || !found.figure) sheet.textContent = worded("job_values.no_drawing", { why });
      else sheet.innerHTML = found.figure;
      sheet.setAttribute("aria-label", sheet.querySelector("desc, title")?.textContent ?? sheet.textContent ?? "");
    }
    for (const part of drawing.querySelectorAll("[data-input], [data-output]")) {
      const { input, output } = /** @type {HTMLElement} */ (part).dataset;
      const reading = input === undefined ? found.outputs[output ?? ""] : found.inputs[input];
      part.textContent = reading?.text ?? worded("job_values.nothing");
    }
    drawing.querySelector("figcaption")?.prepend(element("span", "job-note", worded("job_values.drawn_for", { job: name })));
  }

  /** What stays at the handbook's own values says so. */
  function still() {
    for (const part of document.querySelectorAll(".chart, .values .table-scroll, .kind-values .table-scroll, .search-sheet, .kind-search .search-box")) {
      const note = element("p", "job-note", worded("job_values.own", { own: own ?? "", job: name }));
      if (part.matches(".chart")) part.querySelector("figcaption")?.after(note);
      else if (part.matches(".table-scroll")) part.before(note);
      else part.prepend(note);
    }
  }

  const links = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".value[data-fixed]")]);
  still();
  try {
    const engine = await gaugeleaf.engine();
    for (const link of links) put(link, worked(engine, link));
    for (const drawing of document.querySelectorAll(".drawing[data-calculator]")) {
      redraw(engine, /** @type {HTMLElement} */ (drawing));
    }
    if (document.querySelector("[data-setup], [data-worst]")) {
      await gaugeleaf.bring("scripts/job-sheet.js");
      await gaugeleaf.jobSheet(engine);
    }
  } catch {
    // What the page holds is the handbook's own, or was worked out before the fault.
    for (const link of links) if (!link.hidden) none(link, worded("job_values.stopped"));
    for (const sheet of document.querySelectorAll(".drawing[data-calculator] .sheet")) {
      sheet.textContent = worded("job_values.drawing_stopped");
    }
    for (const sheet of document.querySelectorAll("[data-setup]")) {
      sheet.replaceChildren(element("p", "setup-none", worded("job_values.sheet_stopped")));
    }
    for (const front of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-worst]"))) {
      // What can't be judged isn't safe to go on with.
      front.dataset.is = "stop";
      front.querySelector("use")?.setAttribute("href", "#mark-stop");
      front.querySelector(".verdict-word")?.replaceChildren(worded("verdict.stop"));
      front.querySelector(".because")?.replaceChildren(worded("job_values.verdict_stopped"));
    }
  }
  page.classList.add("job-ready");
})();
