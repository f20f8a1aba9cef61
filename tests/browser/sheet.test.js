// The setup sheet, and what a widget shows besides its results: spans, limits, plots.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { begun, every, opened, ready } from "./support/job.js";
import { letters, printed } from "./support/paper.js";
import { calculatorPages } from "./support/site.js";
import { Widget, plain } from "./support/widget.js";

const it = reader();
const tube = "calculators/guide-tube-length.html";
const noise = "calculators/noise-exposure.html";
const jobs = ["jobs/t1.html", "jobs/t2.html", "jobs/t3.html"];

test("a tolerance shows the span of the result, and goes with it", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    const span = widget.at.locator('.result[data-output="length"] .result-span');
    assert.equal(await span.isVisible(), false);
    await widget.type("stock_length", "11 1/2");
    await widget.type("channel_depth", "14 in +- 1/8 in");
    assert.equal(plain(await span.innerText()), "Inside the tolerance 25 3/8 in to 25 5/8 in");
    await widget.type("channel_depth", "14 in");
    assert.equal(await span.isVisible(), false);
  }));

test("a verdict that may change inside a tolerance says so", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("stock_length", "12");
    await widget.type("channel_depth", "36 in +- 1/8 in");
    const verdict = await widget.at.locator(".verdict").first().innerText();
    assert.match(plain(verdict), /may turn to caution/);
  }));

test("how far an input may go is said on asking, follows the inputs and goes with a refusal", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("stock_length", "10");
    await widget.type("channel_depth", "9");
    const field = widget.field("channel_depth");
    const said = async () => plain((await field.locator(".how-far-said").textContent()) ?? "");
    assert.equal(await said(), "");
    await field.locator(".how-far > summary").click();
    await page.waitForFunction(() => document.querySelector("[data-input=channel_depth] .how-far-line"));
    assert.equal(await said(), "go up to 38 in, then caution");
    await widget.type("stock_length", "12");
    assert.equal(await said(), "go up to 36 in, then caution");
    await widget.type("channel_depth", "9 psi");
    assert.equal(await said(), "");
    await widget.type("channel_depth", "9");
    assert.equal(await said(), "go up to 36 in, then caution");
  }));

test("a calculator's page says without scripts how far its values may go", () =>
  it.visit(
    tube,
    async (page) => {
      const far = (await page.locator(".limits .far").allInnerTexts()).map(plain);
      assert.ok(far.some((text) => /^For T1: go up to .* in, then caution$/.test(text)), far.join("; "));
    },
    { javaScriptEnabled: false },
  ));

test("a plot is there without scripts, and its mark follows the input", async () => {
  const mark = (page) =>
    page.evaluate(() => document.querySelector(".widget-plot .fig-mark")?.getAttribute("cx"));
  const still = await it.visit(noise, mark, { javaScriptEnabled: false });
  assert.ok(still);
  await it.visit(noise, async (page) => {
    const widget = await Widget.live(page, "noise-exposure");
    assert.equal(await mark(page), still);
    await widget.type("level", "99");
    assert.notEqual(await mark(page), still);
    const words = await page.locator(".widget-plot desc").textContent();
    assert.match(plain(words ?? ""), /at 99 dB/);
    await widget.type("level", "99 psi");
    assert.equal(await page.locator(".widget-plot svg").count(), 0);
  });
});

test("a live result keeps its numbers whole", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("stock_length", "11 1/2");
    await widget.type("channel_depth", "14");
    const result = await widget.at.locator('[data-output="length"] .result-text').textContent();
    assert.equal(result, "25\u00a01/2\u00a0in");
    const because = (await widget.at.locator(".verdict .because").first().textContent()) ?? "";
    assert.ok(because.includes("25\u00a01/2\u00a0in"), because);
  }));

test("a setup sheet is complete without scripts and stays inside a narrow phone", async () => {
  const seen = new Set();
  for (const path of jobs) {
    await it.visit(
      path,
      async (page) => {
        const sheet = page.locator(".setup");
        assert.equal(await sheet.locator("tbody[data-calculator]").count(), calculatorPages.length, path);
        const empty = await sheet.locator(".value").evaluateAll((all) =>
          all.filter((one) => (one.textContent ?? "").trim() === "").map((one) => one.outerHTML));
        assert.deepEqual(empty, [], path);
        for (const is of await sheet.locator("tr[data-is]").evaluateAll((all) => all.map((one) => one.dataset.is))) {
          seen.add(is);
        }
        const worst = await sheet.locator(".setup-worst").getAttribute("data-is");
        assert.equal(worst, { "jobs/t1.html": "caution", "jobs/t2.html": "open", "jobs/t3.html": "stop" }[path]);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(over <= 0, `${path} is ${over} pixels too wide`);
      },
      { javaScriptEnabled: false, viewport: { width: 320, height: 640 } },
    );
  }
  assert.deepEqual([...seen].sort(), ["caution", "go", "open", "stop"]);
});

test("the front page leads to every prepared job", () =>
  it.visit("index.html", async (page) => {
    const ways = await page.locator("#jobs + ul a").evaluateAll((all) => all.map((one) => one.getAttribute("href")));
    assert.deepEqual(ways, jobs);
  }));

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true };
/** @param {import("playwright-core").Page} page @param {string} format */
const sides = async (page, format) => (await page.pdf({ format })).toString("latin1").match(/\/Type\s*\/Page\b/g)?.length;

/** Begins a job and opens its sheet. @param {import("playwright-core").Page} page @param {Record<string, string>} given */
async function sheetOf(page, given) {
  await opened(page);
  const id = await begun(page, "Dock", given);
  await page.goto(it.url("survey/setup-sheet.html"));
  await ready(page);
  await page.evaluate(() => gaugeleaf.bring("scripts/jobs.js"));
  return id;
}

/** What the drawings say, each text by itself. @param {import("playwright-core").Page} page */
const drawn = (page) =>
  page.locator("[data-drawing] text").evaluateAll((all) => all.map((one) => (one.textContent ?? "").replaceAll("\u00a0", " ").trim()).filter((one) => one !== ""));

test("the first side of each prepared job is one side of either paper, and four screens of a phone", () =>
  it.tour(jobs, async (page, path) => {
    await page.setViewportSize({ width: 390, height: 844 });
    await page.locator(".setup-print").waitFor();
    for (const format of ["A4", "Letter"]) assert.equal(await sides(page, format), 1, `${path} on ${format}`);
    const high = await page.evaluate(() => document.querySelector(".setup-side")?.getBoundingClientRect().height ?? 0);
    assert.ok(high > 0 && high <= 4 * 844, `${path}: ${high}`);
    const paper = letters(await printed(page));
    for (const words of ["Setup sheet", "Pump operator", "Uncontrolled when printed", "Guide tube", "Tube length", "INVENTED EQUIPMENT"]) {
      assert.ok(paper.includes(letters(words)), `${path} prints without: ${words}`);
    }
  }));

test("a job with nothing measured, and one with all of it, is one side of either paper too", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    const all = await every(page);
    for (const given of [{}, all]) {
      await page.goto(it.url("jobs.html"));
      await sheetOf(page, given);
      await page.waitForFunction(() => document.querySelector("[data-sheet-code] svg"));
      for (const format of ["A4", "Letter"]) assert.equal(await sides(page, format), 1, `${Object.keys(given).length} measured, on ${format}`);
      const high = await page.evaluate(() => document.querySelector(".setup-side")?.getBoundingClientRect().height ?? 0);
      assert.ok(high > 0 && high <= 4 * 844, String(high));
    }
  }, phone));

test("the annex follows on further sheets where it is unfolded, and is left out where not", () =>
  it.visit(jobs[0], async (page) => {
    await page.evaluate(() => { globalThis.print = () => {}; });
    await page.getByRole("button", { name: "Print with the annex" }).click();
    const whole = letters(await printed(page));
    assert.ok(whole.includes(letters("Ratings in use")) && whole.includes(letters("Wrenfold yard rule 6")));
    assert.ok(whole.includes(letters("T1 is a cooler")), "the page's own text");
    assert.ok(Number(await sides(page, "A4")) > 3);
    await page.getByRole("button", { name: "Print the side alone" }).click();
    const side = letters(await printed(page));
    assert.ok(!side.includes(letters("Ratings in use")) && side.includes(letters("Setup sheet")));
  }));

test("all that stops or is open stands on the first side, by the calculator that says it", () =>
  it.visit("jobs.html", async (page) => {
    for (const given of [{}, { channel_depth: "14 in", bundle_diameter: "60 in", tube_od: "3/4 in", tube_pitch: "15/16 in" }]) {
      await page.goto(it.url("jobs.html"));
      await sheetOf(page, given);
      const lacking = await page.evaluate(async () => {
        const engine = await gaugeleaf.engine();
        const side = document.querySelector(".setup-told")?.textContent ?? "";
        const bodies = /** @type {HTMLElement[]} */ ([...document.querySelectorAll("[data-calculator]")]);
        return bodies.filter((body) => {
          const { verdicts, problems } = engine({ do: "calculate", name: body.dataset.calculator ?? "", inputs: {}, want: [] });
          const title = body.querySelector(".setup-name")?.textContent ?? "?";
          const own = verdicts.filter((one) => !one.standing && !one.of);
          const bad = own.filter((one) => one.is === "stop" || one.is === "open").length + (own.length > 0 ? problems.length : 0);
          return bad > 0 && !side.includes(title);
        }).map((body) => body.dataset.calculator);
      });
      assert.deepEqual(lacking, []);
      const blank = await page.locator(".setup-round tr[data-ground=none] td").evaluateAll((all) => all.map((one) => one.textContent));
      assert.ok(blank.length > 10 && blank.every((text) => text === ""), "each has a box to fill");
    }
  }));

test("a drawing says OPEN where a value will stand, and follows the job and no other", () =>
  it.visit("jobs.html", async (page) => {
    const id = await sheetOf(page, {});
    const bare = await drawn(page);
    assert.ok(bare.filter((text) => text === "OPEN").length > 8, bare.join("; "));
    assert.deepEqual(bare.filter((text) => /21 3\/8|8 5\/8|10 3\/4|190 7\/8/.test(text)), [], "numbers of T1");
    await page.evaluate((id) => gaugeleaf.jobs.change(id, (job) => ({ ...job, given: { channel_depth: { text: "14 in", when: "2026-11-26" } } })), id);
    await page.reload();
    await ready(page);
    const half = await drawn(page);
    assert.ok(half.includes("26 3/4 in") && half.includes("head 14 in"), half.join("; "));
    assert.ok(half.filter((text) => text === "OPEN").length < bare.filter((text) => text === "OPEN").length);
    // an entry that was refused leaves the older one, on which nothing is dialled in
    await page.evaluate(() => gaugeleaf.bring("scripts/jobs.js"));
    await page.evaluate((id) => gaugeleaf.jobs.change(id, (job) => ({ ...job, refused: { channel_depth: { text: "140", unit: "in", label: "Channel head depth" } } })), id);
    await page.reload();
    await ready(page);
    assert.deepEqual((await drawn(page)).filter((text) => /26 3\/4|14 in/.test(text)), []);
  }));

test("no drawing prints a number that a stop forbids: STOP stands in its place, in words too", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    const all = { ...(await every(page)), stop_opening: "30 mm" };
    await page.goto(it.url("jobs.html"));
    await sheetOf(page, all);
    const texts = await drawn(page);
    assert.ok(texts.includes("STOP") && !texts.includes("30 mm"), texts.join("; "));
    assert.ok((await page.locator("[data-drawing] rect.STOP").count()) > 0);
    assert.match(await page.locator('[data-drawing="guide"] desc').innerHTML(), /The stop: STOP\./);
  }));

test("a prepared job's drawings are complete without scripts, by its own values", () =>
  it.visit(jobs[0], async (page) => {
    const texts = await drawn(page);
    for (const text of ["21 3/8 in", "head 8 5/8 in", "4 and 10", "10 3/4 in", "18 3/8 in", "190 7/8 in", "58 psi"]) {
      assert.ok(texts.includes(text), `${text} in ${texts.join("; ")}`);
    }
    assert.ok(!texts.includes("OPEN"));
  }, { javaScriptEnabled: false }));

test("no drawing of the handbook's job is left where the drawings don't come", () =>
  it.visit("jobs.html", async (page) => {
    await page.route("**/scripts/drawings.js*", async (route) => {
      const response = await route.fetch();
      const damaged = (await response.text()).replace(/(gaugeleafCarried.*= ")[^"]{24}/, "$1AAAAAAAAAAAAAAAAAAAAAAAA");
      await route.fulfill({ response, body: damaged });
    });
    await sheetOf(page, { channel_depth: "14 in" });
    assert.equal(await page.locator("[data-drawing] svg:visible").count(), 0);
    assert.match(await page.locator(".setup").innerText(), /calculator (could not start|stopped)/);
  }));

test("who took a value and what was noted is told in small print, once for a round that one person took", () =>
  it.visit("jobs.html", async (page) => {
    const id = await sheetOf(page, {});
    await page.evaluate((id) => gaugeleaf.jobs.change(id, (job) => ({
      ...job,
      given: Object.assign({}, job.given, {
        tube_od: { text: "3/4 in", when: "2026-11-26", who: "R. Hale", note: "caliper 4" },
        tube_length: { text: "14 ft", when: "2026-11-26", who: "R. Hale" },
      }),
    })), id);
    await page.reload();
    await ready(page);
    const head = plain(await page.locator(".setup-round:has([data-named=tube_od]) caption").textContent() ?? "");
    assert.match(head, /2 of 13, measured 26 Nov 2026, R\. Hale$/);
    assert.match(plain(await page.locator("[data-named=tube_od] th").textContent() ?? ""), /caliper 4$/);
  }));
