// A widget answers what is typed, at once, with the engine's own numbers.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { calculatorPages } from "./support/site.js";
import { Widget } from "./support/widget.js";

const it = reader();
const tube = "calculators/guide-tube-length.html";
const span = "calculators/pitch-span.html";
const pane = { viewport: { width: 360, height: 740 } };

for (const from of /** @type {const} */ (["http", "file"])) {
  test(`typing changes results, echo, working and figure at once, over ${from}`, () =>
    it.visit(
      tube,
      async (page) => {
        const widget = await Widget.live(page, "guide-tube-length");
        const before = { figure: await widget.figure(), working: await widget.working() };
        await widget.type("stock_length", "11 1/2");
        await widget.type("channel_depth", "14");
        assert.equal((await widget.results()).length, "25 1/2 in");
        assert.match(await widget.understood("channel_depth"), /^14 in = 355\.6 mm/);
        assert.notEqual(await widget.figure(), before.figure);
        assert.notEqual(await widget.working(), before.working);
        assert.match(await widget.working(), /25 1\/2 in/);
      },
      { from, ...pane },
    ));
}

test("a choice changes the verdict at once", () =>
  it.visit(span, async (page) => {
    const widget = await Widget.live(page, "pitch-span");
    await widget.type("guide_tube_od", "0.84");
    await widget.type("max_pitch", "2.5");
    await widget.type("tube_pitch", "0.75");
    await widget.choose("layout", "30");
    await widget.choose("direction", "along-row");
    assert.ok((await widget.verdicts()).includes("caution"));
    assert.equal((await widget.results()).skip, "2");
    assert.equal((await widget.results()).set_pitch, "1 1/2 in");

    await widget.type("tube_pitch", "1.25");
    await widget.choose("layout", "90");
    await widget.choose("direction", "across-rows");
    assert.deepEqual([...new Set(await widget.verdicts())], ["go"]);
  }));

const writings = [
  ["14", "25 1/2 in"],
  ["14 in", "25 1/2 in"],
  ['14"', "25 1/2 in"],
  ["1 1/4", "12 3/4 in"],
  ['1-1/4"', "12 3/4 in"],
  ["1¼", "12 3/4 in"],
  ["1 1⁄4 in", "12 3/4 in"],
  ["1.25", "12 3/4 in"],
  ["1' 2\"", "25 1/2 in"],
  ["1 ft 2 in", "25 1/2 in"],
  ["355.6 mm", "25 1/2 in"],
  ["355,6mm", "25 1/2 in"],
  ["  14  ", "25 1/2 in"],
];

test("every way a crew writes a length is read", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("stock_length", "11 1/2");
    for (const [text, length] of writings) {
      await widget.type("channel_depth", text);
      assert.equal((await widget.results()).length, length, `after typing ${text}`);
    }
  }));

test("keys, a paste and inserted text all count", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("stock_length", "11 1/2");
    const entry = widget.entry("channel_depth");

    await entry.fill("");
    await entry.pressSequentially("1 1/4", { delay: 5 });
    assert.equal(await entry.inputValue(), "1 1/4");
    assert.equal((await widget.results()).length, "12 3/4 in");

    await entry.fill("");
    await page.keyboard.insertText("14");
    assert.equal((await widget.results()).length, "25 1/2 in");

    await entry.fill("1 1/4");
    await entry.selectText();
    await page.keyboard.press("Control+c");
    await entry.fill("");
    await page.keyboard.press("Control+v");
    assert.equal((await widget.results()).length, "12 3/4 in");
  }));

test("the verdict and the results are told once typing settles", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    const status = widget.at.locator(".announce[role=status]");
    assert.equal(await status.count(), 1);
    await page.evaluate(() => {
      const node = document.querySelector(".announce[role=status]");
      globalThis.said = 0;
      new MutationObserver(() => (globalThis.said += node.textContent ? 1 : 0)).observe(node, {
        childList: true,
        characterData: true,
        subtree: true,
      });
    });
    await widget.entry("channel_depth").fill("");
    await widget.entry("channel_depth").pressSequentially("12 1/4", { delay: 20 });
    await page.waitForFunction(() => globalThis.said > 0);
    await page.waitForTimeout(700);
    assert.equal(await page.evaluate(() => globalThis.said), 1);
  }));

test("each calculator's page shows live what it was published with", async () => {
  const named = (path) => path.replace(/^calculators\/|\.html$/g, "");
  const published = new Map();
  await it.tour(
    calculatorPages,
    async (page, path) => published.set(path, await new Widget(page, named(path)).results()),
    { javaScriptEnabled: false },
  );
  await it.tour(calculatorPages, async (page, path) => {
    const started = await (await Widget.live(page, named(path))).results();
    assert.deepEqual(started, published.get(path), path);
    assert.ok(Object.values(started).some((text) => text !== ""), `${path} shows no result`);
  });
  assert.equal(published.size, calculatorPages.length);
});

test("a reset brings the given inputs back", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    const given = await widget.results();
    await widget.type("channel_depth", "3");
    assert.notDeepEqual(await widget.results(), given);
    await widget.at.locator("button.reset").click();
    assert.deepEqual(await widget.results(), given);
  }));
