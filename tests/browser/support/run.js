// A run as a thumb goes through it.
import { live } from "./tubes.js";

/** @typedef {import("playwright-core").Page} Page */

/** So long the phone lets a key rest after a press, and some more. */
const REST = 700;
export const start = "2026-11-30T08:00:00";

/** Opens the run, with a clock that stands until it is told. @param {Page} page */
export async function begin(page) {
  await live(page);
  // a busy machine takes its time between the two
  await page.clock.install({ time: new Date(new Date(start).getTime() - 600_000) });
  await page.clock.pauseAt(new Date(start));
  await page.locator(".run-start").click();
  await page.waitForFunction(() => document.querySelector(".run .run-done"));
}

/** Time goes by. @param {Page} page @param {number} [seconds] */
export const wait = (page, seconds = REST / 1000) => page.clock.runFor(1000 * seconds);

/** Says that the stroke in hand is done, after so many seconds. @param {Page} page @param {number} [seconds] */
export async function done(page, seconds = 6) {
  await wait(page, seconds);
  await page.locator(".run-done").click();
}

/** What the run shows. @param {Page} page */
export const shown = (page) =>
  page.evaluate(() => {
    const text = (/** @type {string} */ selector) => (document.querySelector(selector)?.textContent ?? "").replace(/\s+/g, " ").trim();
    const warn = /** @type {HTMLElement | null} */ (document.querySelector(".run-warn"));
    return {
      row: text(".run-row").replace(/ [→←]$/, ""), stroke: `${text(".run-stroke")} ${text(".run-row").slice(-1)}`, said: text(".run-said"), done: text(".run-done"), undo: text(".run-last"),
      warned: warn && !warn.hidden ? text(".run-warned") : "", facts: text(".run-facts"),
      counts: [...document.querySelectorAll(".run-counts b")].map((one) => Number(one.textContent)),
    };
  });

/** What is kept of the job in hand. @param {Page} page */
export const kept = (page) => page.evaluate(() => gaugeleaf.tubeMarks.read(gaugeleaf.store.get(gaugeleaf.store.ofJob("tubes")), ""));

/** The tubes of a stroke. @param {Page} page @param {number} stroke */
export const tubesOf = (page, stroke) =>
  page.locator(`circle[data-stroke="${stroke}"]`).evaluateAll((all) => all.map((one) => Number(one.getAttribute("data-tube"))));
