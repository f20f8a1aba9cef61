// A fault walked through: one question a screen, the safe state first, with the page's own steps and rows.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";

const it = reader();
const phone = { viewport: { width: 390, height: 844 } };
const faults = "faults/air-faults.html";

/** What of the page itself can be seen. */
const seen = (page, selector) =>
  page.locator(selector).evaluateAll((all) => all.filter((one) => one.checkVisibility()).map((one) => one.textContent));

/** The same, once it is as many or says so: a walk follows its address a moment later. */
async function soon(page, selector, holds) {
  const until = Date.now() + 2000;
  let all = await seen(page, selector);
  while (!holds(all) && Date.now() < until) {
    await page.waitForTimeout(20);
    all = await seen(page, selector);
  }
  return all;
}

const says = (page, what) => soon(page, ".walk-say", (all) => what.test(all.join())).then((all) => all.join());

const asked = (page, what) => soon(page, ".walk-ask", (all) => all.join() === what);

test("a walk asks for safety, the place and the sight, and ends in a remedy and its proof", () =>
  it.visit(
    faults,
    async (page) => {
      await page.click(".walk-start");
      assert.deepEqual(await asked(page, "First: is everyone safe?"), ["First: is everyone safe?"]);
      assert.equal((await seen(page, ".steps > li")).length, 4);
      assert.equal((await seen(page, "table")).length, 0);
      // a tick of the walk is the page's own
      await page.check("#step-1 .tick");
      await page.click("text=All of it is done");
      assert.deepEqual(await asked(page, "Where does it show?"), ["Where does it show?"]);
      assert.deepEqual(await seen(page, ".walk-answer"), ["Supply", "Control lines and valves", "Motors"]);
      await page.click(".walk-answer:has-text(\"Motors\")");
      assert.deepEqual(await asked(page, "What do you see?"), ["What do you see?"]);
      await page.click(".walk-answer:has-text(\"Motor slow\")");
      const rows = await soon(page, "tbody tr", (all) => all.length === 1);
      assert.equal(rows.length, 1);
      assert.match(rows[0], /Little air, dry vanes/);
      assert.deepEqual(await seen(page, ".steps > li"), []);
      await page.click(".walk-on:visible");
      assert.match(await says(page, /check with air/), /check with air/);
      // the phone's own way back
      await page.goBack();
      assert.equal((await soon(page, "tbody tr", (all) => all.length === 1)).length, 1);
      await page.click("text=It did not help");
      assert.match(await says(page, /STOP WORK/), /STOP WORK/);
      await page.click("text=Show the whole page");
      assert.equal((await soon(page, "tbody tr", (all) => all.length === 16)).length, 16);
      assert.ok(await page.isChecked("#step-1 .tick"));
    },
    phone,
  ));

test("what fits nothing stops the work, from every screen", () =>
  it.visit(
    faults,
    async (page) => {
      for (const way of [["safe"], ["safe", "where"], ["safe", "where", "see/0"], ["do/0/0"]]) {
        await page.evaluate((hash) => { location.hash = hash; }, `walk/${way.at(-1)}`);
        await page.click(".walk-no:visible");
        assert.match(await says(page, /STOP WORK/), /STOP WORK/, way.join());
      }
      // an address that leads nowhere is the whole page
      await page.evaluate(() => { location.hash = "walk/see/99"; });
      assert.equal((await soon(page, "tbody tr", (all) => all.length === 16)).length, 16);
      assert.equal(await page.locator(".walk-start").isVisible(), true);
    },
    phone,
  ));

test("each answer is a key for a thumb in a glove, and nothing runs over the side", () =>
  it.visit(
    `${faults}#walk/see/1`,
    async (page) => {
      const keys = await page.locator(".walk-answer:visible, .walk-no:visible").evaluateAll((all) =>
        all.map((key) => key.getBoundingClientRect().height));
      assert.ok(keys.length === 7 && Math.min(...keys) >= 64, keys.join(" "));
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(wide <= 320, `${wide}`);
    },
    { viewport: { width: 320, height: 640 } },
  ));

test("printed amid a walk the page is whole, and without scripts there is none", async () => {
  await it.visit(`${faults}#walk/where`, async (page) => {
    await page.emulateMedia({ media: "print" });
    assert.equal((await seen(page, "tbody tr")).length, 16);
    assert.deepEqual(await seen(page, ".walk"), []);
  });
  await it.visit(
    faults,
    async (page) => assert.deepEqual(await seen(page, ".walk"), []),
    { javaScriptEnabled: false },
  );
});

test("a row's value is that of the job in hand", () =>
  it.visit(`${faults}#walk/do/0/1`, async (page) => {
    assert.match((await seen(page, "tbody tr")).join(), /85.psi/);
    assert.deepEqual(await seen(page, "td:first-child"), await seen(page, ".walk-shown td:first-child"));
  }));

test("a section's picture is shown with its faults, small and in words, and with no other's", () =>
  it.visit(
    `${faults}#walk/see/0`,
    async (page) => {
      const picture = page.locator(".picture:visible img");
      for (const [screen, shown] of [["see/0", 1], ["see/1", 0], ["do/0/2", 1], ["do/1/0", 0], ["where", 0], ["safe", 0]]) {
        await page.evaluate((hash) => { location.hash = hash; }, `walk/${screen}`);
        await page.waitForFunction((hash) => document.documentElement.classList.contains("is-walking") && location.hash === hash, `#walk/${screen}`);
        assert.equal(await picture.count(), shown, String(screen));
      }
      await page.evaluate(() => { location.hash = "walk/do/0/2"; });
      await picture.waitFor();
      assert.match(await picture.getAttribute("alt") ?? "", /compressor/);
      const { width } = await picture.boundingBox() ?? { width: 0 };
      assert.ok(width >= 300 && width <= 320, `${width}`);
      const [row, drawn, answer] = await page.evaluate(() =>
        ["tr.walk-shown", ".picture.walk-shown", ".walk-on[data-to=proof]"].map((one) => document.querySelector(one)?.getBoundingClientRect().top ?? 0));
      assert.ok(row < drawn && drawn < answer, [row, drawn, answer].join(" "));
    },
    phone,
  ));
