// The engine in the page stops: no number and no verdict of an earlier entry stays beside a new one.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { holds, texts } from "./support/job.js";
import { Widget, plain } from "./support/widget.js";

const it = reader();
const tube = "calculators/guide-tube-length.html";

/** @typedef {import("playwright-core").Page} Page */

/** The ways in which an instance may end: a trap, no memory for a question or an answer, an answer that is an error. */
const faults = ["trap", "null", "memory", "error"];

/**
 * Puts faults between the page and its engine: `fault` names one, `times` says how many calls meet it.
 * @param {Page} page
 */
function breakable(page) {
  return page.addInitScript(() => {
    const real = WebAssembly.instantiate.bind(WebAssembly);
    globalThis.broken = { fault: "", times: 0, instances: 0, slow: 0 };
    WebAssembly.instantiate = async (...given) => {
      await new Promise((done) => setTimeout(done, globalThis.broken.slow));
      const { instance } = await real(...given);
      globalThis.broken.instances += 1;
      const own = instance.exports;
      const met = (kind) => {
        const { broken } = globalThis;
        if (broken.fault !== kind || broken.times === 0) return false;
        broken.times -= 1;
        return true;
      };
      const reserve = (length) => (met("null") ? 0 : own.reserve(length));
      const call = (at, length) => {
        if (met("trap")) throw new WebAssembly.RuntimeError("unreachable");
        if (met("memory")) throw new RangeError("out of memory");
        if (met("error")) new Uint8Array(own.memory.buffer, at, length).fill(32);
        return own.call(at, length);
      };
      return { instance: { exports: { ...own, memory: own.memory, reserve, call } } };
    };
  });
}

/** @param {Page} page @param {string} fault @param {number} times */
const breaks = (page, fault, times) => page.evaluate(([fault, times]) => { Object.assign(globalThis.broken, { fault, times }); }, /** @type {const} */ ([fault, times]));

/** Opens a page whose engine can be broken. @param {string} path @param {(page: Page) => Promise<void>} use */
const broken = (path, use) =>
  it.visit("search.html", async (page) => {
    await breakable(page);
    await page.goto(it.url(path));
    await use(page);
  });

/** What shows of a widget's last answer. @param {Page} page */
const shown = (page) =>
  page.locator(".widget").first().evaluate((widget) =>
    [...widget.querySelectorAll(".understood, .result-text, .result-also, .verdict, .working-line, .widget-figure svg")]
      .filter((part) => part.checkVisibility({ visibilityProperty: true }) && (part.textContent ?? "").trim() !== "")
      .map((part) => `${part.getAttribute("class")}: ${(part.textContent ?? "").trim()}`));

for (const fault of faults) {
  test(`${fault}: the widget asks a new engine, and shows the answer to what was typed`, () =>
    broken(tube, async (page) => {
      const widget = await Widget.live(page, "guide-tube-length");
      await widget.type("channel_depth", "9");
      const before = (await widget.results()).length;
      await breaks(page, fault, 1);
      await widget.entry("channel_depth").fill("11");
      await page.waitForFunction(() => /^11\s/.test(document.querySelector("[data-input=channel_depth] .understood")?.textContent ?? ""));
      assert.notEqual((await widget.results()).length, before);
      assert.deepEqual(await widget.verdicts(), ["go"]);
      assert.equal(await page.evaluate(() => globalThis.broken.instances), 2);
    }));

  test(`${fault}: an engine that stops again and again leaves no result, and says so until it answers`, () =>
    broken(tube, async (page) => {
      const widget = await Widget.live(page, "guide-tube-length");
      await widget.type("channel_depth", "9");
      await breaks(page, fault, 1000);
      await widget.entry("channel_depth").fill("11");
      await page.waitForFunction(() => /stopped/.test(document.querySelector(".widget .announce")?.textContent ?? ""));
      assert.deepEqual(await shown(page), []);
      await breaks(page, "", 0);
      await widget.entry("channel_depth").fill("12");
      await page.waitForFunction(() => document.querySelector(".result[data-output=length] .result-text")?.textContent);
      assert.match(await widget.understood("channel_depth"), /^12 in/);
      assert.ok(await widget.at.locator(".problem.general").isHidden());
    }));
}

test("an engine that had ended before the entry, and can't start anew, leaves no result of an earlier one", () =>
  broken(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await breaks(page, "memory", 1000);
    // How far an input may go is asked of the engine apart from the answer.
    await page.locator("[data-input=channel_depth] .how-far > summary").click();
    await widget.entry("channel_depth").fill("11");
    await page.locator(".widget .problem.general").waitFor();
    assert.deepEqual(await shown(page), []);
    await breaks(page, "", 0);
    await widget.entry("channel_depth").fill("12");
    await page.waitForFunction(() => document.querySelector(".result[data-output=length] .result-text")?.textContent);
    assert.match(await widget.understood("channel_depth"), /^12 in/);
  }));

test("a job's field shows no reading of an earlier entry, keeps the last one and says so", () =>
  broken("jobs.html", async (page) => {
    await page.waitForFunction(() => document.querySelector(".job-count")?.textContent !== "");
    const field = page.locator(".job-form [data-input='channel_depth']");
    const entry = field.locator("input.entry");
    await entry.fill("9");
    await entry.blur();
    await holds(page, "channel_depth", "9 in");
    await breaks(page, "trap", 1000);
    await entry.fill("11");
    await entry.blur();
    await field.locator(".problem").waitFor({ state: "visible" });
    assert.equal((await field.locator(".understood").innerText()).trim(), "");
    assert.match(plain(await field.locator(".problem-message").innerText()), /stopped/);
    assert.match(plain(await field.locator(".not-taken").innerText()), /11 in was not taken; keep 9 in\?/);
    assert.equal((await texts(page)).channel_depth, "9 in");
    await breaks(page, "", 0);
    await entry.fill("12");
    await entry.blur();
    await holds(page, "channel_depth", "12 in");
    assert.ok(await field.locator(".not-taken").isHidden());
  }));

test("a search that stops takes away the earlier answer and its hits", () =>
  broken("search.html", async (page) => {
    const field = page.locator(".search-box input");
    await field.fill("guide tube 9 in channel");
    await page.locator(".answer").first().waitFor();
    await breaks(page, "trap", 1000);
    await field.fill("guide tube 11 in channel");
    await page.waitForFunction(() => /could not start|stopped/.test(document.querySelector(".search-count")?.textContent ?? ""));
    assert.equal(await page.locator(".answer").count(), 0);
    assert.equal(await page.locator(".hit").count(), 0);
    await breaks(page, "", 0);
    await field.fill("guide tube 12 in channel");
    await page.locator(".answer").first().waitFor();
    assert.match(plain(await page.locator(".answer").first().innerText()), /12 in/);
  }));

test("a search that stops once is asked anew, answers, hits and excerpts alike", () =>
  broken("search.html", async (page) => {
    const field = page.locator(".search-box input");
    await field.fill("guide tube 9 in channel");
    await page.locator(".answer").first().waitFor();
    await breaks(page, "trap", 1);
    await field.fill("guide tube 11 in channel");
    await page.waitForFunction(() => /11\sin/.test(document.querySelector(".answer")?.textContent ?? ""));
    await page.waitForFunction(() => (document.querySelector(".hit-excerpt")?.textContent ?? "") !== "");
  }));

test("a script that did not come once is fetched anew, and what it shows is there", () =>
  it.visit("search.html", async (page) => {
    await page.evaluate(() => {
      const append = document.head.append.bind(document.head);
      document.head.append = (script) => {
        if (!/answers\.js/.test(script.src)) return append(script);
        document.head.append = append;
        setTimeout(script.onerror);
      };
    });
    const field = page.locator(".search-box input");
    await field.fill("guide tube 9 in channel");
    await page.waitForFunction(() => /9\sin/.test(document.querySelector(".answer")?.textContent ?? ""));
  }));

test("a job's pages show no verdict of the handbook's own values after the engine stopped", async () => {
  for (const [path, selector] of [["survey/setup-sheet.html", ".setup"], ["index.html", ".hand"]]) {
    await broken("jobs.html", async (page) => {
      await page.evaluate(async () => {
        await gaugeleaf.bring("scripts/jobs.js");
        gaugeleaf.jobs.add({ name: "Dock", given: { channel_depth: { text: "14 in", when: "2026-11-26" } } });
      });
      await page.addInitScript(() => { Object.assign(globalThis.broken, { fault: "trap", times: 1000 }); });
      await page.goto(it.url(path));
      await page.waitForFunction(() => document.documentElement.classList.contains("job-ready"));
      const signs = await page.locator(`${selector} .verdict-word, ${selector} [data-is], ${selector}[data-is]`).evaluateAll((all) =>
        all.filter((one) => one.checkVisibility({ visibilityProperty: true })).map((one) => one.getAttribute("data-is") ?? one.textContent));
      assert.deepEqual(signs.filter((sign) => /go|caution/i.test(sign ?? "")), [], path);
      assert.match(plain(await page.locator(selector).first().innerText()), /calculator (could not start|stopped)/, path);
    });
  }
});

test("a question whose grading stops stays open, and says so", () =>
  broken("fit/guide-tubes.html", async (page) => {
    const question = page.locator(".question[data-kind='number']").first();
    await page.evaluate(() => gaugeleaf.engine());
    await breaks(page, "trap", 1000);
    await question.locator("input.entry").fill("9 in");
    await question.locator(".question-check").click();
    await page.waitForFunction(() => /can't be graded/.test(document.querySelector(".question[data-kind='number'] .question-said")?.textContent ?? ""));
    assert.equal(await question.evaluate((part) => part.classList.contains("is-answered")), false);
  }));

test("a tube map whose engine stops tells no time", () =>
  broken("run/tube-map.html", async (page) => {
    await page.waitForFunction(() => document.querySelector(".tube-map")?.classList.contains("is-live"));
    await breaks(page, "trap", 1000);
    const before = await page.locator(".tube-strokes").innerText();
    for (const tube of [1, 2]) await page.locator(`circle[data-tube="${tube}"]`).dispatchEvent("click");
    await page.waitForFunction(() => /not known/.test(document.querySelector(".tube-time")?.textContent ?? ""));
    assert.notEqual(await page.locator(".tube-strokes").innerText(), before);
    await breaks(page, "", 0);
    for (const tube of [3, 4]) await page.locator(`circle[data-tube="${tube}"]`).dispatchEvent("click");
    await page.waitForFunction(() => /\d/.test(document.querySelector(".tube-time")?.textContent ?? ""));
  }));

test("an engine that can't start shows no result beside the values that an address asks for, and says so", async () => {
  await it.visit("search.html", async (page) => {
    await page.addInitScript(() => { WebAssembly.instantiate = async () => { throw new RangeError("no memory"); }; });
    for (const [path, blank] of /** @type {const} */ ([[`${tube}#guide-tube-length?channel_depth=30`, true], [tube, false]])) {
      await page.goto("about:blank");
      await page.goto(it.url(path));
      const line = page.locator(".widget-stopped");
      await line.waitFor();
      assert.match(await line.innerText(), /could not start/);
      assert.equal(await page.locator(".widget .verdict").first().isVisible(), !blank, path);
      assert.equal(await page.locator(".widget .result-text").first().isVisible(), !blank, path);
    }
  });
});

test("what is typed while a switch of units is on its way is not overwritten by it", () =>
  broken(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("channel_depth", "9");
    await breaks(page, "trap", 1);
    await page.evaluate(() => { globalThis.broken.slow = 800; });
    await widget.unit("channel_depth").selectOption("mm");
    await widget.entry("channel_depth").fill("400");
    await page.waitForFunction(() => /^400\smm/.test(document.querySelector("[data-input=channel_depth] .understood")?.textContent ?? ""));
    await page.evaluate(() => gaugeleaf.engine());
    assert.equal(await widget.entry("channel_depth").inputValue(), "400");
  }));
