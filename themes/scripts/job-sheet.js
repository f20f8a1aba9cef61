// The setup sheet for the job in hand: every value and verdict of it, and the worst; that alone on the front page.
"use strict";
(() => {
  const WORDS = { go: "GO", caution: "CAUTION", stop: "STOP" };
  /** From the worst. */
  const ORDER = /** @type {const} */ (["stop", "caution", "go"]);

  /**
   * @param {HTMLElement} place
   * @param {"go" | "caution" | "stop"} is
   */
  function say(place, is) {
    place.dataset.is = is;
    place.querySelector("use")?.setAttribute("href", `#mark-${is}`);
    const word = place.querySelector(".verdict-word");
    if (word) word.textContent = WORDS[is];
  }

  const { element } = gaugeleaf;

  /** @param {string} selector @param {ParentNode} within */
  const parts = (selector, within) => /** @type {HTMLElement[]} */ ([...within.querySelectorAll(selector)]);

  /** The verdict that decides. @param {Verdict[]} verdicts */
  const worstOf = (verdicts) => ORDER.find((one) => verdicts.some((verdict) => verdict.is === one));

  /**
   * Says of each value whether it is the job's, and lists what nobody has measured on it.
   * @param {HTMLElement} sheet
   */
  function origins(sheet) {
    const { own = "" } = document.documentElement.dataset;
    const { given = {}, refused = {} } = gaugeleaf.store.kept() ?? {};
    /** @type {string[]} */
    const missing = [];
    const rows = parts("[data-origin]", sheet);
    for (const place of rows) {
      const { origin = "", source } = place.dataset;
      const measured = origin in given;
      if (source !== undefined) {
        place.textContent = measured ? "set for this job" : source;
        continue;
      }
      const later = origin in refused ? `; \`${gaugeleaf.store.typed(refused[origin])}\`, typed later, was not taken` : "";
      place.textContent = (measured ? "measured on this job" : `not measured: ${own}'s value`) + later;
      place.closest("tr")?.classList.toggle("stands-in", !measured);
      if (!measured) missing.push((place.parentElement?.firstChild?.textContent ?? "").trim());
    }
    const place = sheet.querySelector(".setup-missing");
    if (!place) return;
    const count = rows.filter((row) => row.dataset.source === undefined).length;
    place.after(missing.length === 0
      ? element("p", "job-missing", "Every measurement was taken on this job.")
      : element("p", "job-missing", element("b", "", `Not measured on this job, ${missing.length} of ${count}.`), ` The values of ${own} stand in: ${missing.join(", ").toLowerCase()}.`));
  }

  gaugeleaf.jobSheet = (engine, { answer, worked, put, under }) => {
    for (const front of parts("[data-worst]", document)) under(engine, front.dataset.given, () => {
      const found = (front.dataset.worst ?? "").split(" ").map((name) => engine({ do: "calculate", name, inputs: {}, want: [] }));
      const open = found.filter((one) => one.problems.length > 0).length;
      // What can't be judged isn't safe to go on with.
      const is = open > 0 ? "stop" : worstOf(found.flatMap((one) => one.verdicts));
      const said = front.querySelector(".hand-open");
      if (said && open > 0) said.textContent = `No result from ${open} of ${found.length} calculators. `;
      if (is) say(front, is);
    });
    for (const sheet of parts("[data-setup]", document)) under(engine, sheet.dataset.given, () => {
      for (const own of parts("[data-own]", sheet)) own.hidden = true;
      origins(sheet);
      for (const value of parts(".value[data-value]", sheet)) {
        const found = worked(engine, value);
        const also = value.parentElement?.querySelector("[data-also]");
        if (also) also.textContent = found.also ?? "";
        put(value, found);
      }
      /** @type {Verdict[]} */
      const verdicts = [];
      /** @type {string[]} */
      const stuck = [];
      for (const body of parts("[data-calculator]", sheet)) {
        const found = answer(engine, body, []);
        verdicts.push(...found.verdicts);
        if (found.problems.length > 0 && body.querySelector("[data-check]")) stuck.push(body.querySelector(".setup-name a")?.textContent ?? "");
        for (const row of parts("[data-check]", body)) {
          const verdict = found.verdicts.find((one) => one.check === row.dataset.check);
          row.hidden = !verdict;
          if (!verdict) continue;
          say(row, verdict.is);
          const because = row.querySelector(".because");
          if (because) because.textContent = verdict.because;
        }
      }
      const worst = /** @type {HTMLElement | null} */ (sheet.querySelector(".setup-worst"));
      const is = stuck.length > 0 ? "stop" : worstOf(verdicts);
      if (stuck.length > 0) sheet.querySelector(".setup-missing")?.after(element("p", "job-stuck", element("b", "", "No result, so a stop: "), `${stuck.join(", ")}.`));
      if (!worst || !is) return;
      say(worst, is);
      for (const place of parts("[data-count]", worst)) {
        place.textContent = String(verdicts.filter((verdict) => verdict.is === place.dataset.count).length);
      }
    });
  };
})();
