// The page's own keys, as a finger presses them.
import { Widget } from "./widget.js";

/** @typedef {import("playwright-core").Page} Page */

/** Once what helps to type has come. @param {Page} page */
export const typing = (page) => page.waitForFunction(() => globalThis.gaugeleaf?.typing && gaugeleaf.pinned);
/** @param {Page} page */
export const padded = (page) => page.waitForFunction(() => document.querySelectorAll(".keypad:not([hidden]) button").length > 0 && getComputedStyle(document.querySelector(".keypad:not([hidden])")).position === "fixed");

/** @param {Page} page @param {string} input */
export async function tapped(page, input) {
  const widget = await Widget.live(page, "guide-tube-length");
  await typing(page);
  await page.waitForFunction(() => document.querySelector(".field .entry")?.getAttribute("inputmode") === "none");
  await widget.entry(input).tap();
  await padded(page);
  return widget;
}

/** Presses keys by what they say. @param {Page} page @param {string[]} names */
export async function press(page, ...names) {
  for (const name of names) await page.locator(".keypad:not([hidden])").getByRole("button", { name, exact: true }).tap();
}

/** What is selected in the field that has the focus. @param {Page} page */
export const selected = (page) => page.evaluate(() => {
  const entry = /** @type {HTMLInputElement} */ (document.activeElement);
  return entry.value.slice(entry.selectionStart ?? 0, entry.selectionEnd ?? 0);
});
