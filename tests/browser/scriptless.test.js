// Without scripts a page is complete: its text, tables, figures and computed results.
import assert from "node:assert/strict";
import { test } from "node:test";
import { live, reader } from "./support/browser.js";
import { calculatorPages, pages } from "./support/site.js";
import { plain } from "./support/widget.js";

const it = reader();

/** The text a reader sees outside the widgets' and the search's own controls, block by block. */
const shown = (page) =>
  page.evaluate(() => {
    const blocks = "h1,h2,h3,h4,p,li,td,th,dt,dd,figcaption,summary,pre,svg text";
    return [...document.querySelectorAll("main")].flatMap((main) =>
      [...main.querySelectorAll(blocks)]
        .filter((block) => !block.closest(".widget, dialog, .search-box, .search-hits, .search-near, .job-form, .tube-map, .job-bar"))
        .filter((block) => block.checkVisibility({ visibilityProperty: true }))
        .map((block) => block.textContent ?? ""),
    );
  });

test("nothing outside the live controls needs a script", async () => {
  for (const path of pages) {
    const still = await it.visit(path, shown, { javaScriptEnabled: false });
    const scripted = await it.visit(path, async (page) => {
      await live(page);
      return shown(page);
    });
    const there = new Set(still.map(plain));
    const lost = scripted.map(plain).filter((text) => text !== "" && !there.has(text));
    assert.deepEqual(lost, [], `${path} shows this with scripts alone`);
    assert.ok(still.length > 0, path);
  }
});

test("a calculator's page holds its results, verdicts, figure and working as text", async () => {
  for (const path of calculatorPages) {
    await it.visit(
      path,
      async (page) => {
        const told = await page.evaluate(() => {
          const widget = document.querySelector(".widget");
          const texts = (selector) =>
            [...(widget?.querySelectorAll(selector) ?? [])].map((one) => (one.textContent ?? "").trim());
          return {
            results: texts(".result-text"),
            verdicts: texts(".verdict .because"),
            given: [...(widget?.querySelectorAll(".field") ?? [])].map((field) =>
              [...field.querySelectorAll(".understood, .choices label:has(:checked)")].filter((one) => one.checkVisibility()).map((one) => one.textContent).join(" ").trim()),
            from: texts(".field-from"),
            working: texts(".working-line"),
            figure: widget?.querySelector(".widget-figure")
              ? (widget.querySelector(".widget-figure svg")?.getBoundingClientRect().width ?? 0)
              : Infinity,
          };
        });
        assert.ok(told.results.some((text) => text !== ""), `${path} has no result`);
        assert.ok(told.given.length > 0 && told.given.every((text) => text !== ""), `${path} hides its inputs`);
        assert.ok(told.from.every((text) => text !== ""), `${path} does not say where a value comes from`);
        assert.ok(told.working.length > 0, `${path} has no working`);
        assert.ok(told.figure > 100, `${path} has an empty figure`);
        assert.ok(told.verdicts.every((text) => text !== ""), `${path} has a verdict without a reason`);
      },
      { javaScriptEnabled: false },
    );
  }
});

test("no control that needs a script shows without one", async () => {
  for (const path of pages) {
    await it.visit(
      path,
      async (page) => {
        const dead = await page.evaluate(() =>
          [...document.querySelectorAll("button, select, input:not([type=hidden])")]
            .filter((control) => control.checkVisibility({ visibilityProperty: true }))
            .map((control) => control.outerHTML.slice(0, 80)),
        );
        assert.deepEqual(dead, [], path);
      },
      { javaScriptEnabled: false },
    );
  }
});
