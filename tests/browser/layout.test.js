// How the pages lie on a narrow phone; what every one of them keeps to is in every-page.test.js.
import assert from "node:assert/strict";
import { test } from "node:test";
import { live, reader } from "./support/browser.js";
import { calculatorPages, pages } from "./support/site.js";

const it = reader();
const narrow = { viewport: { width: 320, height: 640 }, hasTouch: true };

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

test("every phase's tab lies inside the window, whole, on a low desk too", async () => {
  for (const height of [704, 800, 1080]) {
    await it.visit(
      pages.find((path) => path.startsWith("stroke/")) ?? "index.html",
      async (page) => {
        const tabs = await page.locator(".thumbs a").evaluateAll((all) =>
          all.map((tab) => {
            const { right, bottom, height } = tab.getBoundingClientRect();
            return { name: tab.textContent, inside: right <= innerWidth && bottom <= innerHeight && height >= 48 };
          }));
        assert.ok(tabs.length > 10);
        assert.deepEqual(tabs.filter((tab) => !tab.inside), [], `${height} pixels high`);
      },
      { viewport: { width: 1280, height } },
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
  }, { ...narrow, colorScheme: "dark" }));
