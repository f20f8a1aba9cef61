// A job that arrives by link or as a line: shows what it holds, and keeps it only when asked to.
"use strict";
(() => {
  const { handbook = "" } = document.documentElement.dataset;
  const { revision = "" } = /** @type {HTMLElement} */ (document.querySelector(".job-bar")).dataset;
  /** What a line says besides values. */
  const HEAD = ["job", "v", "of", "rev", "kit", "day", "note", "raw", "who", "by", "about"];

  const { element } = gaugeleaf;

  /**
   * @param {string} text
   * @param {() => void} act
   */
  function button(text, act) {
    const made = element("button", "", text);
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  }

  /** Who took which values, and what was noted of them. @param {URLSearchParams} parts @param {Map<string, KeptValue>} given */
  function beside(parts, given) {
    const named = parts.getAll("by").map((one) => [one.replace(/\|[^|]*$/, ""), one.replace(/.*\|/s, "").split(",").filter(Boolean)]);
    const others = /** @type {string | undefined} */ (named.find(([, names]) => names?.length === 0)?.[0]);
    for (const [name, one] of given) {
      const by = /** @type {string} */ (named.find(([, names]) => names?.includes(name))?.[0] ?? others ?? "");
      if (by !== "") one.by = by;
    }
    for (const about of parts.getAll("about")) {
      const [name = "", ...note] = about.split("|");
      const one = given.get(name);
      if (one) one.note = note.join("|");
    }
  }

  /**
   * A line taken apart; the first edition's holds a name and values, and nothing else.
   * @param {string} line
   * @returns {Arrived}
   */
  function read(line) {
    const parts = new URLSearchParams(line);
    /** @param {string} name */
    const part = (name) => parts.get(name) ?? "";
    const version = part("v");
    const first = version === "";
    const days = new Map([...parts.getAll("day").entries()].map(([at, day]) => [String(at), day]));
    /** @type {Map<string, Taken>} */
    const given = new Map();
    /** @type {Map<string, { text: string, unit: string }>} */
    const refused = new Map();
    for (const [name, text] of parts) {
      if (name === "job" || (!first && HEAD.includes(name))) continue;
      const [input, which = "0"] = first ? [name] : name.split(".");
      if (which === "no") refused.set(input, { text, unit: part(`${input}.unit`) });
      else if (which !== "unit") given.set(input, { text, when: first ? worded("job.no_date") : days.get(which) ?? worded("job.no_date") });
    }
    if (!first) beside(parts, given);
    return { version, who: part("who"), name: part("job"), of: part("of"), rev: part("rev"), kit: part("kit"), note: part("note"), raw: part("raw"), given, refused };
  }

  /** What has to be known before anybody takes it over. @param {Arrived} job */
  function warnings({ version, of, rev, kit }) {
    const known = globalThis.gaugeleafKits ?? [];
    return [
      version === "" ? worded("take_over.old") : "",
      version !== "" && of !== handbook ? worded("take_over.other", { handbook: of || worded("take_over.unnamed") }) : "",
      version !== "" && of === handbook && rev !== revision ? worded("take_over.revision", { then: rev, now: revision ?? "" }) : "",
      kit !== "" && !known.some((one) => one.name === kit) ? worded("take_over.strange_kit", { kit }) : "",
    ].filter(Boolean);
  }

  /**
   * What the engine makes of the values: as typed, as confirmed, and where each comes from.
   * @param {Engine} engine
   * @param {Arrived} job
   */
  function understood(engine, { name, kit, given }) {
    const names = [...given.keys()];
    /** @param {(name: string) => Entry | null} entry */
    const asked = (entry) => Object.fromEntries(names.map((name) => [name, entry(name)]));
    /** @param {boolean} confirmed */
    const typed = (confirmed) => engine({ do: "measure", inputs: asked((name) => ({ text: given.get(name)?.text ?? "", confirmed })) });
    const [first, second] = [typed(false), typed(true)];
    engine({ do: "job", whose: "hand", name, kit, given: Object.fromEntries(given) });
    const held = engine({ do: "measure", inputs: asked(() => null) });
    engine(gaugeleaf.whose());
    return { first, second, held };
  }

  /**
   * Lists what arrives, and makes the job that would be kept.
   * @param {Engine} engine
   * @param {Arrived} arrived
   * @param {HTMLElement} list
   * @returns {Partial<KeptJob>}
   */
  function listed(engine, arrived, list) {
    const { first, second, held } = understood(engine, arrived);
    /** @type {Record<string, KeptValue>} */
    const given = {};
    /** @type {Record<string, Refused>} */
    const refused = {};
    /** @param {string} label @param {HTMLElement} told */
    const row = (label, told) => list.append(element("dt", "", label), told);
    for (const [name, one] of arrived.given) {
      const { text, by, note } = one;
      const reading = second.inputs[name];
      const problem = first.problems.find((one) => one.input === name);
      const told = element("dd", "", reading?.understood ?? worded("take_over.not_taken", { why: problem?.message ?? "" }));
      if (reading) {
        given[name] = { ...one, text: reading.keep ?? text };
        told.append(element("span", "", ` ${[held.inputs[name]?.from, by && worded("job_form.by", { who: by }), note].filter(Boolean).join(", ")}`));
        if (problem) told.append(element("span", "", worded("take_over.unusual", { why: problem.message })));
      } else {
        told.className = "refused";
        if (problem?.label !== undefined) refused[name] = { text, unit: "", label: problem.label };
      }
      row(reading?.label ?? problem?.label ?? name, told);
    }
    for (const [name, entry] of arrived.refused) {
      const found = engine({ do: "measure", inputs: { [name]: null } });
      const label = found.inputs[name]?.label ?? found.problems[0]?.label;
      const told = element("dd", "refused", worded("take_over.refused", { typed: gaugeleaf.store.typed(entry) }));
      if (label !== undefined) refused[name] = { ...entry, label, ...(entry.text === worded("job_form.in_doubt") && { doubt: true }) };
      row(label ?? name, told);
    }
    return { name: arrived.name || worded("take_over.job"), note: arrived.note, given, refused, ...(arrived.who && { who: arrived.who }), ...(arrived.kit && { kit: arrived.kit }) };
  }

  /**
   * A job of a newer edition: nothing is taken, and nothing is lost.
   * @param {HTMLElement} dialog
   * @param {string} line
   * @param {string} raw
   */
  function refuse(dialog, line, raw) {
    const words = element("p", "share-words", line);
    words.tabIndex = 0;
    dialog.append(element("p", "", worded("take_over.newer")), words);
    /** @type {unknown} */
    let job = null;
    try { job = JSON.parse(raw); } catch { /* a line without the job as it was kept */ }
    if (typeof job !== "object" || job === null || gaugeleaf.store.opened(job)) return;
    const keep = button(worded("take_over.keep_unread"), () => {
      const kept = gaugeleaf.jobs.addNewer(job);
      keep.textContent = kept ? worded("take_over.kept") : worded("take_over.keeps_nothing");
      keep.disabled = true;
    });
    dialog.append(keep);
  }

  gaugeleaf.takeOver = async (line) => {
    await Promise.all(["asks", "take-over"].map((name) => gaugeleaf.bring(`styles/${name}.css`))).catch(() => {});
    const arrived = read(line);
    const dialog = document.createElement("dialog");
    dialog.className = "asks take-over";
    dialog.setAttribute("aria-labelledby", "take-over-title");
    const known = ["", "2"].includes(arrived.version);
    const title = element("h2", "", known ? worded("take_over.ask") : worded("take_over.cannot"));
    title.id = "take-over-title";
    const list = document.createElement("dl");
    const no = button(known ? worded("take_over.leave") : worded("take_over.close"), () => dialog.close());
    dialog.addEventListener("close", () => dialog.remove());
    dialog.append(title, element("p", "", arrived.name));
    document.body.append(dialog);
    try {
      if (known) {
        const job = listed(await gaugeleaf.engine(), arrived, list);
        for (const warning of warnings(arrived)) dialog.append(element("p", "take-over-warning", warning));
        const yes = button(worded("take_over.take"), () => {
          const kept = gaugeleaf.jobs.add(job);
          if (kept) location.reload();
          else title.textContent = worded("take_over.not_kept");
        });
        yes.className = "yes";
        dialog.append(list, yes);
      } else refuse(dialog, line, arrived.raw);
    } catch {
      dialog.append(element("p", "", worded("take_over.no_start")));
    }
    dialog.append(no);
    if (!dialog.showModal) {
      await gaugeleaf.bring("scripts/dialog.js");
      gaugeleaf.dialog(dialog);
    }
    dialog.showModal();
  };
})();
