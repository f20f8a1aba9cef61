// The job's form as a crew fills it in, and what a page shows of the job in hand.
import { plain } from "./widget.js";

/** @typedef {import("playwright-core").Page} Page */

/** Opens the form and waits until it stands. @param {Page} page */
export async function opened(page) {
  await page.waitForFunction(() => document.querySelector(".job-count")?.textContent !== "");
}

/** Unfolds what a short list folds: the job's own line, and the line of a measurement. @param {Page} page @param {string[]} names */
export async function unfolded(page, ...names) {
  await page.waitForFunction(() => globalThis.gaugeleaf?.jobList);
  await page.locator(".job-more").evaluate((more) => more.setAttribute("open", ""));
  for (const name of names) await page.locator(`.measure:has([data-input="${name}"]) .measure-door`).focus();
}

/** @param {Page} page @param {string} name @param {string} text */
export async function measure(page, name, text) {
  const entry = page.locator(`.job-form [data-input="${name}"] input.entry`);
  await entry.fill(text);
  await entry.blur();
  await page.waitForFunction(() => document.activeElement === document.body);
}

/** What the phone keeps under a key. @param {Page} page @param {string} key */
export const kept = (page, key) =>
  page.evaluate((key) => JSON.parse(localStorage.getItem(gaugeleaf.store.own(key)) ?? "null"), key);

/** The jobs that the phone keeps, each by itself, by their ids. @param {Page} page @returns {Promise<Record<string, any>>} */
export const keptJobs = (page) =>
  page.evaluate(() => {
    const start = gaugeleaf.store.own("job/");
    const keys = Object.keys(localStorage).filter((key) => key.startsWith(start));
    return Object.fromEntries(keys.map((key) => [key.slice(start.length), JSON.parse(localStorage.getItem(key) ?? "null")]));
  });

/** Waits until the page shows the job's values. @param {Page} page */
export const ready = (page) => page.waitForFunction(() => document.documentElement.classList.contains("job-ready"));

/** The first link to a value. @param {Page} page @param {string} value */
export async function told(page, value) {
  const link = page.locator(`main .value[data-value="${value}"]:not([data-also])`).first();
  return plain((await link.textContent()) ?? "");
}

/** @param {Page} page */
export const sideways = (page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/**
 * Begins a job with these values, all taken on one day, and takes it in hand; gives its id.
 * @param {Page} page on which jobs.js is loaded
 * @param {string} name
 * @param {Record<string, string>} values
 * @param {string} when
 */
export const begun = (page, name, values, when = "2026-11-26") =>
  page.evaluate(({ name, values, when }) => {
    const given = Object.fromEntries(Object.entries(values).map(([input, text]) => [input, { text, when }]));
    gaugeleaf.jobs.add({ name, given });
    return gaugeleaf.jobs.inHand();
  }, { name, values, when });

/** The texts of the job in hand. @param {Page} page @returns {Promise<Record<string, string>>} */
export const texts = (page) =>
  page.evaluate(() => Object.fromEntries(Object.entries(gaugeleaf.store.kept()?.given ?? {}).map(([name, one]) => [name, one.text])));

/** Waits until the job in hand holds this of a value. @param {Page} page @param {string} name @param {string} [text] */
export const holds = (page, name, text) =>
  page.waitForFunction(({ name, text }) => globalThis.gaugeleaf?.store.kept()?.given[name]?.text === text, { name, text });

/** Every measurement of the form with its example, or a choice. @param {Page} page */
export const every = (page) =>
  page.evaluate(() => {
    const fields = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".job-form [data-input]")]);
    return Object.fromEntries(fields.map((field) => {
      const radio = /** @type {HTMLInputElement | null} */ (field.querySelector("input[type=radio]"));
      const example = field.parentElement?.querySelector(".measure-own b")?.textContent ?? "";
      return [field.dataset.input ?? "", radio ? radio.value : example.replaceAll("\u00a0", " ") || "1"];
    }));
  });
