// The bar that says whose values the page shows, and the line that says so in print.
"use strict";
(() => {
  const page = document.documentElement;
  const bar = /** @type {HTMLElement} */ (document.querySelector(".job-bar"));
  const { element, store } = gaugeleaf;
  const prepared = page.dataset.job;
  const newer = prepared === undefined ? store.newer() : undefined;
  const name = prepared ?? store.kept()?.name ?? newer;
  /** A job that another window deleted while it was in hand here. */
  const gone = /** @type {string | undefined} */ (history.state?.gone);
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

  // One line, and all of it leads to the form: other ways lie there.
  const ways = bar.dataset.form && !form && prepared === undefined && gone === undefined && name !== undefined;
  const says = element("p", "job-says", prepared === undefined ? worded("job_bar.values_of") : worded("job_bar.prepares"));
  if (name !== undefined) says.append(element("b", "job-name", name));
  else says.textContent = `${gone === undefined ? worded("job_bar.lost") : worded("job_bar.gone", { job: gone })} ${worded("job_bar.own", { own: page.dataset.own ?? "" })}`;
  if (name !== undefined && gone !== undefined) bar.append(element("p", "job-refused", worded("job_bar.gone", { job: gone })));
  if (newer !== undefined) says.append(worded("job_bar.newer", { own: page.dataset.own ?? "" }));
  const way = /** @type {HTMLAnchorElement} */ (element("a", "job-way", says));
  if (ways) way.href = bar.dataset.form ?? "";
  bar.append(ways ? way : says);

  /** Entries that were refused: nothing stands on them until the crew has settled them. */
  function refusals() {
    const { given = {}, refused = {} } = store.kept() ?? {};
    for (const [input, entry] of Object.entries(refused)) {
      const held = given[input]?.text;
      const typed = store.typed(entry);
      const line = element("p", "job-refused", held === undefined
        ? worded("job_bar.not_taken", { entry: entry.label, typed })
        : entry.doubt
          ? `${entry.label}: ${worded("job_form.doubted", { held })}`
          : worded("job_bar.not_taken_keep", { entry: entry.label, typed, held }));
      bar.append(line);
      if (held === undefined) continue;
      bar.append(button(worded("job_bar.keep", { held }), async () => {
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
      count.textContent = worded("job_bar.measured", { taken: measured.taken, of: measured.of });
    }).catch(() => { /* job-values says that the calculator could not start */ });
    refusals();
  }
  if (prepared !== undefined) {
    bar.append(button(worded("job_bar.use"), async () => {
      await gaugeleaf.bring("scripts/jobs.js");
      await gaugeleaf.engine();
      const job = gaugeleafPrepared.find((one) => one.name === prepared);
      if (!job) return;
      const kept = gaugeleaf.jobs.prepare(job);
      says.textContent = kept ? worded("job_bar.every_page") : worded("job_bar.keeps_nothing");
    }));
  } else if (name === undefined || gone !== undefined) {
    bar.append(button(worded("job_bar.seen"), () => {
      history.replaceState({ ...history.state, gone: undefined }, "");
      if (name === undefined) store.set("job", null);
      location.reload();
    }));
  } else if (!ways) {
    bar.append(button(worded("job_bar.back", { own: page.dataset.own ?? "" }), () => {
      store.set("job", null);
      location.reload();
    }));
  }
  if (bar.dataset.form && !form && !ways) {
    const link = element("a", "job-act", worded("job_bar.form"));
    link.href = bar.dataset.form;
    bar.append(link);
  }

  gaugeleaf.stale = () => bar.replaceChildren(
    element("p", "job-says", worded("job_bar.stale")),
    button(worded("job_bar.anew"), () => location.reload()),
  );

  // A sheet of paper outlives the job in hand.
  const printed = document.querySelector(".job-printed");
  const date = () => {
    if (printed && name !== undefined && newer === undefined) printed.textContent = worded("job_bar.printed", { job: name, day: new Intl.DateTimeFormat([], { dateStyle: "medium", timeStyle: "short" }).format() });
  };
  date();
  addEventListener("beforeprint", date);
})();
