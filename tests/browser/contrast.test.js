// Text stays readable in bright sun: 7:1 everywhere, 15:1 for what a hand acts on.
import assert from "node:assert/strict";
import { test } from "node:test";
import { live, reader } from "./support/browser.js";
import { faint } from "./support/contrast.js";
import { calculatorPages, pages } from "./support/site.js";

const it = reader();
const phone = { viewport: { width: 360, height: 740 }, reducedMotion: /** @type {const} */ ("reduce") };

/** What a crew acts on: results, steps, hazards and the numbers in the text. */
const acted = [
  ".result-text",
  "ol.steps > li",
  "ol.steps > li > p",
  "aside.hazard > p",
  "a.value",
  "span.value",
  ".verdict .because",
];

test("every text is at least 7:1 and what is acted on 15:1, light and dark", async () => {
  const found = [];
  for (const path of pages) {
    await it.visit(
      path,
      async (page) => {
        await live(page);
        for (const look of ["light", "dark"]) {
          await page.evaluate((look) => {
            if (look === "dark") document.documentElement.dataset.look = "dark";
          }, look);
          const all = "body *:not(script, style, noscript, svg *, option)";
          const faults = await faint(page, all, 7);
          faults.push(...(await faint(page, acted.join(","), 15)));
          for (const fault of faults) found.push(`${path} ${look}: ${fault}`);
        }
      },
      phone,
    );
  }
  assert.equal(found.length, 0, `${found.length} faint\n${[...new Set(found)].slice(0, 30).join("\n")}`);
});

test("body text is at least 18 pixels and results 24", async () => {
  for (const path of pages) {
    await it.visit(path, async (page) => {
      assert.deepEqual(await faint(page, "main > p:not(.source), main section > p, main li, ol.steps li", 0, 18), [], path);
    }, phone);
  }
  for (const path of calculatorPages) {
    await it.visit(path, async (page) => {
      assert.deepEqual(await faint(page, ".result-text", 0, 24), [], path);
    }, phone);
  }
});

test("fields are typed in at 16 pixels or more, so that no phone zooms in", async () => {
  for (const path of calculatorPages) {
    const sizes = await it.visit(path, async (page) => {
      await live(page);
      return page
        .locator(".widget input.entry, .widget select")
        .evaluateAll((all) => all.map((one) => Number.parseFloat(getComputedStyle(one).fontSize)));
    }, phone);
    assert.ok(sizes.length > 0 && sizes.every((size) => size >= 16), `${path}: ${sizes}`);
  }
});

test("the light look is the one a reader meets first", () =>
  it.visit("index.html", async (page) => {
    const bright = await page.evaluate(() => {
      const grounds = [document.body, document.documentElement].map((element) =>
        (getComputedStyle(element).backgroundColor.match(/[\d.]+/g) ?? []).map(Number),
      );
      const [red, green, blue] = grounds.find((ground) => ground[3] !== 0) ?? [255, 255, 255];
      return red + green + blue;
    });
    assert.ok(bright > 600, `the ground sums to ${bright}`);
  }, { ...phone, colorScheme: "dark" }));
