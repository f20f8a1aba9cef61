// A job stands on what was measured on it and on nothing else: what it lacks is open, on every page.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { begun, holds, measure, opened, ready, sideways } from "./support/job.js";
import { letters, printedBothWays } from "./support/paper.js";
import { calculatorPages } from "./support/site.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true };

/** @typedef {import("playwright-core").Page} Page */

/** @param {Page} page @param {string} path */
async function follow(page, path) {
  await page.goto(it.url(path));
  await ready(page);
}

/** @param {Page} page @param {string} name */
const row = async (page, name) => plain(await page.locator(`.setup tr[data-named="${name}"]`).innerText());

/** The head of the round that it is taken in. @param {Page} page @param {string} name */
const round = async (page, name) => plain(await page.locator(`.setup-round:has([data-named="${name}"]) caption`).textContent() ?? "");

/** Unfolds the sheet's annex. @param {Page} page */
const unfold = (page) => page.locator(".setup-annex > summary").click();

/** Those of these checks, `calculator: check`, that the engine doesn't call go. @param {Page} page @param {string[]} said */
const falselyGo = (page, said) =>
  page.evaluate(async (said) => {
    const engine = await gaugeleaf.engine();
    return said.filter((one) => {
      const [name, check] = one.split(": ");
      const { verdicts } = engine({ do: "calculate", name, inputs: {}, want: [] });
      const verdict = verdicts.find((verdict) => verdict.check === check);
      return verdict?.is !== "go" || verdict.needs.length > 0;
    });
  }, said);

test("a job with nothing measured is open on the front page and the sheet, and shows no number of the handbook's job", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    const all = await page.locator(".job-form .measure").count();
    await begun(page, "Bare", {});
    await follow(page, "index.html");
    const lamp = page.locator(".hand");
    assert.deepEqual([await lamp.getAttribute("data-is"), await lamp.locator("use").getAttribute("href")], ["open", "#mark-open"]);
    assert.match(plain(await lamp.innerText()), /^OPEN is the worst verdict for job Bare\..* \d+ open: measure these\. .* and \d+ more\./);
    await page.waitForFunction(() => document.querySelector(".job-measured")?.textContent !== "");
    assert.match(plain(await page.locator(".job-says").innerText()), new RegExp(`Job Bare 0 of ${all} measured`));

    const tables = await page.locator(".table-scroll").evaluateAll((all) => all.map((one) => one.scrollWidth - one.clientWidth));
    assert.deepEqual(tables.filter((over) => over > 0), [], "what is said for a value lies beyond a table's edge");

    await follow(page, "survey/setup-sheet.html");
    assert.equal(await page.locator(".setup-worst").getAttribute("data-is"), "open");
    assert.match(plain(await page.locator(".setup-missing").innerText()), /^\d+ open: measure these\./);
    const unmeasured = page.locator(".setup tr[data-ground=none]");
    assert.ok((await unmeasured.count()) > 10);
    assert.equal(await unmeasured.locator(".value").count(), 0);
    for (const words of await unmeasured.locator("[data-origin]").allInnerTexts()) assert.match(words, /^not (measured|set)$/);
    await unfold(page);
    const go = await page.locator(".setup tr[data-is=go]:visible").evaluateAll((rows) =>
      rows.map((row) => `${/** @type {HTMLElement} */ (row.closest("[data-calculator]")).dataset.calculator}: ${row.dataset.check}`));
    assert.deepEqual(await falselyGo(page, go), []);
    assert.deepEqual(await violations(page), []);
    assert.equal(await sideways(page), 0);

    await follow(page, "fit/guide-tubes.html");
    const shown = await page.locator("main .value[data-fixed='{}']:visible").evaluateAll((all) => all.map((one) => one.dataset.value ?? ""));
    const grounds = await page.evaluate(async (names) => {
      const engine = await gaugeleaf.engine();
      return names.map((name) => {
        const [calculator, output] = name.split(".");
        const { inputs, outputs } = output === undefined
          ? engine({ do: "measure", inputs: { [name]: null } })
          : engine({ do: "calculate", name: calculator, inputs: {}, want: [] });
        return `${name} ${(outputs?.[output] ?? inputs?.[name])?.ground}`;
      });
    }, shown);
    assert.deepEqual(grounds.filter((one) => / (none|example|undefined)$/.test(one)), []);
  }, phone));

test("with nothing measured no calculator says go of its own accord", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Bare", {});
    for (const path of calculatorPages) {
      await page.goto(it.url(path));
      await page.waitForFunction(() => document.querySelector(".widget")?.classList.contains("is-live"));
      const go = await page.locator(".widget .verdict[data-is=go]").evaluateAll((all) =>
        all.map((one) => `${/** @type {HTMLElement} */ (one.closest(".widget")).dataset.calculator}: ${one.dataset.check}`));
      assert.deepEqual(await falselyGo(page, go), [], path);
    }
  }));

test("the sheet says where each value comes from, and leaves blank what nobody measured, on paper too", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Half", { channel_depth: "14 in", tube_od: "3/4 in" });
    await follow(page, "survey/setup-sheet.html");
    await unfold(page);
    assert.match(await row(page, "channel_depth"), /14 in/);
    assert.match(await round(page, "channel_depth"), /2 of 13, measured 26 Nov 2026$/);
    assert.doesNotMatch(await row(page, "tube_od"), /not measured/);
    assert.match(await row(page, "tube_length"), /not measured$/);
    assert.match(await row(page, "stock_guide_tube"), /parts sheet line 14, read 19 Nov 2026 by lead/);
    const worst = await page.locator(".setup-worst").boundingBox();
    const deferral = await page.locator(".setup-deferral").boundingBox();
    assert.ok(deferral && worst && deferral.y - (worst.y + worst.height) < 60, "the deferral stands beside the verdict");
    const standing = await page.locator(".setup-verdict .standing").count();
    const signed = (/** @type {HTMLElement[]} */ rows) => rows.filter((row) => row.dataset.is || row.querySelector("svg, .verdict-word")).length;
    assert.equal(await page.locator(".setup-verdict:has(.standing)").evaluateAll(signed), 0, "a standing rule has no verdict's signs");
    const counts = await page.locator(".setup-worst [data-count]").allInnerTexts();
    assert.equal(counts.reduce((sum, one) => sum + Number(one), 0), (await page.locator(".setup-verdict").count()) - standing);
    // in columns, each of which is read by itself
    const paper = letters((await printedBothWays(page))[1]);
    assert.ok(paper.includes(letters("measured 26 Nov 2026")));
    assert.ok(paper.includes(letters("0 of 8 measured")));
  }));

test("two readings of one thing that differ are told once on the sheet, and beside all that reads either", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    const apart = { outside_span: "12 1/2 in", tubes_spanned: "13", tube_od: "3/4 in", tube_pitch: "15/16 in", layout: "30", pitch_direction: "along-row" };
    await begun(page, "Apart", apart);
    const both = /gives? a pitch of 31\/32 in, and 15\/16 in was measured/;
    await follow(page, "survey/setup-sheet.html");
    await unfold(page);
    const alarms = await page.locator(".setup-alarms li").allInnerTexts();
    assert.equal(alarms.filter((text) => both.test(plain(text))).length, 1);
    const rows = await page.locator(".setup-verdict[data-is=caution]:visible").allInnerTexts();
    assert.ok(rows.filter((text) => both.test(plain(text))).length > 2);
    assert.equal(await page.locator(".setup-worst [data-count=caution]").innerText(), "1");
    await follow(page, "calculators/pitch-span.html");
    await page.waitForFunction(() => document.querySelector(".widget")?.classList.contains("is-live"));
    const told = page.locator(".widget .verdict[data-is=caution]");
    assert.match(plain(await told.innerText()), both);
  }, phone));

test("a job's pages and its paper hold its own numbers alone", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Own", { tube_od: "0.750 in", channel_depth: "14 in" });
    await follow(page, "index.html");
    for (const [name, text] of [["tube_od", "3/4 in"], ["channel_depth", "14 in"]]) {
      const link = page.locator(`main .value[data-value="${name}"]:not([data-also])`).first();
      assert.equal(plain((await link.textContent()) ?? ""), text);
      assert.equal(await link.getAttribute("data-of"), null);
    }
    assert.equal(await page.locator("main s").count(), 0);
    await page.emulateMedia({ media: "print" });
    assert.doesNotMatch(plain(await page.locator("main").innerText()), /8 5\/8 in/);
  }));

test("a refused entry holds its results open until the older value is kept, by a tap on any page", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    await measure(page, "channel_depth", "140");
    await page.waitForFunction(() => Object.keys(globalThis.gaugeleaf?.store.kept()?.refused ?? {}).length === 1);
    const says = /Channel head depth: 140 in was not taken; keep 14 in\?/;
    await follow(page, "survey/setup-sheet.html");
    await unfold(page);
    assert.match(await row(page, "channel_depth"), /140 in was not taken; keep 14 in\?/);
    const verdict = page.locator("[data-calculator='guide-tube-length'] .setup-verdict").first();
    assert.equal(await verdict.getAttribute("data-is"), "open");
    assert.match(plain(await verdict.innerText()), says);
    assert.match(plain(await page.locator(".setup-missing").innerText()), says);
    await page.locator(".job-bar").getByRole("button", { name: "Keep 14 in" }).click();
    await page.waitForFunction(() => Object.keys(globalThis.gaugeleaf?.store.kept()?.refused ?? { none: 1 }).length === 0);
    await ready(page);
    assert.match(await round(page, "channel_depth"), /1 of 13, measured \d+ \w+ 20\d\d$/);
    assert.match(await row(page, "channel_depth"), /14 in/);
    assert.doesNotMatch(plain(await page.locator(".setup-missing").innerText()), says);
  }, phone));

test("where the handbook has several kits a job says which is on it, and goes by it", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    assert.equal(await page.locator(".job-kit-part").isVisible(), false, "one kit is no choice");
    await page.route("**/scripts/catalog.js*", async (route) => {
      const response = await route.fetch();
      await route.fulfill({ response, body: `${await response.text()}\ngaugeleafKits.push({ name: "bare", title: "Bare frame" });` });
    });
    await measure(page, "channel_depth", "14");
    await page.reload();
    await opened(page);
    await page.locator(".job-kit").selectOption("bare");
    await page.waitForFunction(() => globalThis.gaugeleaf?.store.kept()?.kit === "bare");
    await follow(page, "survey/setup-sheet.html");
    await unfold(page);
    // nothing is known of that kit, so nothing is set
    assert.match(await row(page, "stock_guide_tube"), /not set$/);
  }));
