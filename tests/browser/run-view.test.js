// A run's screen: zoom about one place, two fingers, access at every size, the screen kept on, and the way to help.
import assert from "node:assert/strict";
import { test } from "node:test";
import axe from "axe-core";
import { reader } from "./support/browser.js";
import { begin, done, shown } from "./support/run.js";
import { read } from "./support/site.js";
import { live } from "./support/tubes.js";

const it = reader();
const path = "run/tube-map.html";
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true };

/** @typedef {import("playwright-core").Page} Page */

/** Which tube lies nearest the middle of the map's window. @param {Page} page */
const middle = (page) =>
  page.evaluate(() => {
    const box = /** @type {Element} */ (document.querySelector(".tube-sheet")).getBoundingClientRect();
    const far = (/** @type {Element} */ one) => {
      const at = one.getBoundingClientRect();
      return Math.hypot((at.left + at.right - box.left - box.right) / 2, (at.top + at.bottom - box.top - box.bottom) / 2);
    };
    const [near] = [...document.querySelectorAll("circle[data-tube]")].filter((one) => one.checkVisibility()).sort((one, other) => far(one) - far(other));
    return { tube: near.getAttribute("data-tube"), far: far(near), wide: near.getBoundingClientRect().width };
  });

test("the map grows about the middle of what is in sight, and never about an empty corner", () =>
  it.visit(path, async (page) => {
    await live(page);
    const before = await middle(page);
    for (let zoom = 0; zoom < 3; zoom += 1) await page.locator(".tube-larger").click();
    const after = await middle(page);
    assert.ok(after.wide > 7 * before.wide, `${after.wide} px, ${before.wide} before`);
    // a tube, or the lane beside it, is in the middle: none is farther off than its lane is wide
    assert.ok(after.far < 3 * after.wide, `the nearest tube is ${after.far} px off the middle`);
    for (let zoom = 0; zoom < 3; zoom += 1) await page.locator(".tube-smaller").click();
    assert.equal((await middle(page)).tube, before.tube);
    assert.ok(await page.locator(".tube-smaller").isDisabled());
  }, phone));

test("the run shows the stroke in hand in the middle, at a size that is read at arm's length", () =>
  it.visit(path, async (page) => {
    await begin(page);
    for (let stroke = 0; stroke < 12; stroke += 1) {
      await done(page);
      const { far, wide } = await middle(page);
      assert.ok(wide >= 46, `${wide} px`);
      const lit = await page.locator(".tube-lit").first().boundingBox();
      const map = await page.locator(".run-map").boundingBox();
      assert.ok(lit && map && lit.x >= map.x - 1 && lit.x + lit.width <= map.x + map.width + 1 && lit.y >= map.y - 1, `stroke ${stroke + 2}`);
      assert.ok(far < map.height, `${far}`);
    }
  }, phone));

test("turned on its side the run keeps its stroke in the middle, and its tubes as large", () =>
  it.visit(path, async (page) => {
    // as on a phone whose browser lets no page fill the screen; the window of one that does is no test's to turn
    await page.addInitScript(() => { Element.prototype.requestFullscreen = /** @type {any} */ (undefined); });
    await page.reload();
    await begin(page);
    for (let stroke = 0; stroke < 5; stroke += 1) await done(page);
    const before = await middle(page);
    await page.setViewportSize({ width: 844, height: 390 });
    await page.waitForFunction((wide) => Math.abs(/** @type {Element} */ (document.querySelector(".tube-lit ~ circle[data-tube]")).getBoundingClientRect().width - wide) < 2, before.wide);
    const [lit, map] = [await page.locator(".tube-lit").first().boundingBox(), await page.locator(".run-map").boundingBox()];
    assert.ok(lit && map && lit.x > map.x && lit.x + lit.width < map.x + map.width && lit.y > map.y && lit.y + lit.height < map.y + map.height, JSON.stringify([lit, map]));
  }, phone));

test("two fingers make the map larger about the place between them", () =>
  it.visit(path, async (page) => {
    await begin(page);
    const before = await middle(page);
    const box = await page.locator(".run-map").boundingBox();
    assert.ok(box);
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const touch = await page.context().newCDPSession(page);
    const at = (/** @type {number} */ apart) => [{ x: x - apart, y }, { x: x + apart, y }];
    await touch.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: at(30) });
    for (const apart of [40, 50, 60]) await touch.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: at(apart) });
    await touch.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
    await page.waitForFunction((wide) => /** @type {Element} */ (document.querySelector("circle[data-tube='1']")).getBoundingClientRect().width > 1.5 * wide, before.wide);
    assert.deepEqual((await shown(page)).counts, [0, 0, 0]);
  }, phone));

test("Escape and the key leave the run, and the focus is where it was", () =>
  it.visit(path, async (page) => {
    await begin(page);
    assert.equal(await page.evaluate(() => document.activeElement?.className), "run-done");
    assert.ok(await page.locator(".card").isHidden(), "nothing under the run is in reach");
    // Escape answers a question before it leaves
    await page.locator(".run-more").click();
    await page.keyboard.press("Escape");
    assert.equal(await page.locator(".run").count(), 1);
    await page.keyboard.press("Escape");
    await page.waitForFunction(() => !document.querySelector(".run"));
    assert.equal(await page.evaluate(() => document.activeElement?.className), "run-start");
    assert.ok(await page.locator(".tube-map .tube-sheet svg").isVisible());
    await page.locator(".run-start").click();
    await page.locator(".run-leave").click();
    assert.equal(await page.locator(".run").count(), 0);
  }));

for (const [what, size, prepare] of /** @type {[string, import("playwright-core").BrowserContextOptions, string?][]} */ ([
  ["a small phone", { viewport: { width: 320, height: 640 }, hasTouch: true }],
  ["a phone on its side", { viewport: { width: 844, height: 390 }, hasTouch: true }],
  ["a desk", { viewport: { width: 1280, height: 800 } }],
  ["text of twice the size", { viewport: { width: 390, height: 844 }, hasTouch: true }, "200%"],
  ["colours that are forced", { viewport: { width: 390, height: 844 }, hasTouch: true, forcedColors: "active" }],
])) {
  test(`on ${what} every key of the run is named, large, and within the screen`, () =>
    it.visit(path, async (page) => {
      await live(page);
      if (prepare) await page.evaluate((size) => { document.documentElement.style.fontSize = size; }, prepare);
      await page.locator('circle[data-tube="3"]').dispatchEvent("click");
      await begin(page);
      await done(page);
      const keys = await page.locator(".run button:visible").evaluateAll((all) => all.map((one) => {
        const box = one.getBoundingClientRect();
        return { name: one.className, wide: box.width, high: box.height, right: box.right };
      }));
      const wide = await page.evaluate(() => document.documentElement.clientWidth);
      for (const key of keys) {
        assert.ok(key.wide >= 48 && key.high >= 48, JSON.stringify(key));
        assert.ok(key.right <= wide + 1, JSON.stringify(key));
      }
      const warned = page.locator(".run-warn:visible");
      // while a warning stands the large key comes after its words, and may be scrolled to
      if (await warned.count() > 0) await page.locator(".run-done").scrollIntoViewIfNeeded();
      const big = await page.locator(".run-done").boundingBox();
      const high = await page.evaluate(() => innerHeight);
      assert.ok(big && big.height >= 110 && big.y + big.height <= high + 1, JSON.stringify(big));
      assert.ok(((await page.locator(".run-map").boundingBox())?.height ?? 0) >= 120);
      assert.equal(await page.evaluate(() => document.querySelector(".run")?.scrollWidth), wide);
      await page.clock.resume();
      await page.evaluate(axe.source);
      const faults = await page.evaluate(async () => {
        const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
        const found = await globalThis.axe.run({ runOnly: tags, resultTypes: ["violations"] });
        return found.violations.flatMap((rule) => rule.nodes.map((node) => `${rule.id}: ${node.html.slice(0, 120)}`));
      });
      assert.deepEqual(faults, []);
    }, size));
}

for (const [width, height, text] of /** @type {[number, number, string][]} */ ([[844, 390, "200%"], [320, 568, "200%"], [390, 844, "200%"], [640, 280, "100%"], [390, 844, "100%"]])) {
  test(`at ${width} x ${height} with text of ${text} no key lies over a warning's words`, () =>
    it.visit(path, async (page) => {
      await live(page);
      await page.evaluate((size) => { document.documentElement.style.fontSize = size; }, text);
      await page.locator('.tube-modes input[value="plugged"]').check({ force: true });
      await page.locator('circle[data-tube="2"]').dispatchEvent("click");
      await begin(page);
      const over = await page.evaluate(() => {
        const words = /** @type {Text} */ (/** @type {Element} */ (document.querySelector(".run-warned")).firstChild);
        const found = [];
        const range = document.createRange();
        for (const at of [0, Math.floor(words.length / 2), words.length - 2]) {
          range.setStart(words, at);
          range.setEnd(words, at + 1);
          for (const scroll of [false, true]) {
            if (scroll) words.parentElement?.scrollIntoView({ block: at === 0 ? "start" : "end" });
            const box = range.getBoundingClientRect();
            const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
            if (top && !top.closest(".run-warn") && (scroll || top.closest("button"))) found.push(`${at} ${scroll} ${top.className}`);
          }
        }
        return found;
      });
      assert.deepEqual(over, []);
      await page.locator(".run-done").scrollIntoViewIfNeeded();
      const big = await page.locator(".run-done").boundingBox();
      assert.ok(big && big.y + Math.min(big.height, 60) <= height, JSON.stringify(big));
    }, { viewport: { width, height }, hasTouch: true }));
}

test("every question over a run leads to help, and the answers of a hand-over are in sight on a phone on its side", { skip: !read(path).includes("bar-emergency") && "no page of this site leads to one" }, () =>
  it.visit(path, async (page) => {
    await begin(page);
    await page.locator(".run-more").click();
    const ask = page.locator(".tube-ask[open]");
    assert.equal(await ask.locator(".run-emergency").evaluate((one) => /** @type {HTMLAnchorElement} */ (one).href), it.url("emergency.html"));
    await ask.getByText("Hand over").dispatchEvent("click");
    assert.equal(await ask.locator(".run-emergency").count(), 1);
    for (const name of ["Not now", "Handed over"]) {
      const box = await ask.getByText(name, { exact: true }).boundingBox();
      assert.ok(box && box.y >= 0 && box.y + box.height <= 391, JSON.stringify(box));
    }
    for (const high of await ask.locator("input, textarea").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height))) assert.ok(high >= 64, `${high}`);
  }, { viewport: { width: 844, height: 390 }, hasTouch: true }));

test("the screen is kept on while the run is open, and given up when it is left", () =>
  it.visit(path, async (page) => {
    await page.addInitScript(() => {
      const held = { asked: 0, released: 0 };
      Object.assign(globalThis, { held });
      Object.defineProperty(navigator, "wakeLock", { value: { request: async () => { held.asked += 1; return { release: async () => { held.released += 1; } }; } } });
    });
    await page.reload();
    await begin(page);
    await page.waitForFunction(() => /** @type {any} */ (globalThis).held.asked === 1);
    await page.keyboard.press("Escape");
    await page.waitForFunction(() => /** @type {any} */ (globalThis).held.released === 1);
  }));

test("a phone that refuses to keep its screen on is told of", () =>
  it.visit(path, async (page) => {
    await page.addInitScript(() => {
      Object.defineProperty(navigator, "wakeLock", { value: { request: async () => { throw new DOMException("battery", "NotAllowedError"); } } });
    });
    await page.reload();
    await begin(page);
    await page.waitForFunction(() => /may switch its screen off/.test(document.querySelector(".run-said")?.textContent ?? ""));
  }));

test("the way to the emergency page is in sight all through the run", { skip: !read(path).includes("bar-emergency") && "no page of this site leads to one" }, () =>
  it.visit(path, async (page) => {
    await begin(page);
    const link = page.locator(".run-emergency");
    assert.equal(await link.evaluate((one) => /** @type {HTMLAnchorElement} */ (one).href), it.url("emergency.html"));
    assert.ok(((await link.boundingBox())?.height ?? 0) >= 48);
  }, phone));
