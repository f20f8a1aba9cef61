// What the phone keeps of a job: older and newer editions are told, and so is a phone that may forget it.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { holds, kept, keptJobs, measure, opened, texts } from "./support/job.js";
import { plain } from "./support/widget.js";

const it = reader();

/** Puts a job into the phone's memory as another edition did, and takes it in hand. */
const put = (page, id, job) =>
  page.evaluate(({ id, job }) => {
    localStorage.setItem(gaugeleaf.store.own("jobs"), JSON.stringify({ [id]: job }));
    localStorage.setItem(gaugeleaf.store.own("job"), JSON.stringify(id));
  }, { id, job });

test("a job of the first edition is read as measured on a day not known, and the form says so", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await put(page, "old", { name: "Old", note: "", given: { channel_depth: "14 in" }, made: "2026-01-01T00:00:00Z" });
    await page.reload();
    await opened(page);
    assert.match(await page.locator(".job-count").innerText(), /^1 of \d+ measured\..*without their day: the date is not known/);
    const from = page.locator(".measure:has([data-input='channel_depth']) .measure-from");
    await from.waitFor();
    assert.equal(await from.innerText(), "measured, date not known");
    await measure(page, "tube_od", "3/4");
    await holds(page, "tube_od", "3/4 in");
    // what was changed is kept by itself, and once; a page of the edition before finds a job that is beyond it
    const { old } = await keptJobs(page);
    assert.deepEqual(await kept(page, "jobs"), { old: { version: 99, name: "Old" } });
    const today = await page.evaluate(() => gaugeleaf.jobs.today());
    assert.deepEqual([old.version, old.given], [
      2,
      { channel_depth: { text: "14 in", when: "date not known" }, tube_od: { text: "3/4 in", when: today } },
    ]);
  }));

test("a job that was moved is listed once, and leaves nothing behind once it is deleted", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await put(page, "old", { name: "Old", note: "", given: { channel_depth: "14 in" } });
    await page.reload();
    await opened(page);
    await measure(page, "tube_od", "3/4");
    await holds(page, "tube_od", "3/4 in");
    const listed = () => page.evaluate(() => [Object.keys(gaugeleaf.jobs.all()), Object.keys(gaugeleaf.jobs.newer()), gaugeleaf.jobs.named("Old")]);
    assert.deepEqual(await listed(), [["old"], [], "Old (2)"]);
    // a page whose edition knows nothing of the new place reads the old one alone
    const [key, own] = await page.evaluate(() => [gaugeleaf.store.own("job/old"), gaugeleaf.store.own("jobs")]);
    const beyond = await page.evaluate((own) => gaugeleaf.store.opened(JSON.parse(localStorage.getItem(own) ?? "{}").old) === undefined, own);
    assert.equal(beyond, true);
    await page.evaluate((key) => localStorage.removeItem(key), key);
    assert.deepEqual(await listed(), [[], [], "Old"]);
    await page.evaluate(() => gaugeleaf.jobs.remove("old"));
    assert.equal(await kept(page, "jobs"), null);
  }));

test("a job in hand that a newer handbook made is told, and left as it is", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    const far = { version: 3, name: "Far", given: { channel_depth: { deep: 1 } } };
    await put(page, "far", far);
    await page.goto(it.url("index.html"));
    await page.locator(".job-bar .job-name").waitFor();
    assert.match(plain(await page.locator(".job-bar").innerText()), /Job Far can't be shown: it was made by a newer handbook/);
    assert.equal(await page.locator(".hand").isVisible(), false);
    assert.deepEqual(await kept(page, "jobs"), { far });
    assert.deepEqual(await texts(page), {});
  }));

test("the form says before a job is long that the browser may forget it, and asks it not to", () =>
  it.visit("jobs.html", async (page) => {
    await page.addInitScript(() => {
      const storage = { persisted: async () => false, persist: async () => { Object.assign(globalThis, { asked: true }); return false; } };
      Object.defineProperty(navigator, "storage", { value: storage });
    });
    await page.reload();
    const line = page.locator(".job-lasts");
    await line.waitFor();
    assert.equal(await line.innerText(), "This browser may forget the job after some days. Carry it to another phone, or print the sheet, before you leave.");
    await opened(page);
    assert.equal(await page.evaluate(() => "asked" in globalThis), false);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    assert.equal(await page.evaluate(() => "asked" in globalThis), true);
    assert.deepEqual(await violations(page), []);
  }));

test("a phone that keeps the job says nothing; a full one and a folder are told", async () => {
  await it.visit("jobs.html", async (page) => {
    await page.addInitScript(() => {
      Object.defineProperty(navigator, "storage", { value: { persisted: async () => true, persist: async () => true } });
    });
    await page.reload();
    await opened(page);
    assert.equal(await page.locator(".job-lasts").isVisible(), false);
    await page.addInitScript(() => {
      Storage.prototype.setItem = () => { throw new DOMException("no room", "QuotaExceededError"); };
    });
    await page.reload();
    const line = page.locator(".job-lasts");
    await line.waitFor();
    assert.match(await line.innerText(), /^This phone's storage is full/);
  });
  await it.visit("jobs.html", async (page) => {
    const line = page.locator(".job-lasts");
    await line.waitFor();
    assert.match(await line.innerText(), /^This handbook lies in a folder/);
  }, { from: "file" });
});
