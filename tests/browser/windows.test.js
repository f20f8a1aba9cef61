// Two windows of one job: what is typed, ticked and marked in both is kept in both, and neither shows what holds no more.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { begun, every, holds, keptJobs, measure, opened, ready, told } from "./support/job.js";
import { pages, read } from "./support/site.js";
import { counts, live, mode, tap } from "./support/tubes.js";
import { plain } from "./support/widget.js";

const it = reader();
const checks = pages.find((path) => read(path).includes('class="checks"')) ?? "";

/** @typedef {import("playwright-core").Page} Page */

/** Another window of the same phone. @param {Page} page @param {string} path */
async function beside(page, path) {
  const other = await page.context().newPage();
  await other.goto(it.url(path));
  return other;
}

/** @param {Page} page @param {string} name */
const entry = (page, name) => page.locator(`.job-form [data-input="${name}"] input.entry`);

/** Waits until a field shows this. @param {Page} page @param {string} name @param {string} text */
const shows = (page, name, text) =>
  page.waitForFunction(({ name, text }) => /** @type {HTMLInputElement} */ (document.querySelector(`.job-form [data-input="${name}"] input.entry`)).value === text, { name, text });

/** Two forms of one job. @param {Page} page */
async function two(page) {
  await opened(page);
  await measure(page, "channel_depth", "9");
  await holds(page, "channel_depth", "9 in");
  const other = await beside(page, "jobs.html");
  await opened(other);
  return other;
}

/** The one job that is kept. @param {Page} page */
async function only(page) {
  const jobs = Object.values(await keptJobs(page));
  assert.equal(jobs.length, 1);
  return /** @type {Record<string, string>} */ (Object.fromEntries(Object.entries(jobs[0].given).map(([name, one]) => [name, one.text])));
}

test("fields that are typed in two windows are kept in both, though a hand is in another field there", () =>
  it.visit("jobs.html", async (page) => {
    const other = await two(page);
    // a cursor stands in each, and types nothing yet
    await entry(page, "tube_od").focus();
    await entry(other, "tube_pitch").focus();
    await measure(page, "tube_length", "12");
    await shows(other, "tube_length", "12 ft");
    await entry(page, "tube_od").focus();
    await measure(other, "flange_thickness", "2");
    await shows(page, "flange_thickness", "2 in");
    // and one right after the other; browsers share what is kept without a lock, so not in the same instant
    await entry(page, "tube_od").fill("3/4");
    await entry(other, "tube_pitch").fill("1");
    await entry(page, "tube_od").blur();
    await shows(other, "tube_od", "3/4 in");
    await entry(other, "tube_pitch").blur();
    for (const one of [page, other]) {
      await shows(one, "tube_pitch", one === page ? "1 in" : "1");
      await shows(one, "tube_od", one === page ? "3/4" : "3/4 in");
    }
    assert.deepEqual(await only(page), {
      channel_depth: "9 in", tube_length: "12 ft", flange_thickness: "2 in", tube_od: "3/4 in", tube_pitch: "1 in",
    });
  }));

test("of one field the last entry wins; the other window shows it, and tells a hand that is typing there", () =>
  it.visit("jobs.html", async (page) => {
    const other = await two(page);
    await measure(other, "channel_depth", "10");
    await shows(page, "channel_depth", "10 in");
    await entry(page, "channel_depth").fill("12");
    await measure(other, "channel_depth", "11");
    const line = page.locator('.job-form [data-input="channel_depth"] .not-taken');
    await line.waitFor({ state: "visible" });
    assert.equal(plain(await line.innerText()), "Another window kept 11 in here.");
    assert.equal(await entry(page, "channel_depth").inputValue(), "12");
    assert.deepEqual(await violations(page), []);
    await entry(page, "channel_depth").blur();
    await holds(page, "channel_depth", "12 in");
    await shows(other, "channel_depth", "12 in");
    assert.deepEqual(await only(page), { channel_depth: "12 in" });
  }));

test("a page of the handbook shows what another window types", () =>
  it.visit("jobs.html", async (page) => {
    const other = await beside(page, "index.html");
    await opened(page);
    await measure(page, "channel_depth", "9");
    await ready(other);
    assert.match(await told(other, "channel_depth"), /^9 in/);
    await measure(page, "channel_depth", "14");
    await other.waitForFunction(() => /^14/.test(document.querySelector("main .job-value[data-value='channel_depth']")?.textContent ?? ""));
  }));

test("what is typed and not left yet stays with its job when another window takes another in hand", () =>
  it.visit("jobs.html", async (page) => {
    const other = await two(page);
    const first = await page.evaluate(() => gaugeleaf.jobs.inHand());
    await entry(page, "tube_length").fill("12");
    await begun(other, "Second", { tube_length: "99 in" });
    await shows(page, "tube_length", "99 in");
    const jobs = await keptJobs(page);
    assert.equal(jobs[first].given.tube_length.text, "12 ft");
    assert.deepEqual(Object.values(jobs).map((job) => job.given.tube_length.text).sort(), ["12 ft", "99 in"]);
  }));

test("what is typed for a job that another window deletes becomes no other job's", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    const next = await begun(page, "Next", { channel_depth: "14 in" });
    const gone = await begun(page, "Gone", { channel_depth: "9 in" });
    await page.reload();
    await opened(page);
    await shows(page, "channel_depth", "9 in");
    const other = await beside(page, "jobs.html");
    await opened(other);
    await entry(page, "tube_od").fill("3/4");
    await other.evaluate(({ next, gone }) => {
      gaugeleaf.jobs.remove(gone);
      gaugeleaf.jobs.choose(next);
    }, { next, gone });
    await shows(page, "channel_depth", "14 in");
    await shows(page, "tube_od", "");
    await entry(page, "tube_od").blur();
    await measure(page, "tube_length", "12");
    await holds(page, "tube_length", "12 ft");
    assert.deepEqual(Object.keys((await keptJobs(page))[next].given).sort(), ["channel_depth", "tube_length"]);
  }));

test("ticks and marks that are made in two windows are all kept", () =>
  it.visit(checks, async (page) => {
    const tick = (of, nth) => of.locator(".checks").first().locator("input.tick").nth(nth);
    const other = await beside(page, checks);
    // what one window keeps takes a moment to reach the other, which a busy machine draws out
    const reached = async (from, to) => {
      const kept = await from.evaluate(() => JSON.stringify(Object.entries(localStorage).sort()));
      await to.waitForFunction((kept) => JSON.stringify(Object.entries(localStorage).sort()) === kept, kept);
    };
    await tick(page, 0).click();
    await reached(page, other);
    await tick(other, 1).click();
    await reached(other, page);
    await tick(page, 2).click();
    await reached(page, other);
    await tick(other, 0).click();
    for (const one of [page, other]) {
      await one.waitForFunction(() => [...document.querySelector(".checks")?.querySelectorAll("input.tick") ?? []].slice(0, 3)
        .map((tick) => Number(/** @type {HTMLInputElement} */ (tick).checked)).join("") === "011");
    }
    for (const one of [page, other]) {
      await one.goto(it.url("run/tube-map.html"));
      await live(one);
    }
    await mode(other, "plugged");
    for (const tube of [1, 3, 5, 7]) {
      await tap(page, tube);
      await reached(page, other);
      await tap(other, tube + 1);
      await reached(other, page);
    }
    for (const one of [page, other]) {
      await one.waitForFunction(() => document.querySelector('[data-count="plugged"]')?.textContent === "4");
      const { cleaned, plugged } = await counts(one);
      assert.deepEqual([cleaned, plugged], [4, 4]);
    }
  }));

test("a job that another window deletes is told, on the form and on every page, and comes back whole", () =>
  it.visit("jobs.html", async (page) => {
    const other = await two(page);
    const reading = await beside(page, "index.html");
    await ready(reading);
    const before = await keptJobs(page);
    await entry(page, "tube_length").fill("12");
    await other.locator(".job-delete").click();
    await page.waitForFunction(() => /was deleted in another window/.test(document.querySelector(".job-said")?.textContent ?? ""));
    assert.match(await page.locator(".job-said").innerText(), /^Job My job was deleted in another window\./);
    // what was typed stays under the hand, and in nobody's job
    assert.equal(await entry(page, "tube_length").inputValue(), "12");
    assert.equal(await entry(page, "channel_depth").inputValue(), "");
    assert.deepEqual(await keptJobs(page), {});

    await reading.waitForFunction(() => /was deleted in another window/.test(document.querySelector(".job-bar")?.textContent ?? ""));
    assert.match(plain(await reading.locator(".job-bar").innerText()), /^Job My job was deleted in another window\. These are the values of T1\./);
    assert.equal(await reading.locator("main .job-value").count(), 0);
    assert.deepEqual(await violations(reading), []);
    await reading.locator(".job-bar").getByText("I have seen it").click();
    await reading.waitForFunction(() => !document.documentElement.classList.contains("with-job"));

    await entry(page, "tube_length").blur();
    await holds(page, "tube_length", "12 ft");
    await page.locator(".job-undo").click();
    await shows(page, "channel_depth", "9 in");
    const { [Object.keys(before)[0]]: back, ...others } = await keptJobs(page);
    // what was typed meanwhile has begun a job of the same name, as was told
    assert.deepEqual(back, { ...Object.values(before)[0], name: "My job (2)" });
    assert.deepEqual(Object.values(others).map((job) => [job.name, Object.keys(job.given)]), [["My job", ["tube_length"]]]);
  }));

test("a page that was left or asleep while the job changed shows nothing of the job that it knew", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "First", await every(page));
    const first = await page.evaluate(() => gaugeleaf.jobs.inHand());
    await begun(page, "Second", { channel_depth: "14 in" });
    for (const event of ["pageshow", "visibilitychange"]) {
      await page.evaluate((id) => gaugeleaf.store.set("job", id), first);
      await page.goto(it.url("index.html"));
      await ready(page);
      // a page in a browser's memory hears of no storage event
      await page.evaluate((event) => {
        const ids = Object.keys(localStorage).filter((key) => key.includes(".job/")).map((key) => key.replace(/.*\.job\//, ""));
        const own = gaugeleaf.store.own("job");
        const other = ids.find((id) => id !== JSON.parse(localStorage.getItem(own) ?? ""));
        localStorage.setItem(own, JSON.stringify(other));
        (event === "pageshow" ? globalThis : document).dispatchEvent(new PageTransitionEvent(event, { persisted: true }));
      }, event);
      await page.waitForFunction(() => document.querySelector(".job-bar .job-name")?.textContent === "Second");
      await ready(page);
      assert.match(await told(page, "channel_depth"), /^14 in/);
    }
  }));

test("a page whose ticks find no room hides the values of a job that changed, and does not throw the ticks away", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Dock", { ...(await every(page)), bundle_diameter: "22 1/4 in", odd_method: "lance" });
    const both = pages.find((path) => read(path).includes('class="checks"') && read(path).includes("data-widget")) ?? "";
    const working = await beside(page, both);
    await ready(working);
    await working.evaluate(() => {
      const put = Storage.prototype.setItem;
      Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };
      Object.assign(globalThis, { put });
    });
    await working.locator("input.tick").first().click();
    await page.reload();
    await opened(page);
    await measure(page, "channel_depth", "15");
    await working.waitForFunction(() => /Another window has changed the job/.test(document.querySelector(".job-bar")?.textContent ?? ""));
    assert.equal(await working.locator("input.tick").first().isChecked(), true);
    assert.equal(await working.locator("main .value[data-fixed]:visible").count(), 0);
    assert.equal(await working.locator(".widget-body:visible").count(), 0);
    await working.locator(".job-bar").getByText("Show the job as it is now").click();
    await ready(working);
    assert.match(plain(await working.locator(".job-bar").innerText()), /Job Dock/);
  }));
