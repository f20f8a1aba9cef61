// Steps and tick lists remember, apart for every job, and nothing is lost by a slip of the finger.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { letters, printed } from "./support/paper.js";
import { pages, read } from "./support/site.js";

const it = reader();
/** A page with both: a tick list and steps. */
const path = pages.find((path) => ['class="checks"', 'class="steps"'].every((part) => read(path).includes(part))) ?? "";
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };

/** Ticks, and the count beside them. */
class List {
  /**
   * @param {import("playwright-core").Locator} ticks
   * @param {import("playwright-core").Locator} bar
   */
  constructor(ticks, bar) {
    this.ticks = ticks;
    this.count = bar.locator(".tick-count");
    this.clear = bar.locator(".tick-clear");
    this.undo = bar.locator(".tick-undo");
  }

  async ticked() {
    return this.ticks.evaluateAll((all) => all.map((one) => /** @type {HTMLInputElement} */ (one).checked));
  }

  async told() {
    return (await this.count.textContent())?.trim();
  }
}

const first = (page) => page.locator(".checks").first();
const checks = (page) => new List(first(page).locator("input.tick"), first(page).locator(".tick-bar"));
const steps = (page) => new List(page.locator("ol.steps > li > input.tick"), page.locator(".tick-bar[data-steps]"));

for (const [what, list, unit] of /** @type {const} */ ([
  ["a tick list", checks, ""],
  ["the steps of a page", steps, " steps"],
])) {
  test(`${what} survives a reload and is another on another job`, () =>
    it.visit(path, async (page) => {
      const total = await list(page).ticks.count();
      assert.ok(total > 2);
      await list(page).ticks.nth(1).click();
      assert.equal(await list(page).told(), `1 of ${total}${unit}`);
      await page.reload();
      assert.deepEqual((await list(page).ticked()).slice(0, 3), [false, true, false]);
      assert.equal(await list(page).told(), `1 of ${total}${unit}`);
      await page.evaluate(() => globalThis.gaugeleaf.store.set("job", "T2"));
      assert.equal(await list(page).told(), `0 of ${total}${unit}`);
      await list(page).ticks.nth(0).click();
      await page.reload();
      assert.deepEqual((await list(page).ticked()).slice(0, 2), [true, false]);
      await page.evaluate(() => globalThis.gaugeleaf.store.set("job", null));
      assert.deepEqual((await list(page).ticked()).slice(0, 2), [false, true]);
    }, phone));

  test(`${what} cleared by mistake comes back whole`, () =>
    it.visit(path, async (page) => {
      const { ticks, clear, undo } = list(page);
      await ticks.nth(0).click();
      await ticks.nth(2).click();
      await clear.click();
      assert.ok((await list(page).ticked()).every((ticked) => !ticked));
      assert.ok(await undo.evaluate((button) => button === document.activeElement));
      await undo.click();
      assert.deepEqual((await list(page).ticked()).slice(0, 3), [true, false, true]);
      await page.reload();
      assert.deepEqual((await list(page).ticked()).slice(0, 3), [true, false, true]);
    }, phone));

  test(`${what} is worked from the keyboard`, () =>
    it.visit(path, async (page) => {
      await list(page).ticks.nth(0).focus();
      await page.keyboard.press("Space");
      await page.keyboard.press("Tab");
      await page.keyboard.press("Shift+Tab");
      await page.keyboard.press("Space");
      await page.keyboard.press("Space");
      assert.equal((await list(page).ticked())[0], true);
    }));

  test(`what of ${what} has the focus shows it by itself, for browsers that don't know :has`, () =>
    it.visit(path, async (page) => {
      await list(page).ticks.nth(0).focus();
      await page.keyboard.press("Tab");
      await page.keyboard.press("Shift+Tab");
      const shown = await list(page).ticks.nth(0).evaluate((tick) => {
        const { outlineStyle, outlineWidth, opacity } = getComputedStyle(tick);
        return { outlineStyle, outlineWidth, opacity };
      });
      assert.deepEqual(shown, { outlineStyle: "solid", outlineWidth: "4px", opacity: "1" });
    }));

  test(`the ticks of ${what} are at least 64 pixels tall and wide`, () =>
    it.visit(path, async (page) => {
      const small = await list(page).ticks.evaluateAll((all) =>
        all.map((one) => one.getBoundingClientRect()).filter(({ width, height }) => width < 64 || height < 64).length,
      );
      assert.equal(small, 0);
    }, phone));
}

test("clearing the tick list leaves the steps ticked", () =>
  it.visit(path, async (page) => {
    await steps(page).ticks.nth(0).click();
    await checks(page).ticks.nth(0).click();
    await checks(page).clear.click();
    assert.equal((await steps(page).ticked())[0], true);
  }));

test("a tick shows the phone's clock, with the day where it isn't today", () =>
  it.visit(path, async (page) => {
    await checks(page).ticks.nth(0).click();
    const time = first(page).locator(".check-time").first();
    assert.match((await time.textContent()) ?? "", /^Ticked \d\d:\d\d$/);
    await page.evaluate(() => {
      const key = globalThis.gaugeleaf.store.ofJob(`ticks/${document.documentElement.dataset.page}`);
      const held = /** @type {Record<string, number>} */ (globalThis.gaugeleaf.store.get(key));
      const past = Object.fromEntries(Object.keys(held).map((one) => [one, Date.UTC(2026, 0, 15, 12)]));
      globalThis.gaugeleaf.store.set(key, past);
    });
    await page.reload();
    assert.match((await time.textContent()) ?? "", /^Ticked \w{3} Jan 15 2026, \d\d:\d\d$/);
  }));

test("the last call is there from the start and stands out when everything is ticked", () =>
  it.visit(path, async (page) => {
    const done = first(page).locator(".check-done");
    const size = () => done.evaluate((line) => Number.parseFloat(getComputedStyle(line).fontSize));
    const before = await size();
    assert.ok(await done.isVisible());
    for (const tick of await checks(page).ticks.all()) await tick.click();
    assert.ok((await size()) > before);
    const total = await checks(page).ticks.count();
    assert.equal(await checks(page).told(), `${total} of ${total}`);
  }));

test("a list that is ticked whole is a go for what comes now: not of another day or edition, nor hours old, nor once steps were ticked after it", () =>
  it.visit(path, async (page) => {
    const list = first(page);
    const isGo = () => list.evaluate((one) => one.classList.contains("is-complete"));
    const why = async () => ((await list.locator(".check-stale").textContent()) ?? "").trim();
    for (const tick of await checks(page).ticks.all()) await tick.click();
    assert.deepEqual([await isGo(), await why()], [true, ""]);
    /** Moves what is kept of the page, and shows it anew. */
    const kept = async (act) => {
      await page.evaluate(`(() => { const { store } = globalThis.gaugeleaf; const key = store.ofJob("ticks/" + document.documentElement.dataset.page); const kept = { ...store.get(key) }; (${act})(kept); store.set(key, kept); })()`);
      await page.reload();
    };
    const keep = await page.evaluate(() => JSON.stringify(globalThis.gaugeleaf.store.get(globalThis.gaugeleaf.store.ofJob(`ticks/${document.documentElement.dataset.page}`))));
    const again = () => kept(`(one) => { for (const key of Object.keys(one)) delete one[key]; Object.assign(one, ${keep}); }`);
    for (const [act, told] of /** @type {const} */ ([
      ["(one) => { one[Object.keys(one)[0]] -= 24 * 3600_000; }", /^Ticked on \w{3} \w{3} \d\d \d{4}, at least in part: clear it/],
      ["(one) => { one[Object.keys(one)[1]] += 24 * 3600_000; }", /^Ticked on /],
      ["(one) => { one.of = '0000-0000'; }", /^This page has changed since it was ticked/],
    ])) {
      await kept(act);
      assert.equal(await isGo(), false, act);
      assert.match(await why(), told);
      // cleared and put back is ticked no better
      await list.locator(".tick-clear").click();
      await list.locator(".tick-undo").click();
      assert.equal(await isGo(), false, `${act}, put back`);
      await again();
      assert.equal(await isGo(), true, `after ${act}`);
    }
    await page.locator(".steps > [data-tick] > input.tick").first().click();
    assert.equal(await isGo(), false, "work has gone on");
    assert.match(await why(), /^Ticked by \d\d:\d\d, for what came then\. Before another entry or start clear it/);
    await again();
    // noon, so that two hours are no other day
    await page.clock.install({ time: new Date("2026-03-04T12:00:00") });
    await page.reload();
    await list.locator(".tick-clear").click();
    for (const tick of await checks(page).ticks.all()) await tick.click();
    assert.equal(await isGo(), true);
    await page.clock.fastForward("02:01:00");
    assert.equal(await isGo(), false, "hours ago");
    assert.match(await why(), /^Ticked by 12:\d\d/);
    // a clock that is put back makes nothing fresh
    await page.clock.setSystemTime(new Date("2026-03-04T11:00:00"));
    await page.evaluate(() => dispatchEvent(new Event("storage")));
    assert.equal(await isGo(), false, "a clock put back");
  }));

test("a phone that keeps nothing says so and still ticks", () =>
  it.visit("index.html", async (page) => {
    await page.addInitScript(() => {
      Object.defineProperty(globalThis, "localStorage", { get() { throw new Error("refused"); } });
    });
    await page.goto(it.url(path));
    await checks(page).ticks.nth(0).click();
    assert.match((await checks(page).told()) ?? "", /^1 of \d+\. This phone keeps no ticks$/);
    assert.equal((await checks(page).ticked())[0], true);
  }));

test("nothing is wrong with access before, between and after the ticks", async () => {
  for (const look of ["light", "dark"]) {
    await it.visit(path, async (page) => {
      await page.evaluate((look) => (document.documentElement.dataset.look = look), look);
      assert.deepEqual(await violations(page), []);
      for (const tick of await checks(page).ticks.all()) await tick.click();
      await steps(page).ticks.nth(0).click();
      assert.deepEqual(await violations(page), []);
      await checks(page).clear.click();
      assert.deepEqual(await violations(page), []);
    }, { ...phone, reducedMotion: "reduce" });
  }
});

test("a tick list prints its items, its last call and lines to sign", () =>
  it.visit(path, async (page) => {
    const paper = letters(await printed(page));
    const told = await page.locator(".checks :is(.check-do, .check-want, .check-else, .check-done)").allTextContents();
    assert.ok(told.length > 3);
    for (const text of told) assert.ok(paper.includes(letters(text)), text);
    assert.ok(paper.includes("JobSignedDateTime"));
    assert.ok(!paper.includes("Cleartheticks"));
  }));
