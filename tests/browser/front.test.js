// The front page says how each job stands: the prepared ones as published, the one in hand as typed.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { begun, every, opened } from "./support/job.js";
import { plain } from "./support/widget.js";

const it = reader();

/** @typedef {import("playwright-core").Page} Page */

/** Opens a page and waits until it shows the job in hand. @param {Page} page @param {string} path */
async function follow(page, path) {
  await page.goto(it.url(path));
  await page.waitForFunction(() => document.documentElement.classList.contains("job-ready"));
}

/** Types measurements into the form. @param {Page} page @param {Record<string, string>} values */
async function enter(page, values) {
  await page.goto(it.url("jobs.html"));
  await page.waitForFunction(() => document.querySelector(".job-count")?.textContent !== "");
  for (const [name, text] of Object.entries(values)) {
    const entry = page.locator(`.job-form [data-input="${name}"] input.entry`);
    await entry.fill(text);
    await entry.blur();
    await page.waitForFunction(() => document.activeElement === document.body);
  }
}

/** What the front page says of the job in hand. @param {Page} page */
async function stands(page) {
  const hand = page.locator(".hand");
  const mark = await hand.locator("use").getAttribute("href");
  return { is: await hand.getAttribute("data-is"), mark, words: plain(await hand.innerText()) };
}

test("each prepared job is marked with the worst verdict of its own setup sheet", () =>
  it.visit("index.html", async (page) => {
    const cards = await page.locator("#jobs + ul > li").evaluateAll((all) =>
      all.map((card) => ({
        url: card.querySelector("a")?.getAttribute("href") ?? "",
        mark: card.querySelector(".card-worst use")?.getAttribute("href"),
        word: card.querySelector(".card-worst strong")?.textContent,
      })),
    );
    assert.ok(cards.length > 1);
    for (const { url, mark, word } of cards) {
      await page.goto(it.url(url));
      const is = await page.locator(".setup-worst").getAttribute("data-is");
      assert.deepEqual([mark, word], [`#mark-${is}`, is?.toUpperCase()], url);
    }
  }));

test("a job entered that makes a stop shows so on the front page, and one mended shows that", () =>
  it.visit("index.html", async (page) => {
    assert.equal(await page.locator(".hand").isVisible(), false, "no job is in hand");

    // a stop stands on what was measured, and outranks what is open
    await page.goto(it.url("jobs.html"));
    await opened(page);
    await begun(page, "My job", { ...(await every(page)), odd_method: "dummy", bundle_diameter: "38 1/2 in" });
    await follow(page, "index.html");
    const stop = await stands(page);
    assert.deepEqual([stop.is, stop.mark], ["stop", "#mark-stop"]);
    assert.match(stop.words, /^STOP is the worst verdict for job My job\./);

    await page.locator(".hand").click();
    await page.waitForFunction(() => document.documentElement.classList.contains("job-ready"));
    assert.equal(await page.locator(".setup-worst").getAttribute("data-is"), "stop");
    assert.match(plain(await page.locator(".setup-alarms li").first().innerText()), /^STOP /);

    await enter(page, { bundle_diameter: "22 1/4 in" });
    await follow(page, "index.html");
    const mended = await stands(page);
    // the catch fills while the lances run, and somebody has to watch it
    assert.deepEqual([mended.is, mended.mark], ["caution", "#mark-caution"]);
  }));

test("a job that can't be judged is a stop on the front page, with what gave no result", () =>
  it.visit("index.html", async (page) => {
    await enter(page, { channel_depth: "9 in" });
    // A phone may hold values that the handbook of today refuses.
    await page.evaluate(() => {
      const key = gaugeleaf.store.own(`job/${gaugeleaf.store.job()}`);
      localStorage.setItem(key, (localStorage.getItem(key) ?? "").replace("9 in", "9 psi"));
    });
    await follow(page, "index.html");
    const { is, words } = await stands(page);
    assert.equal(is, "stop");
    assert.match(words, /No result, so a stop: Guide tube length/);
  }));
