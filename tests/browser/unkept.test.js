// An entry that a full phone did not keep: no page reads what was held before as the newest, and nothing later is lost to it.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { begun, every, holds, kept, keptJobs, measure, opened, ready } from "./support/job.js";
import { fill, free } from "./support/room.js";
import { plain } from "./support/widget.js";

const it = reader();

/** @param {import("playwright-core").Page} page @param {string} name */
const line = (page, name) => page.locator(`.job-form [data-input="${name}"] .not-taken`);

test("a value of the first edition, whose later entry found no room, stands no more", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    const given = { ...(await every(page)), channel_depth: "9 in", bundle_diameter: "22 1/4 in", odd_method: "lance" };
    for (const made of ["2026-01-01T00:00:00Z", undefined]) {
      await page.evaluate(({ given, made }) => {
        localStorage.clear();
        localStorage.setItem(gaugeleaf.store.own("jobs"), JSON.stringify({ old: { name: "Old", given, made } }));
        localStorage.setItem(gaugeleaf.store.own("job"), '"old"');
      }, { given, made });
      await page.reload();
      await opened(page);
      await fill(page);
      await measure(page, "channel_depth", "14");
      await line(page, "channel_depth").waitFor();
      // with its day where something else made room, and else not at all
      const { channel_depth: left, ...others } = (await kept(page, "jobs")).old.given;
      assert.deepEqual(left, made ? { text: "9 in", when: "?" } : "?");
      const { channel_depth: _, ...before } = given;
      assert.deepEqual(others, before);
      const other = await page.context().newPage();
      await other.goto(it.url("fit/guide-tubes.html"));
      await ready(other);
      assert.equal(await other.locator("main [data-value='guide-tube-length.length']:visible").count(), 0);
      assert.match(plain(await other.locator(".job-bar").innerText()), made ? /a later entry was not taken; keep 9 in\?/ : /channel depth: a later entry was not taken; nothing is measured\./);
      await other.close();
      // once there is room the entry is kept
      await free(page);
      await page.waitForFunction(() => Object.keys(localStorage).some((key) => key.endsWith(".job/old")));
      assert.equal((await keptJobs(page)).old.given.channel_depth.text, "14 in");
    }
  }));

test("an entry that waited for room does not take the place of what another page kept meanwhile", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Dock", { channel_depth: "9 in", tube_length: "12 ft" });
    await page.reload();
    await opened(page);
    await fill(page);
    await measure(page, "channel_depth", "10");
    await line(page, "channel_depth").waitFor();
    // a page in a browser's memory hears of nothing until it comes back
    await page.evaluate(() => {
      const key = gaugeleaf.store.own(`job/${gaugeleaf.jobs.inHand()}`);
      const job = JSON.parse(localStorage.getItem(key) ?? "null");
      for (const one of Object.keys(localStorage)) if (one.startsWith("other.")) localStorage.removeItem(one);
      job.given = { ...job.given, channel_depth: { text: "20 in", when: "2026-11-27" }, tube_length: { text: "14 ft", when: "2026-11-27" } };
      localStorage.setItem(key, JSON.stringify(job));
      dispatchEvent(new PageTransitionEvent("pageshow", { persisted: true }));
    });
    await page.waitForFunction(() => /keep 20 in/.test(document.querySelector('[data-input="channel_depth"] .not-taken')?.textContent ?? ""));
    const [job] = Object.values(await keptJobs(page));
    assert.equal(job.given.channel_depth.text, "20 in");
    assert.equal(job.refused.channel_depth.text, "10");
    // and what it changed besides shows
    await page.waitForFunction(() => /** @type {HTMLInputElement} */ (document.querySelector('[data-input="tube_length"] input.entry')).value === "14 ft");
  }));

test("a job that another page took in hand stays, though a choice waited for room", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    const first = await begun(page, "First", { channel_depth: "9 in" });
    const second = await begun(page, "Second", { channel_depth: "14 in" });
    await page.evaluate(({ first, second }) => {
      const put = Storage.prototype.setItem;
      Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };
      gaugeleaf.jobs.choose(first);
      Storage.prototype.setItem = put;
      localStorage.setItem(gaugeleaf.store.own("job"), JSON.stringify(second));
      dispatchEvent(new PageTransitionEvent("pageshow", { persisted: true }));
    }, { first, second });
    assert.equal(await kept(page, "job"), second);
  }));

test("a first entry that found no room is told on every page", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Dock", { channel_depth: "9 in" });
    await page.reload();
    await opened(page);
    await fill(page);
    await measure(page, "tube_length", "12");
    await line(page, "tube_length").waitFor();
    await page.goto(it.url("index.html"));
    await ready(page);
    assert.match(plain(await page.locator(".job-bar").innerText()), /tube length: a later entry was not taken; nothing is measured\./);
    assert.equal(await page.evaluate(() => gaugeleaf.ask({ do: "judge" }).then(({ worst }) => worst)), "open");
    // what is typed once there is room settles it
    await free(page);
    await page.goto(it.url("jobs.html"));
    await opened(page);
    await measure(page, "tube_length", "12");
    await holds(page, "tube_length", "12 ft");
    assert.deepEqual(await page.evaluate(() => gaugeleaf.store.kept()?.refused), {});
  }));

test("no usual value stands in for a first entry that found no room", () =>
  it.visit("jobs.html", async (page) => {
    const shown = async () => {
      await page.goto(it.url("pressure/pump-and-nozzle.html"));
      await ready(page);
      return page.locator("main [data-value='pump-operating-point.hose_loss']:visible").count();
    };
    await opened(page);
    const { water_temperature: usual, ...others } = await every(page);
    assert.ok(usual);
    await begun(page, "Dock", { ...others, odd_method: "lance" });
    assert.equal(await shown(), 1, "what is assumed gives a result");
    await page.goto(it.url("jobs.html"));
    await opened(page);
    await fill(page);
    await measure(page, "water_temperature", "40");
    await line(page, "water_temperature").waitFor();
    assert.equal(await shown(), 0);
    assert.match(plain(await page.locator(".job-bar").innerText()), /water temperature: a later entry was not taken; nothing is measured\./);
  }));

test("a tick that waited for room is none of a list that another window has cleared since", () =>
  it.visit("pressure/fill-and-pressurise.html", async (page) => {
    const key = await page.evaluate(() => gaugeleaf.store.own(gaugeleaf.store.ofJob(`ticks/${document.documentElement.dataset.page}`)));
    const isKept = () => page.evaluate((key) => Object.values(JSON.parse(localStorage.getItem(key) ?? "{}")).filter((one) => typeof one === "number").length, key);
    const list = (/** @type {import("playwright-core").Page} */ one) => one.locator(".checks").first();
    const tick = (/** @type {import("playwright-core").Page} */ one, /** @type {number} */ nth) => list(one).locator("input.tick").nth(nth);
    const asleep = () => page.evaluate(() => { globalThis.frozen = Storage.prototype.setItem; Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; });
    const awake = () => page.evaluate(() => { Storage.prototype.setItem = globalThis.frozen; dispatchEvent(new PageTransitionEvent("pageshow", { persisted: true })); });
    // room alone lets it in
    await page.locator("ol.steps > li > input.tick").first().check();
    await tick(page, 0).check();
    await asleep();
    await tick(page, 1).check();
    assert.equal(await isKept(), 2);
    await awake();
    assert.equal(await isKept(), 3);
    const other = await page.context().newPage();
    await other.goto(it.url("pressure/fill-and-pressurise.html"));
    // a list that is begun again meanwhile, one that holds a step's tick beside it, and one of which nothing was kept
    for (const begins of [true, false]) {
      await asleep();
      await tick(page, 2).check();
      await list(other).locator(".tick-clear").click();
      if (begins) await tick(other, 0).check();
      await awake();
      assert.equal(await isKept(), begins ? 2 : 1);
      assert.equal(await tick(page, 2).isChecked(), false);
    }
    await asleep();
    await tick(page, 1).check();
    await tick(other, 0).check();
    await list(other).locator(".tick-clear").click();
    await awake();
    assert.equal(await tick(page, 1).isChecked(), false);
    // what is ticked from then on is kept
    await tick(page, 0).check();
    assert.equal(await isKept(), 2);
  }));
