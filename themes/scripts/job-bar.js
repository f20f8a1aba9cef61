// The bar that says whose values the page shows, and the line that says so in print.
"use strict";
(() => {
  const page = document.documentElement;
  const bar = /** @type {HTMLElement} */ (document.querySelector(".job-bar"));
  const { element, store } = gaugeleaf;
  const prepared = page.dataset.job;
  const newer = prepared === undefined ? store.newer() : undefined;
  const name = prepared ?? store.kept()?.name ?? newer ?? "";
  /** The form tells of the job's entries itself, as they change. */
  const form = document.querySelector("[data-job-form]") !== null;

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
  if (newer !== undefined) says.append(` can't be shown: it was made by a newer handbook. These are the values of ${page.dataset.own}.`);
  bar.append(says);

  /** Entries that were refused: nothing stands on them until the crew has settled them. */
  function refusals() {
    const { given = {}, refused = {} } = store.kept() ?? {};
    for (const [input, entry] of Object.entries(refused)) {
      const held = given[input]?.text;
      const line = element("p", "job-refused", `${entry.label}: ${store.typed(entry)} was not taken; ${held === undefined ? "nothing is measured." : `keep ${held}?`}`);
      bar.append(line);
      if (held === undefined) continue;
      bar.append(button(`Keep ${held}`, async () => {
        await gaugeleaf.bring("scripts/jobs.js");
        gaugeleaf.jobs.settle(gaugeleaf.jobs.inHand(), input);
        location.reload();
      }));
    }
  }

  if (page.classList.contains("of-job") && !form) {
    const count = element("span", "job-measured");
    says.append(" ", count);
    gaugeleaf.ask({ do: "judge" }).then(({ measured }) => {
      count.textContent = `${measured.taken} of ${measured.of} measured`;
    }).catch(() => { /* job-values says that the calculator could not start */ });
    refusals();
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
  if (bar.dataset.form && !form) {
    const link = element("a", "job-act", "The job's form");
    link.href = bar.dataset.form;
    bar.append(link);
  }

  // A sheet of paper outlives the job in hand.
  const printed = document.querySelector(".job-printed");
  const date = () => {
    if (printed && newer === undefined) printed.textContent = `Values of job ${name}, printed ${new Date().toLocaleDateString()}`;
  };
  date();
  addEventListener("beforeprint", date);
})();
