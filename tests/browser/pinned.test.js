// What it comes to is seen while somebody types, and a refusal at once.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { begun, opened } from "./support/job.js";
import { press, selected, tapped } from "./support/pad.js";
import { plain, Widget } from "./support/widget.js";

const it = reader();
const tube = "calculators/guide-tube-length.html";
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

test("a refused entry blanks what is pinned at once, and one key keeps the value that stood", () =>
  it.visit(tube, async (page) => {
    const widget = await tapped(page, "channel_depth");
    await press(page, "8", "5/8");
    const pinned = page.locator(".pinned");
    await pinned.waitFor();
    assert.equal(plain((await pinned.locator(".result-text").textContent()) ?? ""), (await widget.results()).length);
    assert.match(await pinned.innerText(), /GO/);
    await press(page, "Next");
    await widget.entry("channel_depth").tap();
    await press(page, "Clear", "1", "4");
    // No wait: whatever the hand has reached, no number of before stands beside it.
    await press(page, "0");
    assert.equal(await pinned.locator(".result-text").textContent(), "");
    assert.match(await pinned.innerText(), /OPEN/);
    const keep = widget.field("channel_depth").getByRole("button", { name: "Keep 8 5/8 in" });
    await keep.waitFor();
    assert.ok(await widget.field("channel_depth").evaluate((part) => part.classList.contains("is-struck")));
    await keep.tap();
    // not the 14 that 140 began with: nobody meant it
    assert.equal(await widget.entry("channel_depth").inputValue(), "8 5/8");
    assert.match(await pinned.innerText(), /GO/);
    assert.equal(await selected(page), "8 5/8");
  }, phone));

test("the main result is pinned while somebody types and it or its verdicts are out of sight, and never beside itself", () =>
  it.visit(tube, async (page) => {
    await tapped(page, "channel_depth");
    await page.locator(".pinned").waitFor();
    await page.evaluate(() => document.querySelector(".verdicts")?.scrollIntoView({ block: "start" }));
    await page.locator(".pinned").waitFor({ state: "hidden" });
    // The number alone, its verdicts above the window: what is pinned tells them.
    await page.evaluate(() => document.querySelector(".result .dimension")?.scrollIntoView({ block: "start" }));
    await page.locator(".pinned").waitFor();
  }, { ...phone, viewport: { width: 390, height: 1800 } }));

test("a widget in a procedure can't be folded over what is refused, or is the reader's own", () =>
  it.visit("fit/guide-tubes.html", async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    const fold = widget.at.locator(".widget-unfold");
    const given = await widget.entry("channel_depth").inputValue();
    await fold.click();
    await widget.entry("channel_depth").waitFor({ state: "hidden" });
    await fold.click();
    await widget.entry("channel_depth").fill("140");
    await page.waitForFunction(() => document.querySelector(".widget [aria-invalid=true]"));
    await fold.evaluate((key) => /** @type {HTMLButtonElement} */ (key).click());
    assert.ok(await widget.entry("channel_depth").isVisible());
    await widget.entry("channel_depth").fill(given);
    await page.waitForFunction(() => !document.querySelector(".widget [aria-invalid=true]"));
    await fold.evaluate((key) => /** @type {HTMLButtonElement} */ (key).click());
    assert.ok(await widget.entry("channel_depth").isVisible());
    await widget.at.locator(".reset").click();
    await fold.click();
    await widget.entry("channel_depth").waitFor({ state: "hidden" });
  }, phone));

test("with a job in hand that lacks a value what is pinned is open, and shows nobody else's number", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begun(page, "Dock", { tube_od: "1 in" });
    await page.goto(it.url(tube));
    await tapped(page, "channel_depth");
    const pinned = page.locator(".pinned");
    await pinned.waitFor();
    assert.doesNotMatch((await pinned.locator(".result-text").textContent()) ?? "", /\d/);
    assert.match(await pinned.innerText(), /OPEN/);
    await press(page, "1", "4");
    await page.waitForFunction(() => /\d/.test(document.querySelector(".pinned .result-text")?.textContent ?? ""));
  }, phone));
