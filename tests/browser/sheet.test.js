// The setup sheet, and what a widget shows besides its results: spans, limits, plots.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
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
