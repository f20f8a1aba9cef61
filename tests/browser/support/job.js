// The job's form as a crew fills it in, and what a page shows of the job in hand.
import { plain } from "./widget.js";

/** @typedef {import("playwright-core").Page} Page */

/** Opens the form and waits until it stands. @param {Page} page */
export async function opened(page) {
  await page.waitForFunction(() => document.querySelector(".job-count")?.textContent !== "");
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

/** Waits until the page shows the job's values. @param {Page} page */
export const ready = (page) => page.waitForFunction(() => document.documentElement.classList.contains("job-ready"));

/** The first link to a value, with what stands beside it. @param {Page} page @param {string} value */
export async function told(page, value) {
  const link = page.locator(`main .value[data-value="${value}"]:not([data-also])`).first();
  return plain(await link.evaluate((link) => (link.textContent ?? "") + (link.nextElementSibling?.matches(".own-value") ? link.nextElementSibling.textContent : "")));
}

/** @param {Page} page */
export const sideways = (page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
