// How far the job in hand is: at a page's head, on the lists of pages and on the tape. A page is never
// called complete that isn't.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { sideways } from "./support/job.js";
import { letters, printed } from "./support/paper.js";
import { pages, read } from "./support/site.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };

const html = (path) => read(path).toString("utf8");
const steps = (path) => html(path).split('id="step-').length - 1;
/** A page of a phase with many steps, each ticked once; and the phase's own page. */
const path = pages.find((path) => html(path).includes('class="tape"') && steps(path) > 12 && html(path).includes('class="hazard')) ?? "";
const phase = `${path.split("/")[0]}/index.html`;
const total = html(path).split("data-tick=").length - 1;

/** @typedef {import("playwright-core").Page} Page */

/** Ticks the steps with these numbers. @param {Page} page @param {number[]} numbers */
async function tick(page, ...numbers) {
  for (const number of numbers) await page.locator(`#step-${number} > input.tick`).click();
}
/** What stands at the page's head. @param {Page} page */
async function head(page) {
  const line = page.locator(".go-on");
  await line.waitFor();
  return plain((await line.textContent()) ?? "");
}
/** What a list says of a page. @param {Page} page @param {string} within @param {string} to */
const said = (page, within, to) =>
  page.locator(`${within} a[href$="${to}"] .progress`).evaluateAll((all) => all.map((one) => `${one.dataset.is}: ${(one.textContent ?? "").trim()}`));
/** Waits until what is ticked was told. @param {Page} page */
const told = (page) => page.waitForSelector(".progress", { state: "attached" });
/** Every page's lists of the page and of its phase. @param {Page} page */
async function lists(page) {
  await page.goto(it.url(phase));
  await told(page);
  const cards = await said(page, ".cards", path);
  const tape = await said(page, ".tape", path);
  await page.goto(it.url("index.html"));
  await told(page);
  return { cards, tape, phases: await said(page, ".phases", phase) };
}

test("steps are numbered once through each page, on screen as in their addresses", () => {
  for (const path of pages) {
    let next = 1;
    for (const [, start, items] of html(path).matchAll(/<ol class="steps"(?: start="(\d+)")?>([^]*?)<\/ol>(?=\s*(?:<|$))/g)) {
      assert.equal(Number(start ?? 1), next, path);
      for (const [, number] of items.matchAll(/<li id="step-(\d+)"/g)) assert.equal(Number(number), next++, path);
    }
    assert.equal(next - 1, steps(path), path);
  }
});

test("where nothing is ticked nothing is told", () =>
  it.visit(phase, async (page) => {
    await page.waitForLoadState("networkidle");
    assert.equal(await page.locator(".progress, .go-on").count(), 0);
    assert.equal(await page.locator('script[src$="progress.js"]').count(), 0);
  }, phone));

test("a page goes on at its first open step, and says what was ticked after it", () =>
  it.visit(path, async (page) => {
    const of = steps(path);
    await tick(page, 1, 2);
    assert.match(await head(page), new RegExp(`^2 of ${of} steps ticked\\. (Read the [A-Z]+, then go|Go) on at step 3$`));
    await tick(page, 5);
    assert.match(await head(page), new RegExp(`^3 of ${of} steps ticked\\. Step 3 is not ticked\\. Ticked after it: 1\\. .* on at step 3$`));
    await page.reload();
    assert.match(await head(page), / on at step 3$/);
    await tick(page, 3, 4);
    assert.match(await head(page), new RegExp(`^5 of ${of} steps ticked\\. .* on at step 6$`));
    await tick(page, 1, 2, 3, 4, 5);
    assert.equal(await page.locator(".go-on").count(), 0);
  }, phone));

test("the way back leads to the hazard over the step, or to its heading, never past a hazard", () =>
  it.visit(path, async (page) => {
    const of = steps(path);
    for (let at = 1; at < of; at += 1) {
      await tick(page, at);
      const past = await page.locator(".go-on").waitFor().then(() => page.evaluate((next) => {
        const link = document.querySelector(".go-on a");
        const target = document.querySelector(link?.getAttribute("href") ?? "none");
        const step = document.getElementById(`step-${next}`);
        if (!link || !target || !step) return "no way";
        if (!(target.compareDocumentPosition(step) & Node.DOCUMENT_POSITION_FOLLOWING)) return "behind the step";
        const between = [...document.querySelectorAll(".prose > :is(h2, h3, .hazard, .steps)")];
        const parts = between.slice(between.indexOf(target), between.findIndex((part) => part.contains(step)));
        if (parts.slice(1).some((part) => part.matches("h2, h3"))) return "another section";
        const before = between[between.indexOf(target) - 1];
        if (target.matches(".hazard") && before?.matches(".hazard") && before === target.previousElementSibling) return "past a hazard";
        const hazard = target.matches(".hazard");
        if (!hazard && parts.some((part) => part.matches(".hazard"))) return "not the hazard";
        return link.textContent?.includes(hazard ? "Read the " : "Go on at ") ? "" : "says otherwise";
      }, at + 1));
      assert.equal(past, "", `step ${at + 1}`);
    }
    await tick(page, of);
    const title = plain((await page.locator(".checks-title").first().textContent()) ?? "");
    assert.equal(await head(page), `All ${of} steps ticked. Not all of this list is ticked: ${title}. Go on at the list: ${title}`);
    await page.locator(".go-on a").click();
    assert.ok(await page.locator(".checks").first().evaluate((list) => location.hash === `#${list.id}`));
  }, { ...phone, reducedMotion: "reduce" }));

test("the lists of pages tell what is ticked in the job in hand, and in no other", () =>
  it.visit(path, async (page) => {
    await tick(page, 1, 2, 3);
    const found = await lists(page);
    assert.deepEqual(found.cards, [`begun: 3 of ${total} ticked`]);
    assert.deepEqual(found.tape, [`begun: 3 of ${total} ticked`]);
    assert.match(found.phases[0] ?? "", /^begun: 3 of \d+ ticked$/);
    assert.equal(await page.locator(".phases .progress").count(), 1);
    await page.evaluate(() => globalThis.gaugeleaf.store.set("job", "T2"));
    assert.equal(await page.locator(".progress").count(), 0);
    await page.evaluate(() => globalThis.gaugeleaf.store.set("job", null));
    assert.equal(await page.locator(".progress").count(), 1);
  }, phone));

test("a page is complete once steps and tick lists are, and not with older words", () =>
  it.visit(path, async (page) => {
    for (const one of await page.locator("input.tick").all()) await one.click();
    const found = await lists(page);
    assert.deepEqual([...found.cards, ...found.tape], [`whole: all ${total} ticked`, `whole: all ${total} ticked`]);
    assert.match(found.phases[0] ?? "", new RegExp(`^begun: ${total} of \\d+ ticked$`));
    await page.goto(it.url(path));
    assert.match(await head(page), new RegExp(`^All ${total} steps and list lines ticked, the last at \\d\\d:\\d\\d\\.$`));
    /** Makes the ticks those of a page with this fingerprint. @param {string | undefined} of */
    const keep = (of) => page.evaluate(([path, of]) => {
      const { store } = globalThis.gaugeleaf;
      const key = store.ofJob(`ticks/${path}`);
      store.set(key, { .../** @type {object} */ (store.get(key)), of });
    }, [path, of]);
    await keep("0000-0000");
    const older = await lists(page);
    assert.deepEqual(older.cards, ["again: ticked in an older edition: look again"]);
    assert.match(older.phases[0] ?? "", /^again: 0 of \d+ ticked; cards to look at again: 1$/);
    await keep(undefined);
    assert.match((await lists(page)).cards[0] ?? "", /^again/);
    // to open the page is not to look again, nor is one tick more
    await page.goto(it.url(path));
    await tick(page, 1);
    await tick(page, 1);
    assert.match(await head(page), /look at each again\./);
    assert.match((await lists(page)).cards[0] ?? "", /^again/);
    await page.evaluate((path) => {
      // one of its lines had other words then
      const { store } = globalThis.gaugeleaf;
      const key = store.ofJob(`ticks/${path}`);
      const kept = /** @type {Record<string, unknown>} */ ({ .../** @type {object} */ (store.get(key)) });
      const first = Object.keys(store.ticks(path).at)[0] ?? "";
      kept["gone"] = kept[first];
      delete kept[first];
      store.set(key, kept);
    }, path);
    await page.goto(it.url(path));
    await page.locator(".go-on-looked").click();
    assert.deepEqual((await lists(page)).cards, [`begun: ${total - 1} of ${total} ticked`]);
    await page.goto(it.url(path));
    await page.locator("input.tick:not(:checked)").click();
    assert.match(await head(page), new RegExp(`^All ${total} steps and list lines ticked, the last at \\d\\d:\\d\\d\\.$`));
    assert.deepEqual((await lists(page)).cards, [`whole: all ${total} ticked`]);
    // cleared, nothing is left of the older edition
    await keep("0000-0000");
    await page.goto(it.url(path));
    for (const bar of await page.locator(".tick-bar").all()) await bar.locator(".tick-clear").click();
    await tick(page, 1);
    assert.deepEqual((await lists(page)).cards, [`begun: 1 of ${total} ticked`]);
  }, { ...phone, reducedMotion: "reduce" }));

test("what was ticked on another day says so, and asks to be looked at", () =>
  it.visit(path, async (page) => {
    for (const one of await page.locator("input.tick").all()) await one.click();
    const day = await page.evaluate((path) => {
      const { store } = globalThis.gaugeleaf;
      const key = store.ofJob(`ticks/${path}`);
      const kept = /** @type {Record<string, number>} */ (store.get(key));
      const then = Date.now() - 3 * 24 * 60 * 60 * 1000;
      store.set(key, { ...kept, [Object.keys(store.ticks(path).at)[0] ?? ""]: then });
      return new Date(then).toDateString();
    }, path);
    const found = await lists(page);
    assert.deepEqual([...found.cards, ...found.tape], Array(2).fill(`again: all ${total} ticked, some on ${day}: look again`));
    assert.match(found.phases[0] ?? "", new RegExp(`^again: ${total} of \\d+ ticked; cards to look at again: 1$`));
    await page.goto(it.url(path));
    assert.match(await head(page), new RegExp(`^All ${total} steps and list lines ticked, the last at \\d\\d:\\d\\d\\. Some were ticked on ${day}: look at those again\\.$`));
    assert.equal(await page.locator(".go-on-looked").count(), 0);
  }, { ...phone, reducedMotion: "reduce" }));

test("reading how training goes makes no phase complete: what somebody has behind them stands in their record", () => {
  const folders = pages.filter((path) => /class="(task|role|test)"/.test(html(path))).map((path) => path.replace(/[^/]*$/, ""));
  const reading = pages.find((path) => folders.includes(path.replace(/[^/]*$/, "")) && steps(path) > 0) ?? "";
  assert.notEqual(reading, "");
  const folder = reading.replace(/[^/]*$/, "");
  return it.visit(reading, async (page) => {
    for (const one of await page.locator("input.tick").all()) await one.click();
    await head(page);
    for (const address of [`${folder}index.html`, "index.html"]) {
      await page.goto(it.url(address));
      // the script of marks has run, and marks nothing
      await page.waitForSelector('link[href*="styles/progress.css"]', { state: "attached" });
      assert.equal(await page.locator(".progress").count(), 0, address);
    }
  }, { ...phone, reducedMotion: "reduce" });
});

test("another window's ticks are told at once", () =>
  it.visit(phase, async (page) => {
    const other = await page.context().newPage();
    await other.goto(it.url(path));
    await tick(other, 1);
    await told(page);
    assert.deepEqual(await said(page, ".cards", path), [`begun: 1 of ${total} ticked`]);
    await tick(other, 2);
    await page.waitForFunction(() => document.querySelector(".cards .progress")?.textContent?.includes("2 of"));
    await other.close();
  }, phone));

test("what is told is large enough, keeps to the sheet, is right with access and stays off paper", async () => {
  for (const look of ["light", "dark"]) {
    await it.visit(path, async (page) => {
      await tick(page, 1, 3);
      await head(page);
      const way = await page.locator(".go-on a").boundingBox();
      assert.ok((way?.height ?? 0) >= 48);
      assert.ok(!letters(await printed(page)).includes("stepsticked."));
      for (const address of [path, phase, "index.html"]) {
        await page.goto(it.url(address));
        await told(page).catch(() => {});
        await page.evaluate((look) => (document.documentElement.dataset.look = look), look);
        assert.ok((await sideways(page)) <= 0, address);
        assert.deepEqual(await violations(page), [], address);
      }
    }, { ...phone, reducedMotion: "reduce" });
  }
});
