// What a crew measured stays measured: a slip loses nothing, and the sheet tells it from what stands in.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { begun, holds, measure, opened, ready, sideways, texts, told } from "./support/job.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 320, height: 640 }, hasTouch: true };

/** @typedef {import("playwright-core").Page} Page */

/** @param {Page} page @param {string} path */
async function follow(page, path) {
  await page.goto(it.url(path));
  await ready(page);
}

test("a refused slip leaves the last good measurement, says so on every page, and is put right by a tap", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    await measure(page, "channel_depth", "140");
    const field = page.locator(".job-form [data-input='channel_depth']");
    const line = field.locator(".not-taken");
    await line.waitFor({ state: "visible" });
    assert.match(plain(await line.innerText()), /^140 in was not taken; keep 14 in\?/);
    assert.equal((await texts(page)).channel_depth, "14 in");
    assert.match(await page.locator(".job-count").innerText(), /^0 of \d+ measured\. 1 entry was not taken: Channel head depth\./);
    assert.deepEqual(await violations(page), []);

    await follow(page, "fit/guide-tubes.html");
    // nothing stands on the older value before the crew has settled it
    assert.equal(await page.locator("main [data-value='guide-tube-length.length']:visible").count(), 0);
    assert.match(plain(await page.locator(".no-value").first().innerText()), /^not settled: /);
    assert.match(plain(await page.locator(".job-bar").innerText()), /Channel head depth: 140 in was not taken; keep 14 in\?/);
    assert.equal(await sideways(page), 0);

    await page.goto(it.url("jobs.html"));
    await opened(page);
    assert.equal(await field.locator("input.entry").inputValue(), "140");
    assert.equal(await field.locator("input.entry").getAttribute("aria-invalid"), "true");
    await line.getByRole("button", { name: "Keep 14 in" }).click();
    await page.waitForFunction(() => Object.keys(globalThis.gaugeleaf?.store.kept()?.refused ?? { none: 1 }).length === 0);
    assert.equal(await field.locator("input.entry").inputValue(), "14 in");
    assert.ok(await line.isHidden());
    assert.ok(await field.locator(".problem").isHidden());
  }, phone));

test("a measurement goes only when its field is left empty, and comes back by a tap", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    const field = page.locator(".job-form [data-input='channel_depth']");
    // a hand that rests over an emptied field takes nothing away
    await field.locator("input.entry").fill("");
    await page.waitForFunction(() => new Promise((done) => setTimeout(() => done(true), 700)));
    assert.equal((await texts(page)).channel_depth, "14 in");
    await field.locator("input.entry").blur();
    await holds(page, "channel_depth");
    await field.getByText("Put 14 in back").click();
    await holds(page, "channel_depth", "14 in");
    assert.equal(await field.locator("input.entry").inputValue(), "14 in");
  }));

test("what is typed goes to the job that the form shows, though another window took another in hand", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    const first = await page.evaluate(() => gaugeleaf.jobs.inHand());
    const other = await page.context().newPage();
    await other.goto(it.url("jobs.html"));
    await opened(other);
    // a hand is in a field here while the other window begins a job
    const entry = page.locator(".job-form [data-input='channel_depth'] input.entry");
    await entry.focus();
    await begun(other, "Other", { channel_depth: "9 in" });
    await page.waitForFunction(() => /** @type {HTMLInputElement} */ (document.querySelector(".job-name-text")).value === "Other");
    assert.equal(await entry.inputValue(), "9 in");
    await measure(page, "channel_depth", "10");
    await holds(page, "channel_depth", "10 in");
    const given = await page.evaluate((first) => gaugeleaf.jobs.all()[first].given, first);
    assert.deepEqual([given.channel_depth.text, Object.keys(given).length], ["14 in", 1]);
  }));

test("a hand that rests over half a number replaces nothing, and what held before is offered", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    const field = page.locator(".job-form [data-input='channel_depth']");
    const entry = field.locator("input.entry");
    await entry.fill("6");
    await page.waitForFunction(() => new Promise((done) => setTimeout(() => done(true), 700)));
    assert.equal((await texts(page)).channel_depth, "14 in");
    await entry.fill("65");
    await entry.blur();
    const keep = field.getByRole("button", { name: "Keep 14 in" });
    await keep.waitFor();
    // the first tap counts, though the field had the focus when it began
    await entry.focus();
    await keep.click();
    await page.waitForFunction(() => Object.keys(globalThis.gaugeleaf?.store.kept()?.refused ?? { none: 1 }).length === 0);
    assert.equal(await entry.inputValue(), "14 in");
    for (const text of ["1", ""]) {
      await entry.fill(text);
      await page.waitForFunction(() => new Promise((done) => setTimeout(() => done(true), 600)));
    }
    await entry.blur();
    await field.getByText("Put 14 in back").waitFor();
  }));

test("an entry that is still in hand is kept when the page goes away", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await page.locator(".job-form [data-input='channel_depth'] input.entry").fill("14");
    await page.reload();
    await opened(page);
    assert.equal((await texts(page)).channel_depth, "14 in");
  }));

test("a doubtful entry that is typed while the form still fills is asked about, not taken", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    // whether it is asked for before the field is filled or after
    let arrives = () => {};
    /** @type {Promise<void>} */
    let comes = Promise.resolve();
    await page.route("**/scripts/engine.js*", async (route) => {
      await comes;
      await route.continue();
    });
    for (const [text, leaves] of /** @type {const} */ ([["60", false], ["61", true]])) {
      comes = new Promise((done) => { arrives = done; });
      await page.reload({ waitUntil: "domcontentloaded" });
      const field = page.locator(".job-form [data-input='channel_depth']");
      await page.waitForFunction(() => /** @type {HTMLInputElement} */ (document.querySelector("[data-input='channel_depth'] input")).value !== "");
      await field.locator("input.entry").fill(text);
      if (leaves) await field.locator("input.entry").blur();
      arrives();
      await opened(page);
      await field.locator(".problem").waitFor({ state: "visible" });
      assert.match(plain(await field.locator(".problem-message").innerText()), new RegExp(`${text} in. is outside the usual`));
      assert.equal((await texts(page)).channel_depth, "14 in");
    }
  }));

test("a prepared job that was measured on is taken in hand as it stands", () =>
  it.visit("jobs/t2.html", async (page) => {
    const take = async () => {
      await page.locator(".job-bar button").click();
      await page.waitForFunction(() => /now shows/.test(document.querySelector(".job-says")?.textContent ?? ""));
    };
    await take();
    await page.goto(it.url("jobs.html"));
    await opened(page);
    await measure(page, "flange_thickness", "1.9");
    await holds(page, "flange_thickness", "1.9 in");
    await page.goto(it.url("jobs/t2.html"));
    await take();
    assert.equal((await texts(page)).flange_thickness, "1.9 in");
  }));
