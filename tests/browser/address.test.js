// A widget's address carries its inputs, so that a result can be passed on.
import assert from "node:assert/strict";
import { test } from "node:test";
import { live, reader } from "./support/browser.js";
import { Widget } from "./support/widget.js";

const it = reader();
const tube = "calculators/guide-tube-length.html";

/** Types `entries`, and returns the page's path with its new address and what it then shows. */
const shared = (from) =>
  it.visit(
    tube,
    async (page) => {
      const widget = await Widget.live(page, "guide-tube-length");
      await widget.type("stock_length", "10 3/4");
      await widget.unit("channel_depth").selectOption("mm");
      await widget.type("channel_depth", "355.6");
      await page.waitForFunction(() => location.hash.includes("355.6"));
      return { hash: await page.evaluate(() => location.hash), results: await widget.results() };
    },
    { from },
  );

for (const from of /** @type {const} */ (["http", "file"])) {
  test(`a fresh page restores a shared address, over ${from}`, async () => {
    const { hash, results } = await shared(from);
    await it.visit(
      tube + hash,
      async (page) => {
        const widget = await Widget.live(page, "guide-tube-length");
        assert.deepEqual(await widget.results(), results);
        assert.equal(await widget.entry("stock_length").inputValue(), "10 3/4");
        assert.equal(await widget.entry("channel_depth").inputValue(), "355.6");
        assert.equal(await widget.unit("channel_depth").inputValue(), "mm");
      },
      { from },
    );
  });
}

test("an address changed on an open page is read again", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("stock_length", "11 1/2");
    await page.evaluate(() => {
      location.hash = "#guide-tube-length?stock_length=11%201%2F2&channel_depth=14";
    });
    await page.waitForFunction(() =>
      document.querySelector(".result-text")?.textContent?.startsWith("25"),
    );
  }));

test("a bad entry in an address is refused as if it were typed", () =>
  it.visit(`${tube}#guide-tube-length?channel_depth=14psi`, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    assert.ok(Object.values(await widget.results()).every((result) => result === ""));
    const { message } = await widget.problem("channel_depth");
    assert.match(message, /pressure/);
  }));

test("an address cannot put markup or a script on the page", async () => {
  const attack = encodeURIComponent('"><img src=x onerror=alert(1)><script>alert(2)</script>');
  for (const hash of [
    `#guide-tube-length?channel_depth=${attack}`,
    `#guide-tube-length?${attack}=1`,
    `#guide-tube-length?channel_depth.unit=${attack}`,
    "#guide-tube-length?channel_depth=%E0%A4%A&stock_length=%",
    "#guide-tube-length?__proto__=1&constructor=2&nonsense=3",
    `#${attack}`,
  ]) {
    await it.visit(tube + hash, async (page) => {
      let asked = false;
      page.on("dialog", (dialog) => {
        asked = true;
        void dialog.dismiss();
      });
      await live(page);
      assert.equal(await page.locator("main img[src=x], main script").count(), 0, hash);
      assert.equal(asked, false, hash);
    });
  }
});

test("inputs left as given stay out of the address", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("channel_depth", "3");
    await page.waitForFunction(() => location.hash.includes("channel_depth=3"));
    assert.ok(!(await page.evaluate(() => location.hash)).includes("stock_length"));
  }));
