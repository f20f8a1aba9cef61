// The bar that says whose values the page shows, and the line that says so in print.
"use strict";
(() => {
  const page = document.documentElement;
  const bar = /** @type {HTMLElement} */ (document.querySelector(".job-bar"));
  const { element, store } = gaugeleaf;
  const prepared = page.dataset.job;
  const name = prepared ?? store.kept()?.name ?? "";

  /**
   * @param {string} text
   * @param {() => void} act
   */
  function button(text, act) {
    const made = element("button", "job-act", text);
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  }

  const says = element("p", "job-says", prepared === undefined ? "Values of job " : "This page prepares job ");
  says.append(element("b", "job-name", name));
  bar.append(says);
  const { given = {}, refused = {} } = prepared === undefined ? store.kept() ?? {} : {};
  for (const [input, entry] of Object.entries(refused)) {
    const holds = input in given ? `${given[input]} still holds` : "nothing is measured";
    bar.append(element("p", "job-refused", `${entry.label}: \`${store.typed(entry)}\` was not taken, ${holds}.`));
  }
  if (prepared !== undefined) {
    bar.append(button("Use it on every page", async () => {
      await gaugeleaf.bring("scripts/jobs.js");
      await gaugeleaf.engine();
      const job = gaugeleafPrepared.find((one) => one.name === prepared);
      if (!job) return;
      const kept = gaugeleaf.jobs.prepare(job);
      says.textContent = kept ? "Every page now shows this job. " : "This phone keeps nothing, so the job holds on its own page alone. ";
    }));
  } else {
    bar.append(button(`Back to ${page.dataset.own}`, () => {
      store.set("job", null);
      location.reload();
    }));
  }
  if (bar.dataset.form && !document.querySelector("[data-job-form]")) {
    const link = element("a", "job-act", "The job's form");
    link.href = bar.dataset.form;
    bar.append(link);
  }

  // A sheet of paper outlives the job in hand.
  const printed = document.querySelector(".job-printed");
  const date = () => {
    if (printed) printed.textContent = `Values of job ${name}, printed ${new Date().toLocaleDateString()}`;
  };
  date();
  addEventListener("beforeprint", date);
})();
