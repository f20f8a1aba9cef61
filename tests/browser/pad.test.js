// Fingers type on keys of the page's own.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { holds, opened } from "./support/job.js";
import { padded, press, selected, tapped, typing } from "./support/pad.js";
import { calculatorPages } from "./support/site.js";
import { Widget } from "./support/widget.js";

const it = reader();
const tube = "calculators/guide-tube-length.html";
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
const small = { ...phone, viewport: { width: 320, height: 640 } };

test("a tap selects the whole value, the first key replaces it, and a second tap places the caret", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    const entry = widget.entry("channel_depth");
    assert.equal(await selected(page), await entry.inputValue());
    assert.notEqual(await selected(page), "");
    await press(page, "1", "4");
    assert.equal(await entry.inputValue(), "14");
    await entry.tap();
    assert.equal(await selected(page), "");
  }, phone));

test("a click and the Tab key select the whole value at a desk, and no keys of ours come", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await typing(page);
    await widget.entry("stock_length").click();
    assert.equal(await selected(page), await widget.entry("stock_length").inputValue());
    await page.keyboard.type("11 1/2");
    assert.equal(await widget.entry("stock_length").inputValue(), "11 1/2");
    await widget.entry("channel_depth").focus();
    assert.equal(await selected(page), await widget.entry("channel_depth").inputValue());
    assert.equal(await page.locator(".keypad:visible").count(), 0);
    assert.notEqual(await widget.entry("stock_length").getAttribute("inputmode"), "none");
  }));

test("digits, fractions, sixteenths, point, tolerance, signs, erase and clear all write what they say", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    const value = () => widget.entry("channel_depth").inputValue();
    await press(page, "8", "5/8");
    assert.equal(await value(), "8 5/8");
    assert.equal(await widget.understood("channel_depth"), "8 5/8 in = 8.625 in = 219.075 mm");
    await press(page, "plus or minus", "1/8");
    assert.equal(await value(), "8 5/8 ± 1/8");
    assert.match(await widget.understood("channel_depth"), /from 8 1\/2 in to 8 3\/4 in/);
    await press(page, "Clear", "1", "4", "16ths", "3/16");
    assert.equal(await value(), "14 3/16");
    await press(page, "erase one");
    assert.equal(await value(), "14 3/1");
    await press(page, "Clear", "3", "point", "5");
    assert.equal(await value(), "3.5");
    await press(page, "Clear", "16ths", "1", "ft", "3", "in");
    assert.equal(await value(), "1 ft 3 in");
    await press(page, "8ths", "Clear", "2", "16ths", "space", "5", "slash", "6", "4");
    assert.equal(await value(), "2 5/64");
    assert.equal(await widget.entry("channel_depth").getAttribute("aria-invalid"), null);
  }, phone));

test("a digit behind a fraction is a number of its own, which the engine refuses; one typed by its slash goes on", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    const entry = widget.entry("channel_depth");
    await press(page, "1", "4", "5/8", "4");
    assert.equal(await entry.inputValue(), "14 5/8 4");
    await page.waitForFunction(() => document.activeElement?.getAttribute("aria-invalid") === "true");
    await press(page, "erase one", "point", "4");
    assert.doesNotMatch(await entry.inputValue(), /\/8[.\d]/);
    await press(page, "Clear", "1", "4", "16ths", "3/16", "2");
    assert.equal(await entry.inputValue(), "14 3/16 2");
    await press(page, "Clear", "2", "16ths", "space", "5", "slash", "3", "2");
    assert.equal(await entry.inputValue(), "2 5/32");
    await press(page, "slash");
    await entry.fill("8 5/8");
    await press(page, "4");
    assert.equal(await entry.inputValue(), "8 5/8 4");
  }, phone));

test("a tolerance goes behind the value that is selected, a fraction behind its whole number, and else takes its place", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    const stood = await widget.entry("channel_depth").inputValue();
    await press(page, "plus or minus");
    assert.equal(await widget.entry("channel_depth").inputValue(), `${stood} ± `);
    await press(page, "Next");
    const entry = widget.entry("stock_length");
    for (const [held, becomes] of [["14 in", "14 5/8 in"], ["14", "14 5/8"], ["14\u00a0in", "14 5/8\u00a0in"], ["11 1/2 in", "5/8"], ["2.5", "5/8"], ["1 ft 2 in", "5/8"]]) {
      await entry.fill(held);
      await entry.blur();
      await entry.tap();
      await padded(page);
      assert.equal(await selected(page), held);
      await press(page, "5/8");
      assert.equal(await entry.inputValue(), becomes);
    }
  }, phone));

test("the unit key turns through the field's units, and there and back is no change", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    await press(page, "1", "4");
    const unit = page.locator(".keypad:not([hidden]) .k-unit");
    const names = await widget.unit("channel_depth").locator("option").allTextContents();
    for (const name of [...names.slice(1), names[0]]) {
      await unit.tap();
      await page.waitForFunction((name) => document.querySelector(".keypad:not([hidden]) .k-unit")?.firstChild?.textContent === name, name);
      assert.equal(await widget.unit("channel_depth").locator("option:checked").textContent(), name);
    }
    await page.waitForFunction(() => /** @type {HTMLInputElement} */ (document.activeElement).value === "14");
    assert.equal((await widget.results()).extra, "14 in");
  }, phone));

test("Next and Enter go on to the next field, and from the last to the results", async () => {
  await it.visit(tube, async (page) => {
    const widget = await tapped(page, "stock_length");
    await press(page, "1", "1", "1/2", "Next");
    assert.equal(await page.evaluate(() => document.activeElement?.id), await widget.entry("channel_depth").getAttribute("id"));
    assert.equal(await selected(page), await widget.entry("channel_depth").inputValue());
    await press(page, "1", "4", "Next");
    assert.ok(await page.evaluate(() => document.activeElement?.matches(".widget-results")));
    await page.waitForFunction(() => document.querySelectorAll(".keypad:not([hidden])").length === 0);
    assert.equal((await widget.results()).length, "25 1/2 in");
    assert.ok(await widget.at.locator(".result .result-text").first().isVisible());
  }, phone);
  await it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await typing(page);
    await widget.entry("stock_length").focus();
    await page.keyboard.press("Enter");
    assert.equal(await page.evaluate(() => document.activeElement?.id), await widget.entry("channel_depth").getAttribute("id"));
    await page.keyboard.press("Enter");
    assert.ok(await page.evaluate(() => document.activeElement?.matches(".widget-results")));
  });
});

test("ABC calls the phone's keyboard for every field, is remembered, and our keys come back on a tap", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    await press(page, "ABC, the phone's own keyboard");
    assert.equal(await widget.entry("channel_depth").getAttribute("inputmode"), "text");
    assert.equal(await widget.entry("stock_length").getAttribute("inputmode"), "text");
    assert.ok(await widget.entry("channel_depth").evaluate((entry) => entry === document.activeElement));
    await page.keyboard.type("1 ft 2 in");
    assert.equal((await widget.results()).extra, "14 in");
    await page.reload();
    await Widget.live(page, "guide-tube-length");
    await page.waitForFunction(() => document.querySelector(".field .entry")?.getAttribute("inputmode") === "text");
    await widget.entry("stock_length").tap();
    await press(page, "Number keys");
    await padded(page);
    assert.equal(await widget.entry("stock_length").getAttribute("inputmode"), "none");
  }, phone));

test("hardware keys work beside ours; Tab finds one key, arrows the others, and Escape puts them away", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    await page.keyboard.type("1 1/4");
    assert.equal((await widget.results()).extra, "1 1/4 in");
    await page.keyboard.press("Tab");
    while (!(await page.evaluate(() => document.activeElement?.closest(".keypad")))) {
      assert.ok(await page.evaluate(() => document.activeElement !== document.body), "Tab never comes to the keys");
      await page.keyboard.press("Tab");
    }
    assert.match(await page.evaluate(() => document.activeElement?.textContent ?? ""), /ABC/);
    await page.keyboard.press("ArrowRight");
    assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Next");
    await page.keyboard.press("Tab");
    assert.ok(await page.evaluate(() => !document.activeElement?.closest(".keypad")), "Tab is trapped");
    await widget.entry("channel_depth").tap();
    await padded(page);
    await page.keyboard.press("Escape");
    await page.waitForFunction(() => document.querySelectorAll(".keypad:not([hidden])").length === 0);
    assert.ok(await widget.entry("channel_depth").evaluate((entry) => entry === document.activeElement));
  }, phone));

test("keys are 64 pixels and more on a phone, 60 on the smallest, and 60 on its side", async () => {
  for (const [viewport, least] of /** @type {[{ width: number, height: number }, number][]} */ ([[phone.viewport, 64], [small.viewport, 60], [{ width: 844, height: 390 }, 60]])) {
    await it.visit(tube, async (page) => {
      await tapped(page, "channel_depth");
      for (const fine of [false, true]) {
        if (fine) await press(page, "16ths");
        const keys = await page.locator(".keypad:not([hidden]) button:visible").evaluateAll((all) => all.map((key) => {
          const { width, height, right, bottom } = key.getBoundingClientRect();
          return { name: key.textContent, width, height, right, bottom };
        }));
        assert.ok(keys.length >= 25, `${keys.length} keys`);
        assert.deepEqual(keys.filter((key) => key.width < least - 0.5 || key.height < least - 0.5 || key.right > viewport.width + 0.5 || key.bottom > viewport.height + 0.5), []);
      }
      const { top, bottom, pad } = await page.evaluate(() => ({
        ...document.activeElement.getBoundingClientRect().toJSON(), pad: document.querySelector(".keypad:not([hidden])").getBoundingClientRect().top,
      }));
      assert.ok(top >= 0 && bottom <= pad, `the field lies from ${top} to ${bottom}, the keys begin at ${pad}`);
    }, { ...phone, viewport });
  }
});

test("what our keys write into a job's form is kept as soon as the hand goes on", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await typing(page);
    await page.waitForFunction(() => document.querySelector(".job-form .entry")?.getAttribute("inputmode") === "none");
    await page.locator('.job-form [data-input="channel_depth"] .entry').tap();
    await padded(page);
    await press(page, "1", "4", "1/2", "Next");
    await holds(page, "channel_depth", "14 1/2 in");
    await press(page, "Clear");
    await page.locator('.job-form [data-input="channel_depth"] .entry').tap();
    await press(page, "9");
    await page.evaluate(() => /** @type {HTMLElement} */ (document.activeElement).blur());
    await holds(page, "channel_depth", "9 in");
  }, phone));

test("help stays one tap away while somebody types, 48 pixels high or more", async () => {
  for (const viewport of [phone.viewport, small.viewport, { width: 844, height: 390 }]) {
    await it.visit(tube, async (page) => {
      await tapped(page, "channel_depth");
      const help = page.locator(".keypad:not([hidden])").getByRole("link", { name: "Emergency" });
      const { width, height } = (await help.boundingBox()) ?? { width: 0, height: 0 };
      assert.ok(width >= 48 && height >= 48, `${width} by ${height}`);
      assert.deepEqual(await help.evaluate((link) => [link.scrollWidth > link.clientWidth, link.scrollHeight > link.clientHeight]), [false, false]);
      await help.tap();
      await page.waitForURL(/emergency\.html/);
    }, { ...phone, viewport });
  }
});

test("where large text leaves the field no room beside our keys, the phone's own come", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    await page.evaluate(() => {
      document.documentElement.style.fontSize = "200%";
      dispatchEvent(new Event("resize"));
    });
    await page.waitForFunction(() => document.querySelectorAll(".keypad:not([hidden])").length === 0);
    assert.equal(await widget.entry("channel_depth").getAttribute("inputmode"), "text");
    await widget.entry("stock_length").tap();
    await page.keyboard.type("11 1/2");
    assert.equal(await page.locator(".keypad:visible").count(), 0);
    await page.evaluate(() => {
      document.documentElement.style.fontSize = "";
      dispatchEvent(new Event("resize"));
    });
    await padded(page);
    assert.equal(await widget.entry("stock_length").getAttribute("inputmode"), "none");
  }, { ...phone, viewport: { width: 844, height: 390 } }));

test("a unit that was turned goes back where nothing was typed in it, and stays where something was", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    const unit = widget.unit("channel_depth");
    const own = await unit.inputValue();
    const stood = await widget.entry("channel_depth").inputValue();
    await page.locator(".keypad:not([hidden]) .k-unit").tap();
    assert.notEqual(await unit.inputValue(), own);
    await press(page, "Next");
    assert.equal(await unit.inputValue(), own);
    await page.waitForFunction((stood) => document.querySelector('[data-input="channel_depth"] .entry')?.value === stood, stood);
    await widget.entry("channel_depth").tap();
    await padded(page);
    await page.locator(".keypad:not([hidden]) .k-unit").tap();
    await press(page, "4");
    const typed = await unit.inputValue();
    await press(page, "Next");
    assert.equal(await unit.inputValue(), typed);
    assert.notEqual(typed, own);
  }, phone));

test("label and entry stand clear of the head and of the keys in a job's form", async () => {
  for (const viewport of [phone.viewport, small.viewport, { width: 844, height: 390 }]) {
    await it.visit("jobs.html", async (page) => {
      await opened(page);
      await typing(page);
      await page.waitForFunction(() => globalThis.gaugeleaf.jobList && document.querySelector(".job-form .entry")?.getAttribute("inputmode") === "none");
      await page.locator(".job-form .entry").first().tap();
      await padded(page);
      const fields = page.locator(".job-form .field:has(.entry):visible");
      /** @type {string[]} */
      const covered = [];
      for (let nth = 1; nth < 8; nth += 1) {
        // It had been scrolled to where the head lies.
        const covers = await fields.nth(nth).evaluate(async (field, nth) => {
          const entry = /** @type {HTMLElement} */ (field.querySelector(".entry"));
          const parts = [entry, /** @type {HTMLElement} */ (field.querySelector("label"))];
          scrollBy(0, entry.getBoundingClientRect().top - 16 * (nth % 4));
          entry.focus({ preventScroll: true });
          // The line opens, the keys come, and what is covered is cleared: each takes its frame.
          for (let frame = 0; frame < 8; frame += 1) await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
          return parts.filter((one) => {
            const { left, top, bottom } = one.getBoundingClientRect();
            return [top + 4, (top + bottom) / 2, bottom - 6].some((y) => !field.contains(document.elementFromPoint(left + 8, y)));
          }).map((one) => `${field.getAttribute("data-input")}: ${one.tagName} ${JSON.stringify(one.getBoundingClientRect())}`);
        }, nth);
        covered.push(...covers);
      }
      assert.deepEqual(covered, [], `${viewport.width} by ${viewport.height}`);
    }, { ...phone, viewport });
  }
});

test("our keys work where the phone keeps nothing", () =>
  it.visit(tube, async (page) => {
    await page.addInitScript(() => {
      Object.defineProperty(globalThis, "localStorage", { get() { throw new DOMException("no", "SecurityError"); } });
    });
    await page.reload();
    const widget = await tapped(page, "channel_depth");
    await press(page, "ABC, the phone's own keyboard", "Number keys", "1", "4");
    assert.equal((await widget.results()).extra, "14 in");
  }, { ...phone, from: "file" }));

test("no formula is cut off on a phone, nor wider than it", async () => {
  for (const options of [phone, small]) {
    /** @type {string[]} */
    const wide = [];
    let seen = 0;
    await it.tour(calculatorPages, async (page, path) => {
      await typing(page);
      await page.evaluate(() => { for (const one of document.querySelectorAll("details")) one.open = true; });
      const settled = await page.evaluate(async () => {
        for (let frame = 0; frame < 3; frame += 1) await new Promise((next) => requestAnimationFrame(next));
        const edge = document.documentElement.clientWidth;
        const all = [...document.querySelectorAll(".working-formula math, .method math")];
        return { of: all.length, wide: all.filter((math) => math.getBoundingClientRect().right > edge + 0.5 && !math.closest(".is-wide")).map((math) => math.textContent) };
      });
      seen += settled.of;
      wide.push(...settled.wide.map((text) => `${path}: ${text}`));
    }, options);
    assert.ok(seen > 400, `${seen} formulas`);
    assert.deepEqual(wide, []);
  }
});
