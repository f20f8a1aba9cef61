// The pages fit a narrow phone and a gloved finger.
import assert from "node:assert/strict";
import { test } from "node:test";
import { live, reader } from "./support/browser.js";
import { calculatorPages, pages } from "./support/site.js";

const it = reader();
const narrow = { viewport: { width: 320, height: 640 }, hasTouch: true };

test("no page scrolls sideways at 320 pixels", async () => {
  const found = [];
  for (const path of pages) {
    await it.visit(
      path,
      async (page) => {
        await live(page);
        const wide = await page.evaluate(() => {
          const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
          if (over <= 0) return [];
          const causes = [...document.querySelectorAll("body *")]
            .filter((element) => element.getBoundingClientRect().right > innerWidth + 1)
            .filter((element) => !element.closest(".table-scroll, nav.tape, nav.thumbs"))
            .map((element) => element.outerHTML.slice(0, 90));
          return [`${over} pixels too wide`, ...causes.slice(0, 3)];
        });
        if (wide.length > 0) found.push(`${path}: ${wide.join("\n    ")}`);
      },
      narrow,
    );
  }
  assert.equal(found.length, 0, `${found.length} pages\n${found.join("\n")}`);
});

test("a phase's number stands on one line, with one digit or two", async () => {
  for (const width of [320, 390, 1280]) {
    await it.visit(
      "index.html",
      async (page) => {
        const lines = await page.locator(".phases b, .thumbs b").evaluateAll((all) =>
          all.map((number) => [number.textContent, number.getBoundingClientRect().height / parseFloat(getComputedStyle(number).lineHeight)]));
        assert.ok(lines.some(([text]) => text === "10"));
        assert.deepEqual(lines.filter(([, count]) => Number(count) > 1.5), [], `${width} pixels`);
      },
      { viewport: { width, height: 800 } },
    );
  }
});

/** Visible controls with a side under `least`; a link in running text is exempt. */
const small = (page, selector, least) =>
  page.evaluate(
    ({ selector, least }) =>
      [...document.querySelectorAll(selector)]
        .filter((control) => control.checkVisibility({ visibilityProperty: true, opacityProperty: true }))
        .filter((control) => !control.closest("p, li:not(nav li), dd, td, th, figcaption, .because"))
        .map((control) => {
          const label = control.matches("input[type=radio], input[type=checkbox]")
            ? (control.labels?.[0] ?? control)
            : control;
          const { width, height } = label.getBoundingClientRect();
          return { width, height, html: control.outerHTML.slice(0, 90) };
        })
        .filter(({ width, height }) => Math.min(width, height) < least - 0.5)
        .map(({ width, height, html }) => `${width} x ${height}: ${html}`),
    { selector, least },
  );

test("a calculator's own controls are at least 64 pixels tall and wide", async () => {
  for (const path of calculatorPages) {
    await it.visit(
      path,
      async (page) => {
        await live(page);
        await page.locator(".widget input.entry").first().focus();
        const controls = ".widget :is(input.entry, select, button, input[type=radio])";
        assert.deepEqual(await small(page, controls, 64), [], path);
      },
      { ...narrow, viewport: { width: 360, height: 740 } },
    );
  }
});

test("every other control is at least 48 pixels tall and wide", async () => {
  for (const path of pages) {
    await it.visit(
      path,
      async (page) => {
        await live(page);
        const controls = ":is(a[href], button, summary, input, select):not(.skip)";
        assert.deepEqual(await small(page, controls, 48), [], path);
      },
      narrow,
    );
  }
});

test("text spaced out as a reader may set it is not cut off", () =>
  it.visit(
    calculatorPages[0],
    async (page) => {
      await live(page);
      const cut = await page.evaluate(() => {
        for (const element of document.querySelectorAll("body *")) {
          if (!(element instanceof HTMLElement)) continue;
          element.style.setProperty("line-height", "1.5", "important");
          element.style.setProperty("letter-spacing", "0.12em", "important");
          element.style.setProperty("word-spacing", "0.16em", "important");
        }
        return [...document.querySelectorAll("p, li, h1, h2, h3, label, button, td, .result-text")]
          .filter((element) => element.checkVisibility())
          .filter((element) => getComputedStyle(element).overflowY !== "visible")
          .filter((element) => element.scrollHeight > element.clientHeight + 1)
          .map((element) => element.outerHTML.slice(0, 90));
      });
      assert.deepEqual(cut, []);
    },
    narrow,
  ));

test("what has the focus is never covered, on the way down or back", async () => {
  for (const path of [calculatorPages[0], pages.find((path) => path === "index.html") ?? pages[0]]) {
    await it.visit(
      path,
      async (page) => {
        await live(page);
        for (const key of ["Tab", "Shift+Tab"]) {
          for (let step = 0; step < 60; step += 1) {
            await page.keyboard.press(key);
            const covered = await page.evaluate(() => {
              const focus = document.activeElement;
              if (focus === null || focus === document.body) return null;
              const { left, top, width, height } = focus.getBoundingClientRect();
              if (width < 4 || height < 4) return null;
              const [from, to] = [Math.max(top, 0), Math.min(top + height, innerHeight)];
              const hit = document.elementFromPoint(left + width / 2, (from + to) / 2);
              const label = hit?.closest("label");
              const seen = hit !== null && (focus.contains(hit) || hit.contains(focus) || label?.control === focus);
              return seen ? null : focus.outerHTML.slice(0, 90);
            });
            assert.equal(covered, null, `${path} ${key} ${step}`);
          }
        }
      },
      { viewport: { width: 360, height: 740 }, reducedMotion: "reduce" },
    );
  }
});

test("nothing moves for a reader who asked for no motion", async () => {
  await it.visit(
    calculatorPages[0],
    async (page) => {
      await live(page);
      assert.equal(await page.evaluate(() => document.getAnimations().length), 0);
    },
    { reducedMotion: "reduce" },
  );
});
