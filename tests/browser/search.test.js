// Search finds every kind of thing, offline, from every page.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { pages, read } from "./support/site.js";

const it = reader();
const inner = pages.find((path) => /^(survey|mount|fit)\/(?!index)/.test(path)) ?? "index.html";

/** Types into the search box that shows, and waits for its hits. */
async function search(page, query) {
  const box = page.locator("input[type=search]:visible").first();
  await box.fill(query);
  await page.waitForFunction(() =>
    [...document.querySelectorAll(".search-count")].some((count) => count.textContent?.trim()),
  );
  return page.locator("ol.search-hits:visible > li.hit");
}

for (const from of /** @type {const} */ (["http", "file"])) {
  test(`the search page finds a calculator by its words, over ${from}`, () =>
    it.visit(
      "search.html",
      async (page) => {
        const hits = await search(page, "guide tube length");
        const first = hits.first();
        assert.equal(await first.getAttribute("data-kind"), "calculator");
        await first.locator("a").click();
        await page.waitForURL(/calculators\/guide-tube-length\.html/);
      },
      { from },
    ));

  test(`the sheet opens by key on an inner page and its hits lead there, over ${from}`, () =>
    it.visit(
      inner,
      async (page) => {
        await page.waitForFunction(() => document.documentElement.classList.contains("scripted"));
        await page.keyboard.press("/");
        const hits = await search(page, "pitch span");
        const href = await hits.first().locator("a").evaluate((link) => link.href);
        assert.ok(href.startsWith(it.url("", from)), href);
        await hits.first().locator("a").click();
        await page.waitForURL((url) => url.href.split("#")[0] === href.split("#")[0]);
        assert.equal(await page.locator("h1").count(), 1);
      },
      { from },
    ));
}

test("one wrong letter still finds it", () =>
  it.visit("search.html", async (page) => {
    const hits = await search(page, "gauge guide tubw length");
    assert.ok((await hits.allInnerTexts()).some((text) => /guide tube length/i.test(text)));
  }));

test("pages, headings, calculators and table rows are all found", () =>
  it.visit("search.html", async (page) => {
    const kinds = new Set();
    for (const query of ["guide tube", "hose stop", "pitch", "wrench", "survey", "hose", "bolt"]) {
      const hits = await search(page, query);
      for (const kind of await hits.evaluateAll((all) => all.map((hit) => hit.dataset.kind))) {
        kinds.add(kind);
      }
    }
    for (const kind of ["calculator", "heading", "page", "row"]) {
      assert.ok(kinds.has(kind), `${kind} is not among ${[...kinds].join(", ")}`);
    }
  }));

test("every hit's address is a page of the site, with its heading", () =>
  it.visit("search.html", async (page) => {
    for (const query of ["hose", "pitch", "tube", "check", "stop"]) {
      const hits = await search(page, query);
      const hrefs = await hits.locator("a").evaluateAll((links) => links.map((link) => link.href));
      for (const href of hrefs) {
        const url = new URL(href);
        const path = url.pathname.slice(1);
        assert.ok(pages.includes(path), href);
        const id = decodeURIComponent(url.hash.slice(1).split("?")[0]);
        if (id !== "") assert.ok(read(path).includes(`id="${id}"`), href);
      }
    }
  }));

test("a search without hits offers the nearest terms, and they lead on", () =>
  it.visit("search.html", async (page) => {
    await search(page, "hoes");
    const near = page.locator(".search-near button:visible");
    const hits = page.locator("ol.search-hits:visible > li.hit");
    assert.ok((await near.count()) + (await hits.count()) > 0);
    await search(page, "xyzzyqwv");
    assert.equal(await hits.count(), 0);
    assert.match(await page.locator(".search-count").first().innerText(), /\S/);
  }));

test("a query is shown as text, never as markup", () =>
  it.visit("search.html", async (page) => {
    for (const query of ["<img src=x onerror=alert(1)>", "\"'`<>&", "((((", "a".repeat(5000)]) {
      await search(page, query);
      assert.equal(await page.locator("main img[src=x]").count(), 0);
    }
  }));

test("the count is told to a screen reader", () =>
  it.visit("search.html", async (page) => {
    const count = page.locator(".search-count").first();
    assert.equal(await count.getAttribute("role"), "status");
    await search(page, "hose");
    assert.match(await count.innerText(), /\d/);
  }));
