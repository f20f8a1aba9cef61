// A job typed in once stands on every page, stays on the phone, and travels to another one.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { kept, measure, opened, ready, sideways, told } from "./support/job.js";
import { pages } from "./support/site.js";
import { Widget, plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 320, height: 640 }, hasTouch: true };
const decoder = readFileSync(createRequire(import.meta.url).resolve("jsqr"), "utf8");

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
    assert.equal(await told(page, "channel_depth"), "14 in (T1 8 5/8 in)");
    assert.equal(await told(page, "flange_thickness"), "3 1/8 in (T1 2 1/8 in)");
    assert.equal(await told(page, "tube_od"), "3/4 in");

    await follow(page, "fit/guide-tubes.html");
    assert.equal(await told(page, "guide-tube-length.length"), "26 3/4 in (T1 21 3/8 in)");
    const widget = await Widget.live(page, "guide-tube-length");
    assert.equal(await widget.entry("channel_depth").inputValue(), "14 in");
    assert.equal((await widget.results()).length, "26 3/4 in");
    assert.equal(plain(await widget.field("channel_depth").locator(".field-from").innerText()), "From job My job");
    assert.equal(
      plain(await widget.field("stock_length").locator(".field-from").innerText()),
      "Not from job My job: the handbook's value",
    );
    assert.match(await widget.understood("channel_depth"), /14 in/);
    // A figure keeps what its own block gives.
    const bare = page.locator(".drawing[data-calculator='guide-tube-length']").first();
    assert.equal(await bare.locator("[data-input='channel_depth']").innerText(), "0 in");
    assert.match(await bare.locator(".job-note").innerText(), /job My job/);
    assert.match(await page.locator(".chart .job-note").first().innerText(), /These values are T1's/);

    await follow(page, "calculators/guide-tube-length.html");
    assert.equal((await (await Widget.live(page, "guide-tube-length")).results()).length, "26 3/4 in");
    assert.match(await page.locator(".job-bar").innerText(), /Values of job My job/);
  }));

test("in every phase a page shows a value of the job, and each says what the engine says", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    // none of these is the handbook's own, ratings included
    await page.evaluate(() => {
      gaugeleaf.jobs.add("Other", {
        channel_depth: "14 in", flange_thickness: "3 in", bundle_diameter: "30 in", tube_od: "1 in", tube_pitch: "1 1/4 in",
        stop_opening: "10.2 mm", clamp_pressure: "60 psi", air_least: "71 psi", working_pressure: "9000 psi", dump_time: "2 s",
        frost_limit: "5 degC", lowest_rating: "12000 psi", barrier_distance: "60 ft", drive_mass: "99 lb", rail_length: "77 in",
        upright_overhead: "11 in", air_most: "101 psi", hose_od: "11 mm", ferrule_od: "14 mm",
      });
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
    await page.route("**/scripts/engine.js", async (route) => {
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
    await page.unroute("**/scripts/engine.js");
    await page.locator(".job-bar button").click();
    await page.waitForFunction(() => !document.documentElement.classList.contains("with-job"));
    assert.equal(plain(await link.innerText()), "21 3/8 in");
  }));

test("a value that the job does not give is told with its reason, and the handbook's is not shown", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    // as a handbook of another day might have kept it
    await page.evaluate(() => {
      gaugeleaf.jobs.add("Odd", { channel_depth: "nine", tube_od: "nine" });
    });
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
    assert.equal(await kept(page, "jobs"), null);
    await measure(page, "channel_depth", "60");
    assert.match(plain(await field.locator(".problem-message").innerText()), /outside the usual/);
    assert.equal(await kept(page, "jobs"), null);
    assert.deepEqual(await violations(page), []);
    await field.locator(".confirm").click();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === "60 in");
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
    await page.waitForFunction(() => Object.keys(gaugeleaf.jobs.all()).length === 2);
    assert.equal(await page.locator(".job-name-text").inputValue(), "North end, copy");
    const all = Object.values(/** @type {Record<string, KeptJob>} */ (await kept(page, "jobs")));
    assert.deepEqual(all.map((job) => job.given), [
      { tubes_spanned: "12", layout: "45" },
      { tubes_spanned: "12", layout: "45" },
    ]);
    await page.locator(".job-delete").click();
    await page.waitForFunction(() => Object.keys(gaugeleaf.jobs.all()).length === 1);
    assert.equal(await page.locator(".job-form [data-input='tubes_spanned'] input").inputValue(), "");
    assert.match(await page.locator(".job-said").innerText(), /is deleted/);
    await page.locator(".job-undo").click();
    await page.waitForFunction(() => Object.keys(gaugeleaf.jobs.all()).length === 2);
    assert.equal(await page.locator(".job-name-text").inputValue(), "North end, copy");
    await page.locator(".job-pick").selectOption({ label: "North end" });
    await page.waitForFunction(() => gaugeleaf.store.kept()?.name === "North end");
    await page.locator(".job-pick").selectOption("");
    await page.waitForFunction(() => gaugeleaf.store.kept() === undefined);
    assert.deepEqual(await violations(page), []);
  }));

test("a prepared job is offered, shows its own values alone, and may be taken in hand", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.goto(it.url("jobs/t2.html"));
    assert.match(await page.locator(".job-bar").innerText(), /prepares job T2/);
    assert.equal(await told(page, "channel_depth"), "0 in");
    await page.locator(".job-bar button").click();
    await page.waitForFunction(() => /now shows/.test(document.querySelector(".job-says")?.textContent ?? ""));
    await follow(page, "fit/guide-tubes.html");
    assert.match(await page.locator(".job-bar").innerText(), /Values of job T2/);
    assert.equal(await told(page, "guide-tube-length.length"), "12 3/4 in (T1 21 3/8 in)");
    await page.goto(it.url("jobs.html"));
    await opened(page);
    assert.equal(await page.locator(".job-form [data-input='bolt_count'] input").inputValue(), "20");
  }));

test("a job's link and its QR code carry it into a fresh profile, which asks first", async () => {
  const { link, codes } = await it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "1' 2 1/8\"");
    await measure(page, "tube_length", "14 ft");
    await page.locator(".job-form [data-input='layout'] input[value='60']").check({ force: true });
    await page.locator(".job-name-text").fill("Unit 7 & 8, 50% + rest");
    await page.locator(".job-name-text").blur();
    await page.locator(".job-share").click();
    const words = page.locator(".share-words");
    await words.waitFor();
    assert.equal(await sideways(page), 0);
    await page.getByText("Show QR code").click();
    await page.locator(".share-code svg").waitFor();
    assert.deepEqual(await violations(page), []);
    await page.evaluate(decoder);
    return { link: (await words.textContent()) ?? "", codes: await page.evaluate(read) };
  }, phone);
  assert.equal(codes.plain, link);
  assert.equal(codes.quiet, true);
  assert.deepEqual(new Set(codes.glared), new Set([link]));
  // what equals the handbook's own is not carried
  assert.doesNotMatch(link, /tube_length/);

  await it.visit(`fit/guide-tubes.html${link.slice(link.indexOf("#"))}`, async (page) => {
    const dialog = page.locator(".take-over");
    await dialog.locator(".yes").waitFor();
    assert.match(plain(await dialog.innerText()), /Unit 7 & 8, 50% \+ rest.*Channel head depth.*1\.177083333 ft = 14 1\/8 in/s);
    assert.equal(await kept(page, "jobs"), null);
    assert.deepEqual(await violations(page), []);
    assert.equal(await sideways(page), 0);
    await dialog.locator(".yes").click();
    await ready(page);
    assert.equal(await told(page, "guide-tube-length.length"), "26 7/8 in (T1 21 3/8 in)");
    assert.doesNotMatch(page.url(), /job=/);
  }, phone);
});

/** Reads the code off a canvas: as it stands, and with a white disc over a part of it in twenty places. */
async function read() {
  const svg = /** @type {SVGElement} */ (document.querySelector(".share-code svg"));
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(svg.outerHTML)}`;
  await image.decode();
  const side = 600;
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = side;
  const paint = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d", { willReadFrequently: true }));
  const decode = () => globalThis.jsQR(paint.getImageData(0, 0, side, side).data, side, side)?.data;
  paint.drawImage(image, 0, 0, side, side);
  const modules = svg.viewBox.baseVal.width;
  const edge = paint.getImageData(0, 0, side, Math.floor((4 * side) / modules)).data;
  const found = { plain: decode(), quiet: edge.every((part) => part > 250), glared: [] };
  const radius = Math.sqrt((0.06 * side * side) / Math.PI);
  for (let at = 0; at < 20; at += 1) {
    paint.drawImage(image, 0, 0, side, side);
    paint.fillStyle = "#fff";
    paint.beginPath();
    // Away from the four marks by which a reader finds the code.
    const [column, row] = [at % 5, Math.floor(at / 5)];
    paint.arc(side * (0.42 + 0.04 * column), side * (0.42 + 0.04 * row), radius, 0, 2 * Math.PI);
    paint.fill();
    found.glared.push(decode());
  }
  return found;
}

test("a link's refused and unusual values are told, and only what is understood is taken", () =>
  it.visit("index.html#job=Dock&channel_depth=14+in&bolt_circle=2+psi&no_such=1&stop_opening=2+mm", async (page) => {
    const dialog = page.locator(".take-over");
    await dialog.locator(".yes").waitFor();
    const text = plain(await dialog.innerText());
    assert.match(text, /Not taken: `2 psi` is a pressure, and a length is wanted/);
    assert.match(text, /Not taken: there is no measurement or rating `no_such`/);
    assert.match(text, /2 mm.*Unusual: .*outside the usual/);
    await dialog.locator(".yes").click();
    await ready(page);
    const [job] = Object.values(/** @type {Record<string, KeptJob>} */ (await kept(page, "jobs")));
    assert.deepEqual(job.given, { channel_depth: "14 in", stop_opening: "2 mm" });
  }));

test("from a plain folder a job travels as one line", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.locator(".job-share").click();
    const words = page.locator(".share-words");
    await words.waitFor();
    assert.equal(await words.textContent(), "job=My+job&channel_depth=14+in");
    assert.match(await page.locator(".job-share-part").innerText(), /needs the same handbook/);
    await page.locator(".job-take").click();
    await page.locator(".job-paste").fill("job=Other&channel_depth=9+in");
    await page.locator(".job-look").click();
    await page.locator(".take-over .yes").click();
    await opened(page);
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth === "9 in");
  }, { from: "file" }));

test("where the phone keeps nothing the form says so, and breaks nothing", () =>
  it.visit("jobs.html", async (page) => {
    await page.addInitScript(() => {
      Object.defineProperty(globalThis, "localStorage", { get() { throw new DOMException("blocked", "SecurityError"); } });
    });
    await page.reload();
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.waitForFunction(() => /keeps nothing/.test(document.querySelector(".job-said")?.textContent ?? ""));
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
