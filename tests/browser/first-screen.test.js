// What a crew meets before the first thumb moves: the job, a question, the way back, the first step, help.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { begun, opened, sideways } from "./support/job.js";
import { pages, read } from "./support/site.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true };
const html = (path) => read(path).toString("utf8");
const work = pages.filter((path) => html(path).includes('id="step-1"') && html(path).includes('class="tab"'));

/** @typedef {import("playwright-core").Page} Page */

/** Where a part stands in the window. @param {Page} page @param {string} selector */
const box = (page, selector) =>
  page.locator(selector).first().evaluate((part) => {
    const { top, bottom, left, right, height, width } = part.getBoundingClientRect();
    return { top, bottom, left, right, height, width };
  });

/** Where the bar begins. @param {Page} page */
const bar = async (page) => (await box(page, ".bar")).top;

test("a page's head is one line of 56 pixels that stays in sight, with the phase and the place in it", () =>
  it.visit(work[0], async (page) => {
    assert.ok(work.length > 20);
    for (const path of work) {
      await page.goto(it.url(path));
      const head = await box(page, ".head-line");
      // two lines of a long title may take more, never a third
      assert.ok(head.top === 0 && head.height >= 56 && head.height <= 66, `${path}: ${head.top} ${head.height}`);
      assert.match(plain(await page.locator(".head-far").innerText()), /\d+\/\d+$/, path);
    }
    await page.evaluate(() => scrollTo(0, 3000));
    assert.equal((await box(page, ".head-line")).top, 0);
  }, phone));

test("where the work begins is on the first screen of every page with steps, and a tap leads to its hazard", () =>
  it.visit(work[0], async (page) => {
    for (const path of work) {
      await page.goto(it.url(path));
      const begin = await box(page, ".begin a");
      assert.ok(begin.height >= 64 && begin.bottom <= (await bar(page)), path);
      const to = (await page.locator(".begin a").getAttribute("href")) ?? "";
      const first = await page.evaluate((to) => {
        const [target, step] = [document.querySelector(to), document.querySelector(".checks, #step-1")];
        const between = target && step ? [...document.querySelectorAll(".prose > .hazard")].filter((hazard) =>
          hazard !== target && target.compareDocumentPosition(hazard) & Node.DOCUMENT_POSITION_PRECEDING && document.querySelector("h2") &&
          [...document.querySelectorAll("h2, h3")].every((head) => !(hazard.compareDocumentPosition(head) & 4 && head.compareDocumentPosition(step) & 4))).length : -1;
        return { is: target?.matches(".hazard, #step-1, .checks"), between };
      }, to);
      assert.deepEqual(first, { is: true, between: 0 }, `${path} ${to}`);
    }
  }, phone));

test("what a page's head leads to holds no other job's number", () => {
  const numbers = work.map((path) => [path, /<p class="begin">.*?<\/p>/.exec(html(path))?.[0] ?? ""]).filter(([, begin]) => /data-value|\d+ (psi|in|ft)\b/.test(begin));
  assert.deepEqual(numbers, []);
});

test("a page that is begun says how far it is in its head's line, and leads on from there", () =>
  it.visit(work[0], async (page) => {
    await page.locator("#step-1 > input.tick").click();
    await page.locator(".head-steps").waitFor();
    const of = html(work[0]).split('id="step-').length - 1;
    assert.match(plain(await page.locator(".head-far").innerText()), new RegExp(`1/${of}$`));
    assert.equal(await page.locator(".begin").isVisible(), false);
    const { height } = await box(page, ".head-line");
    assert.ok(height <= 76, `${height}`);
    await page.locator("#step-1 > input.tick").click();
    await page.locator(".head-steps").waitFor({ state: "detached" });
    assert.equal(await page.locator(".begin").isVisible(), true);
  }, phone));

test("the front page begins with the job, a question and the way back, before any prose", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Dock", { channel_depth: "14 in" });
    await page.goto(it.url(work[0]));
    await page.locator("#step-1 > input.tick").click();
    await page.goto(it.url("index.html"));
    await page.waitForFunction(() => document.querySelector(".hand")?.getAttribute("data-is"));
    await page.locator(".first-on small").waitFor();
    const edge = await bar(page);
    for (const part of [".job-way", ".hand", ".first-ask", ".first-on"]) {
      const { bottom, height } = await box(page, part);
      assert.ok(bottom <= edge && height >= 48, `${part} ends at ${bottom}`);
    }
    assert.ok((await box(page, ".prose")).top > edge);
    assert.match(plain(await page.locator(".first-on").innerText()), /^\d+ Go on where you were\. 1 of \d+ ticked\. \S/);
    await page.locator(".first-on").click();
    assert.equal(new URL(page.url()).pathname, new URL(it.url(work[0])).pathname);
    // another job has a way of its own
    await page.goto(it.url("jobs.html"));
    await opened(page);
    await begun(page, "Other", { channel_depth: "9 in" });
    await page.goto(it.url("index.html"));
    await page.waitForFunction(() => document.querySelector(".hand")?.getAttribute("data-is"));
    assert.equal(await page.locator(".first-on").isVisible(), false);
    await page.locator(".first-ask").click();
    await page.locator(".search-sheet[open] #search-words").waitFor();
  }, phone));

test("help is one tap away on every page, under the thumb", () => {
  for (const path of pages) assert.match(html(path), /class="bar-emergency" href="[^"]*emergency\.html"/, path);
});

test("the keys of the bar hold their words at 320 pixels, and none is under 56", async () => {
  await it.visit("index.html", async (page) => {
    const keys = await page.locator(".bar a:visible").evaluateAll((all) =>
      all.map((key) => {
        const [box, words] = [key.getBoundingClientRect(), /** @type {Element} */ (key.querySelector("span"))];
        const range = document.createRange();
        range.selectNodeContents(words);
        return { name: words.textContent, width: box.width, lines: range.getClientRects().length };
      }));
    assert.deepEqual(keys.map(({ name }) => name), ["Phases", "Search", "Job", "Emergency"]);
    assert.deepEqual(keys.filter(({ width, lines }) => width < 56 || lines !== 1), []);
  }, { viewport: { width: 320, height: 640 }, hasTouch: true });
});

test("a phone that lies on its side keeps the head's line and the bar, and room between them", () =>
  it.visit(work[0], async (page) => {
    await page.evaluate(() => scrollTo(0, 900));
    const [head, edge] = [await box(page, ".head-line"), await bar(page)];
    assert.ok(head.top === 0 && edge - head.bottom >= 240, `${head.bottom} to ${edge}`);
    assert.equal(await sideways(page), 0);
  }, { viewport: { width: 844, height: 390 }, hasTouch: true }));

test("a term says what it means without leaving the step, and gives the focus back", () =>
  it.visit(work[0], async (page) => {
    const term = page.locator(".prose a.term").first();
    await term.click();
    const meaning = page.locator(".meaning");
    await meaning.waitFor();
    const { bottom } = await box(page, ".meaning");
    assert.ok(bottom <= (await bar(page)) + 1);
    await page.keyboard.press("Escape");
    assert.equal(await meaning.count(), 0);
    assert.equal(await term.evaluate((term) => document.activeElement === term), true);
    await term.click();
    await meaning.waitFor();
    assert.deepEqual(await violations(page), []);
    // a meaning with a value in it is told where the value is the job's
    const valued = 'class="term" href="../glossary.html#term-dump-valve"';
    await page.goto(it.url(work.find((path) => html(path).includes(valued)) ?? ""));
    await page.locator('.prose a.term[href$="#term-dump-valve"]').first().click();
    await page.waitForURL(/glossary\.html#term-dump-valve/);
  }, phone));

test("the list of calculators is narrowed by all that is typed, and says when none is left", () =>
  it.visit("calculators/index.html", async (page) => {
    const rows = page.locator(".rows > li:visible");
    const all = await rows.count();
    await page.locator("#narrow").fill("hose loss");
    const left = await rows.count();
    assert.ok(left > 0 && left < all / 4, `${left}`);
    assert.equal(await page.locator(".narrow [role=status]").innerText(), `${left} of ${all}`);
    assert.equal(await page.locator(".area:visible").count() <= left, true);
    await page.locator("#narrow").fill("zzz");
    assert.match(await page.locator(".narrow [role=status]").innerText(), /^None\./);
    await page.locator("#narrow").fill("");
    assert.equal(await rows.count(), all);
  }, phone));

test("a fault's row is a card on a phone, each part with its head, and a table on a desk", async () => {
  const path = pages.find((path) => html(path).includes("data-head=")) ?? "";
  const cell = ".prose tr[id] > td:nth-child(2)";
  await it.visit(path, async (page) => {
    assert.match(await page.locator(cell).first().evaluate((cell) => getComputedStyle(cell, "::before").content), /Likely cause/);
    assert.ok((await box(page, cell)).width > 300);
    assert.equal(await sideways(page), 0);
  }, phone);
  await it.visit(path, async (page) => {
    assert.equal(await page.locator(cell).first().evaluate((cell) => getComputedStyle(cell).display), "table-cell");
  }, { viewport: { width: 1280, height: 800 } });
});

test("help stays in sight in a low window and with the largest text", async () => {
  for (const [width, height, scale] of [[844, 390, 32], [320, 568, 32], [640, 280, 16]]) {
    await it.visit(work[0], async (page) => {
      // as a reader sets it in the browser, and not on the page
      const session = await page.context().newCDPSession(page);
      await session.send("Page.setFontSizes", { fontSizes: { standard: scale, fixed: scale } });
      await page.reload();
      for (const top of [0, 900]) {
        await page.evaluate((top) => scrollTo(0, top), top);
        const hit = await page.locator(".bar-emergency").evaluate((link) => {
          const { left, top, width, height } = link.getBoundingClientRect();
          const there = document.elementFromPoint(left + width / 2, top + height / 2);
          return there !== null && link.contains(there) && height >= 48;
        });
        assert.equal(hit, true, `${width} by ${height}, text ${scale}, at ${top}`);
      }
    }, { viewport: { width, height }, hasTouch: true });
  }
});
