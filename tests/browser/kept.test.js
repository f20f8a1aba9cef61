// What a crew measured stays measured: a slip loses nothing, and the sheet tells it from what stands in.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { measure, opened, ready, sideways, told } from "./support/job.js";
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
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === "14 in");
    await measure(page, "channel_depth", "140");
    const field = page.locator(".job-form [data-input='channel_depth']");
    const line = field.locator(".not-taken");
    await line.waitFor({ state: "visible" });
    assert.match(plain(await line.innerText()), /^`140 in` was not taken\. The job still holds 14 in\./);
    assert.equal(await page.evaluate(() => gaugeleaf.store.kept()?.given.channel_depth), "14 in");
    assert.match(await page.locator(".job-count").innerText(), /^1 of \d+ measured\. 1 entry was not taken: Channel head depth\./);
    assert.deepEqual(await violations(page), []);

    await follow(page, "fit/guide-tubes.html");
    assert.equal(await told(page, "guide-tube-length.length"), "26 3/4 in (T1 21 3/8 in)");
    assert.match(plain(await page.locator(".job-bar").innerText()), /Channel head depth: `140 in` was not taken, 14 in still holds\./);
    assert.equal(await sideways(page), 0);

    await page.goto(it.url("jobs.html"));
    await opened(page);
    assert.equal(await field.locator("input.entry").inputValue(), "140");
    assert.equal(await field.locator("input.entry").getAttribute("aria-invalid"), "true");
    await line.getByText("Keep 14 in").click();
    await page.waitForFunction(() => Object.keys(gaugeleaf.store.kept()?.refused ?? {}).length === 0);
    assert.equal(await field.locator("input.entry").inputValue(), "14 in");
    assert.ok(await line.isHidden());
    assert.ok(await field.locator(".problem").isHidden());
  }, phone));

test("a measurement goes only when its field is left empty, and comes back by a tap", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === "14 in");
    const field = page.locator(".job-form [data-input='channel_depth']");
    // a hand that rests over an emptied field takes nothing away
    await field.locator("input.entry").fill("");
    await page.waitForFunction(() => new Promise((done) => setTimeout(() => done(true), 700)));
    assert.equal(await page.evaluate(() => gaugeleaf.store.kept()?.given.channel_depth), "14 in");
    await field.locator("input.entry").blur();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === undefined);
    await field.getByText("Put 14 in back").click();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === "14 in");
    assert.equal(await field.locator("input.entry").inputValue(), "14 in");
  }));

test("the crew's own setup sheet tells what was measured on the job from what stands in", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await measure(page, "tube_od", "3/4");
    await follow(page, "survey/setup-sheet.html");
    const row = async (name) => plain(await page.locator(`.setup tr:has([data-origin="${name}"])`).innerText());
    for (const name of ["channel_depth", "tube_od"]) {
      const text = await row(name);
      assert.match(text, /measured on this job/);
      assert.doesNotMatch(text, /not measured/);
    }
    assert.match(await row("tube_length"), /not measured: T1's value/);
    const measurements = await page.locator(".setup [data-origin]:not([data-source])").count();
    assert.equal(await page.locator(".setup .stands-in").count(), measurements - 2);
    assert.match(plain(await page.locator(".job-missing").innerText()), new RegExp(`^Not measured on this job, ${measurements - 2} of ${measurements}\\. The values of T1 stand in: .*tube length`));
    assert.deepEqual(await violations(page), []);
  }));

test("what is typed goes to the job that the form shows, though another window took another in hand", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === "14 in");
    const first = await page.evaluate(() => gaugeleaf.jobs.inHand());
    const other = await page.context().newPage();
    await other.goto(it.url("jobs.html"));
    await opened(other);
    // a hand is in a field here while the other window begins a job
    const entry = page.locator(".job-form [data-input='channel_depth'] input.entry");
    await entry.focus();
    await other.evaluate(() => gaugeleaf.jobs.add("Other", { channel_depth: "9 in" }));
    await page.waitForFunction(() => /** @type {HTMLInputElement} */ (document.querySelector(".job-name-text")).value === "Other");
    assert.equal(await entry.inputValue(), "9 in");
    await measure(page, "channel_depth", "10");
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === "10 in");
    const given = await page.evaluate((first) => gaugeleaf.jobs.all()[first].given, first);
    assert.deepEqual(given, { channel_depth: "14 in" });
  }));

test("a hand that rests over half a number replaces nothing, and what held before is offered", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === "14 in");
    const field = page.locator(".job-form [data-input='channel_depth']");
    const entry = field.locator("input.entry");
    await entry.fill("6");
    await page.waitForFunction(() => new Promise((done) => setTimeout(() => done(true), 700)));
    assert.equal(await page.evaluate(() => gaugeleaf.store.kept()?.given.channel_depth), "14 in");
    await entry.fill("65");
    await entry.blur();
    const keep = field.getByText("Keep 14 in");
    await keep.waitFor();
    // the first tap counts, though the field had the focus when it began
    await entry.focus();
    await keep.click();
    await page.waitForFunction(() => Object.keys(gaugeleaf.store.kept()?.refused ?? {}).length === 0);
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
    assert.equal(await page.evaluate(() => gaugeleaf.store.kept()?.given.channel_depth), "14 in");
  }));

test("a doubtful entry that is typed while the form still fills is asked about, not taken", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === "14 in");
    let arrives = () => {};
    await page.route("**/scripts/engine.js", async (route) => {
      await /** @type {Promise<void>} */ (new Promise((done) => { arrives = done; }));
      await route.continue();
    });
    for (const [text, leaves] of /** @type {const} */ ([["60", false], ["61", true]])) {
      await page.reload({ waitUntil: "domcontentloaded" });
      const field = page.locator(".job-form [data-input='channel_depth']");
      await page.waitForFunction(() => /** @type {HTMLInputElement} */ (document.querySelector("[data-input='channel_depth'] input")).value !== "");
      await field.locator("input.entry").fill(text);
      if (leaves) await field.locator("input.entry").blur();
      arrives();
      await opened(page);
      await field.locator(".problem").waitFor({ state: "visible" });
      assert.match(plain(await field.locator(".problem-message").innerText()), new RegExp(`${text} in. is outside the usual`));
      assert.equal(await page.evaluate(() => gaugeleaf.store.kept()?.given.channel_depth), "14 in");
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
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.flange_thickness === "1.9 in");
    await page.goto(it.url("jobs/t2.html"));
    await take();
    assert.equal(await page.evaluate(() => gaugeleaf.store.kept()?.given.flange_thickness), "1.9 in");
  }));
