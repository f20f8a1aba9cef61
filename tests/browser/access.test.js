// axe-core finds no violation of WCAG 2.2 AA at any width, in either look, whatever a page shows;
// every page by itself is looked at in every-page.test.js.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { live, look, reader } from "./support/browser.js";
import { pages, read } from "./support/site.js";
import { Widget } from "./support/widget.js";

const it = reader();
const sizes = [
  { width: 320, height: 640 },
  { width: 360, height: 740 },
  { width: 1280, height: 800 },
];

/**
 * What axe-core finds on these pages at these sizes and looks.
 * @param {string[]} paths
 * @param {[{ width: number, height: number }, string][]} views
 */
async function faults(paths, views) {
  const found = [];
  for (const path of paths) {
    await it.visit(
      path,
      async (page) => {
        await live(page);
        for (const [size, name] of views) {
          await page.setViewportSize(size);
          await look(page, name);
          for (const fault of await violations(page)) found.push(`${path} ${name} ${size.width}: ${fault}`);
        }
      },
      { reducedMotion: "reduce" },
    );
  }
  return found;
}

/** @param {string[]} found */
const none = (found) => assert.equal(found.length, 0, `${found.length} violations\n${found.slice(0, 30).join("\n")}`);

test("no violation on a page of each kind at any size in either look", async () => {
  const kinds = new Map(pages.map((path) => [/<body class="([^"]*)"/.exec(read(path).toString("utf8"))?.[1], path]));
  const every = sizes.flatMap((size) => ["light", "dark"].map((name) => /** @type {[typeof size, string]} */ ([size, name])));
  none(await faults([...kinds.values(), "fit/hoses-and-stop.html", "jobs.html", "jobs/t3.html"], every));
});

test("no violation while a refusal shows, a result warns or the working is open", async () => {
  for (const name of ["light", "dark"]) {
    await it.visit(
      "calculators/guide-tube-length.html",
      async (page) => {
        const widget = await Widget.live(page, "guide-tube-length");
        await look(page, name);
        await widget.at.locator("details.working").evaluate((working) => (working.open = true));
        assert.deepEqual(await violations(page), []);
        await widget.type("channel_depth", "14psi");
        await widget.problem("channel_depth");
        assert.deepEqual(await violations(page), []);
      },
      { viewport: sizes[0], reducedMotion: "reduce" },
    );
  }
});

test("no violation while the search shows its hits, or none", async () => {
  for (const [path, open] of [
    ["search.html", false],
    ["index.html", true],
  ]) {
    await it.visit(
      String(path),
      async (page) => {
        await page.waitForFunction(() => document.documentElement.classList.contains("scripted"));
        if (open) await page.keyboard.press("/");
        const box = page.locator("input[type=search]:visible").first();
        for (const query of ["hose", "xyzzyqwv"]) {
          await box.fill(query);
          await page.waitForTimeout(300);
          assert.deepEqual(await violations(page), [], `${path}: ${query}`);
        }
      },
      { viewport: sizes[1], reducedMotion: "reduce" },
    );
  }
});
