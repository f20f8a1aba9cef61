// A phone's clock may be wrong, and may be put right at any time: no job, value, tick or verdict stands on it.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { begun, every, holds, keptJobs, measure, opened, ready, told } from "./support/job.js";
import { pages, read } from "./support/site.js";
import { plain } from "./support/widget.js";

const it = reader();
const checks = pages.find((path) => ['class="checks"', 'class="steps"'].every((part) => read(path).includes(part))) ?? "";
const EVERY_CLOCK = ["1970-01-01T00:00:10", "2099-12-31T23:59:00", "2026-11-26T12:00:00"];

/** @typedef {import("playwright-core").Page} Page */

test("jobs that are begun in one moment of a clock that stands still are jobs of their own", () =>
  it.visit("jobs.html", async (page) => {
    await page.clock.setFixedTime(new Date(EVERY_CLOCK[0]));
    await page.reload();
    await opened(page);
    for (const [at, depth] of ["9 in", "10 in", "11 in"].entries()) await begun(page, `Job ${at}`, { channel_depth: depth });
    const jobs = Object.values(await keptJobs(page)).map((job) => `${job.name}: ${job.given.channel_depth.text}`).sort();
    assert.deepEqual(jobs, ["Job 0: 9 in", "Job 1: 10 in", "Job 2: 11 in"]);
    // in the list by their names, not by when the clock says that they were made
    await page.clock.setFixedTime(new Date("1969-12-31T00:00:00"));
    await begun(page, "Job 10", {});
    await page.reload();
    await opened(page);
    const names = (await page.locator(".job-pick option").allInnerTexts()).filter((name) => name.startsWith("Job"));
    assert.deepEqual(names, ["Job 0", "Job 1", "Job 2", "Job 10"]);
  }));

test("the value that was typed last holds, whatever the clock said when it was typed", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    for (const [clock, depth] of [[EVERY_CLOCK[1], "10"], [EVERY_CLOCK[2], "11"], [EVERY_CLOCK[0], "12"], [EVERY_CLOCK[2], "13"]]) {
      await page.clock.setFixedTime(new Date(clock));
      await measure(page, "channel_depth", depth);
      await holds(page, "channel_depth", `${depth} in`);
      // each is shown with the day that the phone had
      assert.equal(Object.values(await keptJobs(page))[0].given.channel_depth.when, clock.slice(0, 10));
      await page.reload();
      await opened(page);
      assert.equal(await page.locator('.job-form [data-input="channel_depth"] input.entry').inputValue(), `${depth} in`);
      await page.goto(it.url("index.html"));
      await ready(page);
      assert.equal(await told(page, "channel_depth"), `${depth} in`);
      await page.goto(it.url("jobs.html"));
      await opened(page);
    }
  }));

test("a job's verdicts are the same under every clock", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Dock", { ...(await every(page)), bundle_diameter: "38 1/2 in" });
    /** @type {string[]} */
    const said = [];
    for (const clock of EVERY_CLOCK) {
      await page.clock.setFixedTime(new Date(clock));
      await page.goto(it.url("survey/setup-sheet.html"));
      await ready(page);
      said.push(JSON.stringify(await page.locator(".setup-verdict").evaluateAll((all) => all.map((one) => [one.dataset.check, one.dataset.is]))));
    }
    assert.ok(said[0].length > 100);
    assert.deepEqual(new Set(said).size, 1);
  }));

/** A tick list as it stands. @param {Page} page */
function list(page) {
  const first = page.locator(".checks").first();
  return {
    tick: async () => { for (const tick of await first.locator("input.tick").all()) await tick.click(); },
    clear: () => first.locator(".tick-clear").click(),
    isGo: () => first.evaluate((one) => one.classList.contains("is-complete")),
    why: async () => plain((await first.locator(".check-stale").textContent()) ?? ""),
  };
}

test("a list that was ticked before the clock was put back is no go, though it looks like one of now", () =>
  it.visit(checks, async (page) => {
    const { tick, clear, isGo, why } = list(page);
    await page.clock.install({ time: new Date("2026-03-04T12:00:00") });
    await page.reload();
    await tick();
    assert.equal(await isGo(), true);
    // the phone sees half past two, on this page or another with ticks
    await page.clock.setSystemTime(new Date("2026-03-04T14:30:00"));
    await page.reload();
    assert.equal(await isGo(), false);
    await page.clock.setSystemTime(new Date("2026-03-04T12:30:00"));
    await page.reload();
    assert.equal(await isGo(), false, "ticked half an hour ago, says the clock");
    assert.match(await why(), /^This phone's clock was put back since/);
    // nor after it has caught up
    await page.clock.setSystemTime(new Date("2026-03-04T13:30:00"));
    await page.reload();
    assert.equal(await isGo(), false);
    await clear();
    await tick();
    assert.deepEqual([await isGo(), await why()], [true, ""]);
    // what a phone corrects by itself is no turn
    await page.clock.setSystemTime(new Date("2026-03-04T13:29:30"));
    await page.clock.setSystemTime(new Date("2026-03-04T13:31:00"));
    await page.reload();
    assert.equal(await isGo(), true);
  }));

test("a list that was ticked under a clock of 2099 or 1970 is no go once the clock is right", () =>
  it.visit(checks, async (page) => {
    const { tick, clear, isGo } = list(page);
    for (const clock of EVERY_CLOCK.slice(0, 2)) {
      await page.clock.setSystemTime(new Date(clock));
      await page.reload();
      await tick();
      assert.equal(await isGo(), true, clock);
      await page.clock.setSystemTime(new Date(EVERY_CLOCK[2]));
      await page.reload();
      assert.equal(await isGo(), false, `${clock}, put right`);
      await clear();
    }
  }));
