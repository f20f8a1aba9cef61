// A job typed in once stands on every page, and stays on the phone.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { begun, holds, keptJobs, measure, opened, ready, sideways, texts, told } from "./support/job.js";
import { pages } from "./support/site.js";
import { Widget, plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 320, height: 640 }, hasTouch: true };

/** @typedef {import("playwright-core").Page} Page */

/** @param {Page} page @param {string} path */
async function follow(page, path) {
  await page.goto(it.url(path));
  await ready(page);
}

test("a job entered once changes the values, the widgets and the figures of every page", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await measure(page, "flange_thickness", "3 1/8 in");
    await measure(page, "bundle_diameter", "30 in");
    assert.match(await page.locator(".job-count").innerText(), /^3 of \d+ measured/);

    await follow(page, "index.html");
    assert.equal(await told(page, "channel_depth"), "14 in");
    assert.equal(await told(page, "flange_thickness"), "3 1/8 in");
    assert.equal(await page.locator("main [data-value='tube_od']:visible").count(), 0);
    const missing = page.locator("main [data-value='tube_od'] + .no-value").first();
    assert.equal(plain(await missing.innerText()), "not measured: Tube outside diameter");

    await follow(page, "fit/guide-tubes.html");
    assert.equal(await told(page, "guide-tube-length.length"), "26 3/4 in");
    const widget = await Widget.live(page, "guide-tube-length");
    assert.equal(await widget.entry("channel_depth").inputValue(), "14 in");
    assert.equal((await widget.results()).length, "26 3/4 in");
    assert.match(plain(await widget.field("channel_depth").locator(".field-from").innerText()), /^measured/);
    assert.match(plain(await widget.field("stock_length").locator(".field-from").innerText()), /parts sheet/);
    assert.match(await widget.understood("channel_depth"), /14 in/);
    // A figure keeps what its own block gives.
    const bare = page.locator(".drawing[data-calculator='guide-tube-length']").first();
    assert.equal(await bare.locator("[data-input='channel_depth']").innerText(), "0 in");
    assert.match(await bare.locator(".job-note").innerText(), /job My job/);
    assert.match(await page.locator(".chart .job-note").first().innerText(), /These values are T1's/);

    await follow(page, "calculators/guide-tube-length.html");
    assert.equal((await (await Widget.live(page, "guide-tube-length")).results()).length, "26 3/4 in");
    assert.match(plain(await page.locator(".job-bar").innerText()), /Job My job/);
  }));

test("in every phase a page shows a value of the job, and each says what the engine says", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    // none of these is the handbook's own, ratings included
    await begun(page, "Other", {
        channel_depth: "14 in", flange_thickness: "3 in", bundle_diameter: "30 in", tube_od: "1 in", tube_pitch: "1 1/4 in",
        stop_opening: "10.2 mm", clamp_pressure: "60 psi", air_least: "71 psi", working_pressure: "9000 psi", dump_time: "2 s",
        frost_limit: "5 degC", lowest_rating: "12000 psi", barrier_distance: "60 ft", drive_mass: "99 lb", rail_length: "77 in",
        upright_overhead: "11 in", air_most: "101 psi", hose_od: "11 mm", ferrule_od: "14 mm",
    });
    const changed = new Set();
    const phases = new Set(pages.filter((path) => /^[a-z]+\/index/.test(path)).map((path) => path.split("/")[0]));
    // training asks of the handbook's own values, so that an answer is the same for everybody
    for (const other of ["calculators", "tables", "training"]) phases.delete(other);
    for (const path of pages) {
      const phase = path.split("/")[0];
      if (!phases.has(phase) || changed.has(phase)) continue;
      await follow(page, path);
      if ((await page.locator("main .job-value").count()) > 0) changed.add(phase);
    }
    assert.deepEqual([...changed].sort(), [...phases].sort());
  }));

test("the handbook's own values never show while the job's are worked out, and come back when asked for", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.route("**/scripts/engine.js*", async (route) => {
      await new Promise((done) => setTimeout(done, 1500));
      await route.continue();
    });
    await page.goto(it.url("fit/guide-tubes.html"), { waitUntil: "domcontentloaded" });
    const link = page.locator("main .value[data-value='guide-tube-length.length']").first();
    assert.equal(await link.evaluate((link) => getComputedStyle(link).visibility), "hidden");
    assert.equal(await page.locator(".widget-body").first().evaluate((body) => getComputedStyle(body).visibility), "hidden");
    const before = await page.locator("main").evaluate((main) => main.getBoundingClientRect().top);
    await ready(page);
    assert.equal(await link.evaluate((link) => getComputedStyle(link).visibility), "visible");
    assert.equal(await page.locator("main").evaluate((main) => main.getBoundingClientRect().top), before);
    await page.unroute("**/scripts/engine.js*");
    // the bar leads to the form, and there is the way back to the handbook's own values
    await page.locator(".job-way").click();
    await page.locator(".job-bar button").click();
    await page.waitForFunction(() => !document.documentElement.classList.contains("with-job"));
    await page.goto(it.url("fit/guide-tubes.html"));
    assert.equal(plain(await link.innerText()), "21 3/8 in");
  }));

test("a value that the job does not give is told with its reason, and the handbook's is not shown", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    // as a handbook of another day might have kept it
    await begun(page, "Odd", { channel_depth: "nine", tube_od: "nine" });
    await follow(page, "fit/guide-tubes.html");
    const none = page.locator(".no-value").first();
    assert.equal(await none.innerText(), "no value for this job");
    await none.click();
    const why = page.locator(".no-value-why").first();
    assert.match(await why.innerText(), /nine/);
    assert.equal(await none.getAttribute("aria-expanded"), "true");
    assert.equal(await page.locator("[data-value='guide-tube-length.length']:visible").count(), 0);
    assert.deepEqual(await violations(page), []);
  }));

test("a bad value is refused with the engine's words, an unusual one is kept once confirmed", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14 psi");
    const field = page.locator(".job-form [data-input='channel_depth']");
    assert.equal(plain(await field.locator(".problem-message").innerText()), "`14 psi` is a pressure, and a length is wanted");
    assert.deepEqual(await keptJobs(page), {});
    await measure(page, "channel_depth", "60");
    assert.match(plain(await field.locator(".problem-message").innerText()), /outside the usual/);
    assert.deepEqual(await keptJobs(page), {});
    assert.deepEqual(await violations(page), []);
    await field.locator(".confirm").click();
    await holds(page, "channel_depth", "60 in");
    await page.reload();
    await opened(page);
    assert.equal(await field.locator("input.entry").inputValue(), "60 in");
    assert.ok(await field.locator(".kept").isVisible());
    assert.ok(await field.locator(".problem").isHidden());
    await follow(page, "fit/guide-tubes.html");
    assert.equal((await (await Widget.live(page, "guide-tube-length")).results()).length, "72 3/4 in");
  }, phone));

test("several jobs are kept, renamed, copied, deleted and brought back", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "tubes_spanned", "12");
    await page.locator(".job-name-text").fill("North end");
    await page.locator(".job-name-text").blur();
    await page.locator(".job-form [data-input='layout'] input[value='45']").check({ force: true });
    await page.locator(".job-copy").click();
    await page.waitForFunction(() => Object.keys(globalThis.gaugeleaf?.jobs.all() ?? {}).length === 2);
    assert.equal(await page.locator(".job-name-text").inputValue(), "North end, copy");
    const all = Object.values(await keptJobs(page));
    assert.deepEqual(all.map((job) => Object.fromEntries(Object.entries(job.given).map(([name, one]) => [name, one.text]))), [
      { tubes_spanned: "12", layout: "45" },
      { tubes_spanned: "12", layout: "45" },
    ]);
    await page.locator(".job-delete").click();
    await page.waitForFunction(() => Object.keys(globalThis.gaugeleaf?.jobs.all() ?? {}).length === 1);
    assert.equal(await page.locator(".job-form [data-input='tubes_spanned'] input").inputValue(), "");
    assert.match(await page.locator(".job-said").innerText(), /is deleted/);
    await page.locator(".job-undo").click();
    await page.waitForFunction(() => Object.keys(globalThis.gaugeleaf?.jobs.all() ?? {}).length === 2);
    assert.equal(await page.locator(".job-name-text").inputValue(), "North end, copy");
    await page.locator(".job-pick").selectOption({ label: "North end" });
    await page.waitForFunction(() => globalThis.gaugeleaf?.store.kept()?.name === "North end");
    await page.locator(".job-pick").selectOption("");
    await page.waitForFunction(() => globalThis.gaugeleaf && gaugeleaf.store.kept() === undefined);
    assert.deepEqual(await violations(page), []);
  }));

test("a prepared job is offered, shows its own values alone, and may be taken in hand", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.goto(it.url("jobs/t2.html"));
    assert.match(await page.locator(".job-bar").innerText(), /prepares job T2/);
    const depth = page.locator(".setup [data-named='channel_depth'] .value");
    assert.equal(plain(await depth.innerText()), "0 in");
    await page.locator(".job-bar button").click();
    await page.waitForFunction(() => /now shows/.test(document.querySelector(".job-says")?.textContent ?? ""));
    await follow(page, "fit/guide-tubes.html");
    assert.match(plain(await page.locator(".job-bar").innerText()), /Job T2/);
    assert.equal(await told(page, "guide-tube-length.length"), "12 3/4 in");
    await page.goto(it.url("jobs.html"));
    await opened(page);
    assert.equal(await page.locator(".job-form [data-input='bolt_count'] input").inputValue(), "20");
  }));

test("where the phone keeps nothing the form says so, and breaks nothing", () =>
  it.visit("jobs.html", async (page) => {
    await page.addInitScript(() => {
      Object.defineProperty(globalThis, "localStorage", { get() { throw new DOMException("blocked", "SecurityError"); } });
    });
    await page.reload();
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.waitForFunction(() => /keeps nothing/.test(document.querySelector(".job-lasts")?.textContent ?? ""));
    assert.match(await page.locator(".job-count").innerText(), /^1 of/);
    await page.locator(".job-share").click();
    assert.match(await page.locator(".share-words").innerText(), /channel_depth=14\+in/);
  }));

test("a printed page names the job and the day, and the form prints as a sheet to fill in", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.emulateMedia({ media: "print" });
    assert.ok(await page.locator(".paper-value").first().isVisible());
    assert.ok(await page.locator(".measure-picture").first().isVisible());
    assert.ok(await page.locator("input.entry").first().isHidden());
    await page.emulateMedia({ media: "screen" });
    await follow(page, "fit/guide-tubes.html");
    await page.emulateMedia({ media: "print" });
    assert.match(await page.locator(".job-printed").innerText(), /^Values of job My job, printed \S/);
  }));

test("without scripts the form is a sheet with a blank for every measurement", () =>
  it.visit("jobs.html", async (page) => {
    const blanks = await page.locator(".measure").evaluateAll((all) =>
      all.filter((one) => [...one.querySelectorAll(".paper")].some((paper) => paper.checkVisibility())).length);
    assert.equal(blanks, await page.locator(".measure").count());
    assert.ok(blanks >= 20);
  }, { javaScriptEnabled: false }));
