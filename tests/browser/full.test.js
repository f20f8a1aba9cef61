// A phone without room: what is typed is told at once as not kept, what was kept stays whole, and nothing older passes for it.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { begun, every, holds, keptJobs, measure, opened, ready, sideways } from "./support/job.js";
import { fill, free } from "./support/room.js";
import { pages, read } from "./support/site.js";
import { counts, live, tap } from "./support/tubes.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };
const checks = pages.find((path) => read(path).includes('class="checks"')) ?? "";

/** @typedef {import("playwright-core").Page} Page */

/** @param {Page} page @param {string} name */
const field = (page, name) => page.locator(`.job-form [data-input="${name}"]`);

/** Another page of the same phone. @template T @param {Page} page @param {string} path @param {(page: Page) => Promise<T>} use */
async function beside(page, path, use) {
  const other = await page.context().newPage();
  await other.goto(it.url(path));
  const found = await use(other);
  await other.close();
  return found;
}

test("an entry that finds no room says so beside it, the value before stays whole, and no other page takes that for the newest", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Dock", { ...(await every(page)), channel_depth: "9 in", bundle_diameter: "22 1/4 in", odd_method: "lance" });
    await page.reload();
    await opened(page);
    await fill(page);
    const before = await keptJobs(page);
    await measure(page, "channel_depth", "14");
    const line = field(page, "channel_depth").locator(".not-taken");
    await line.waitFor({ state: "visible" });
    assert.match(plain(await line.innerText()), /^This phone could not keep this entry/);
    assert.equal(await line.getAttribute("role"), "status");
    assert.match(await page.locator(".job-lasts").innerText(), /^This phone's storage is full/);
    assert.equal(await sideways(page), 0);
    assert.deepEqual(await violations(page), []);

    // whole, but for the day: that of a value which isn't the newest is taken away
    const [id] = Object.keys(before);
    const after = await keptJobs(page);
    assert.deepEqual(after[id], { ...before[id], given: { ...before[id].given, channel_depth: { text: "9 in", when: "?" } } });

    await beside(page, "fit/guide-tubes.html", async (other) => {
      await ready(other);
      assert.equal(await other.locator("main [data-value='guide-tube-length.length']:visible").count(), 0);
      assert.match(plain(await other.locator(".no-value").first().innerText()), /^not settled: /);
      assert.match(plain(await other.locator(".job-bar").innerText()), /channel depth: a later entry was not taken; keep 9 in\?/);
    });
    await beside(page, "survey/setup-sheet.html", async (other) => {
      await ready(other);
      const verdicts = await other.locator("[data-calculator='guide-tube-length'] .setup-verdict[data-is]").evaluateAll((all) => all.map((one) => one.dataset.is));
      assert.ok(!verdicts.includes("go"), verdicts.join());
    });

    // once there is room it is kept, and is the newest everywhere
    await free(page);
    await holds(page, "channel_depth", "14 in");
    assert.equal((await keptJobs(page))[id].given.channel_depth.text, "14 in");
    assert.ok(await line.isHidden());
    assert.doesNotMatch(await page.locator(".job-lasts").innerText(), /full/);
    await beside(page, "fit/guide-tubes.html", async (other) => {
      await ready(other);
      assert.doesNotMatch(await other.locator(".job-bar").innerText(), /later entry/);
      assert.match(plain(await other.locator("main .value[data-value='guide-tube-length.length']").first().innerText()), /^26 3\/4 in/);
    });
  }, phone));

test("an entry that was lost with its page is asked about, and the value before stands again only once somebody says so", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "9");
    await holds(page, "channel_depth", "9 in");
    await fill(page);
    await measure(page, "channel_depth", "14");
    await field(page, "channel_depth").locator(".not-taken").waitFor();
    await page.reload();
    await opened(page);
    await free(page);
    assert.equal(await field(page, "channel_depth").locator("input.entry").inputValue(), "9 in");
    assert.match(await page.locator(".job-count").innerText(), /^0 of \d+ measured\. 1 entry was not taken/);
    await field(page, "channel_depth").getByRole("button", { name: "Keep 9 in" }).click();
    await page.waitForFunction(() => Object.keys(gaugeleaf.store.kept()?.refused ?? { none: 1 }).length === 0);
    const [job] = Object.values(await keptJobs(page));
    assert.deepEqual(job.given.channel_depth, { text: "9 in", when: await page.evaluate(() => gaugeleaf.jobs.today()) });
  }));

test("a job that finds no room is told, and no other job's values show in its place", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "9");
    await holds(page, "channel_depth", "9 in");
    await fill(page);
    await page.locator(".job-new").click();
    await page.waitForFunction(() => /storage is full/.test(document.querySelector(".job-lasts")?.textContent ?? ""));
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    await beside(page, "index.html", async (other) => {
      await other.locator(".job-bar .job-says").waitFor();
      assert.match(plain(await other.locator(".job-bar").innerText()), /^The job in hand is not on this phone: .*These are the values of T1\./);
      assert.equal(await other.locator(".hand").isVisible(), false);
      assert.equal(await other.locator("main .job-value").count(), 0);
      assert.deepEqual(await violations(other), []);
      await other.locator(".job-bar").getByText("I have seen it").click();
      await other.waitForFunction(() => !document.documentElement.classList.contains("with-job"));
    });
    // the other job is as it was
    assert.deepEqual(Object.values(await keptJobs(page)).map((job) => job.given.channel_depth.text), ["9 in"]);
  }));

test("a kit that finds no room leaves no other kit's ratings standing", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "9");
    await holds(page, "channel_depth", "9 in");
    await fill(page);
    // the demonstration has one kit
    await page.locator(".job-kit").evaluate((kit) => {
      const other = new Option("Another", "a-kit-of-a-longer-name");
      /** @type {HTMLSelectElement} */ (kit).append(other);
      other.selected = true;
      kit.dispatchEvent(new Event("change"));
    });
    await page.waitForFunction(() => /storage is full/.test(document.querySelector(".job-lasts")?.textContent ?? ""));
    assert.deepEqual(Object.values(await keptJobs(page)).map(({ kit }) => kit), ["?"]);
  }));

test("ticks that find no room are told, those before stay, and all are kept once there is room", () =>
  it.visit(checks, async (page) => {
    const ticks = page.locator(".checks").first().locator("input.tick");
    const told = page.locator(".checks").first().locator(".tick-count");
    const ticked = (of) => of.evaluateAll((all) => all.map((one) => /** @type {HTMLInputElement} */ (one).checked).slice(0, 3));
    await ticks.nth(0).click();
    await fill(page);
    await ticks.nth(1).click();
    assert.match((await told.textContent()) ?? "", /This phone keeps no ticks$/);
    await beside(page, checks, async (other) => {
      assert.deepEqual(await ticked(other.locator(".checks").first().locator("input.tick")), [true, false, false]);
      // what the other page takes away is not brought back by what waits here
      await other.locator(".checks").first().locator("input.tick").nth(0).click();
    });
    await page.waitForFunction(() => !(/** @type {HTMLInputElement} */ (document.querySelector(".checks input.tick")).checked));
    await free(page);
    await page.waitForFunction(() => !/keeps no ticks/.test(document.querySelector(".checks .tick-count")?.textContent ?? ""));
    await page.reload();
    assert.deepEqual(await ticked(ticks), [false, true, false]);
  }));

test("marks of a tube map that find no room are told, and a tube that was plugged meanwhile stays plugged", () =>
  it.visit("run/tube-map.html", async (page) => {
    await live(page);
    await tap(page, 3);
    await fill(page);
    // a whole row, so that it can't find room in what a mark before took
    await page.locator(".tube-rows > summary").click();
    await page.locator(".tube-rows li > button").first().click();
    await page.waitForFunction(() => /This phone keeps nothing/.test(document.querySelector(".tube-said")?.textContent ?? ""));
    await page.evaluate(() => {
      const { store, tubeMarks } = globalThis.gaugeleaf;
      const key = store.own(store.ofJob("tubes"));
      const kept = tubeMarks.read(JSON.parse(localStorage.getItem(key) ?? "null"), "");
      for (const one of Object.keys(localStorage)) if (one.startsWith("other.")) localStorage.removeItem(one);
      // another window had room first
      localStorage.setItem(key, JSON.stringify(tubeMarks.write({ ...kept, marks: { ...kept.marks, 2: "plugged", 90: "blocked" } })));
      dispatchEvent(new StorageEvent("storage", { key }));
    });
    await page.waitForFunction(() => document.querySelector('[data-count="plugged"]')?.textContent === "1");
    const row = await page.locator("[data-row='1'] circle").count();
    await page.reload();
    await live(page);
    const { cleaned, plugged, blocked } = await counts(page);
    assert.deepEqual([cleaned, plugged, blocked], [row - 1, 1, 1]);
  }));
