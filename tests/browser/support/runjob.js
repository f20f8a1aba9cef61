// A job for a run: the handbook's own values, but for some.
import { live } from "./tubes.js";

/** Begins it, takes it in hand, and opens its map. @param {import("playwright-core").Page} page @param {Record<string, string>} more */
export async function job(page, more) {
  await page.evaluate(async (more) => {
    await gaugeleaf.bring("scripts/jobs.js");
    await gaugeleaf.engine();
    const own = gaugeleafPrepared.find((one) => one.name === document.documentElement.dataset.own)?.given ?? {};
    gaugeleaf.jobs.add({ name: "Dock", given: Object.fromEntries(Object.entries({ ...own, ...more }).map(([name, text]) => [name, { text, when: "2026-11-26" }])) });
  }, more);
  await page.reload();
  await live(page);
}
