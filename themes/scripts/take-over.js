// A job that arrives by link or as a line: shows what it holds, and keeps it only when asked to.
"use strict";
(() => {
  /**
   * @template {keyof HTMLElementTagNameMap} T
   * @param {T} tag
   * @param {string} text
   */
  function element(tag, text) {
    const made = document.createElement(tag);
    made.textContent = text;
    return made;
  }

  gaugeleaf.takeOver = async (line) => {
    const { job: name = "", ...given } = Object.fromEntries(new URLSearchParams(line));
    const dialog = document.createElement("dialog");
    dialog.className = "asks take-over";
    dialog.setAttribute("aria-labelledby", "take-over-title");
    const title = element("h2", "Take over this job?");
    title.id = "take-over-title";
    const list = document.createElement("dl");
    const no = element("button", "Leave it");
    no.type = "button";
    no.addEventListener("click", () => dialog.close());
    dialog.addEventListener("close", () => dialog.remove());
    dialog.append(title, element("p", name));
    document.body.append(dialog);
    try {
      /** @type {Record<string, Entry>} */
      const typed = {};
      for (const [input, text] of Object.entries(given)) typed[input] = { text, confirmed: false };
      const first = await gaugeleaf.ask({ do: "measure", inputs: typed });
      /** @type {Record<string, string>} */
      const taken = {};
      for (const input of Object.keys(given)) {
        const problem = first.problems.find((one) => one.input === input);
        typed[input].confirmed = problem?.doubtful === true;
        const reading = (await gaugeleaf.ask({ do: "measure", inputs: { [input]: typed[input] } })).inputs[input];
        const told = element("dd", reading?.understood ?? `Not taken: ${problem?.message ?? ""}`);
        if (reading?.keep !== undefined) taken[input] = reading.keep;
        if (reading && problem) told.append(element("span", ` Unusual: ${problem.message}. Measure it again.`));
        if (!reading) told.className = "refused";
        list.append(element("dt", reading?.label ?? input), told);
      }
      const yes = element("button", "Take over");
      yes.type = "button";
      yes.className = "yes";
      yes.addEventListener("click", () => {
        const kept = gaugeleaf.jobs.add(name || "Job from a link", taken);
        if (kept) location.reload();
        else title.textContent = "This phone keeps nothing, so the job can't be taken over.";
      });
      dialog.append(list, yes, no);
    } catch {
      dialog.append(element("p", "The calculator could not start, so the job can't be read. Open the link again."), no);
    }
    dialog.showModal();
  };
})();
