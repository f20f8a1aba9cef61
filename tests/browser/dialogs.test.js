// Phones of before 2022 know no dialogs: the search is a page there, and what has to be asked is asked all the same.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { holds, opened } from "./support/job.js";
import { counts, live, mode, tap } from "./support/tubes.js";

const it = reader();

/** A browser as it was then. @param {import("playwright-core").Page} page */
async function old(page) {
  await page.addInitScript(() => {
    for (const name of ["showModal", "show", "close"]) delete /** @type {any} */ (HTMLDialogElement.prototype)[name];
  });
  await page.reload();
}

test("without dialogs the search's key and the slash lead to its page", () =>
  it.visit("fit/guide-tubes.html", async (page) => {
    await old(page);
    await page.locator(".bar-search").click();
    await page.waitForURL(/search\.html$/);
    await page.goto(it.url("fit/guide-tubes.html"));
    await page.keyboard.press("/");
    await page.waitForURL(/search\.html$/);
    await page.locator("main input[type=search]").fill("guide tube");
    await page.locator("main .hits a, main .search-hits a, main li a").first().waitFor();
  }));

test("without dialogs a plugged tube is asked about over the page, and Escape leaves it", () =>
  it.visit("run/tube-map.html", async (page) => {
    await old(page);
    await live(page);
    await mode(page, "plugged");
    await tap(page, 5);
    await mode(page, "cleaned");
    await tap(page, 5);
    const ask = page.locator(".tube-ask");
    await ask.waitFor();
    assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Leave it plugged");
    await page.keyboard.press("Tab");
    assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Mark it as cleaned");
    await page.keyboard.press("Escape");
    await ask.waitFor({ state: "detached" });
    assert.equal((await counts(page)).plugged, 1);
    await tap(page, 5);
    await ask.getByText("Mark it as cleaned").click();
    const { plugged, cleaned } = await counts(page);
    assert.deepEqual([plugged, cleaned], [0, 1]);
  }, { viewport: { width: 320, height: 640 }, hasTouch: true }));

test("without dialogs a job that arrives by link is shown first, and taken only then", () =>
  it.visit("jobs.html", async (page) => {
    await old(page);
    await page.goto(`${it.url("jobs.html")}#job=Dock&channel_depth=14+in`);
    await page.locator(".take-over .yes").click();
    await opened(page);
    await holds(page, "channel_depth", "14 in");
  }));
