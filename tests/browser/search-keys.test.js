// The search worked by keyboard and by a screen reader, and the words of the trade that it knows.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { pages, read } from "./support/site.js";

const it = reader();
const inner = pages.find((path) => /^(survey|mount|fit)\/(?!index)/.test(path)) ?? "index.html";

/** What has the focus: the field, or the place of a link among the answers and hits. */
const focus = (page) =>
  page.evaluate(() => {
    const links = [...document.querySelectorAll(".search-answers a, .search-hits a")];
    const here = document.activeElement;
    return here?.matches("input[type=search]") ? "field" : links.indexOf(/** @type {any} */ (here));
  });

async function type(page, query) {
  await page.keyboard.press("/");
  await page.keyboard.type(query);
  await page.waitForFunction(() => /\d/.test(document.querySelector(".search-count:not(:empty)")?.textContent ?? ""));
}

test("arrows walk through answers and hits and back to the field, and letters stay letters", () =>
  it.visit(inner, async (page) => {
    await type(page, "guide tube 14 in channel");
    assert.equal(await page.locator("input[type=search]:visible").inputValue(), "guide tube 14 in channel");
    assert.equal(await focus(page), "field");
    await page.keyboard.press("ArrowDown");
    assert.equal(await focus(page), 0);
    await page.keyboard.press("ArrowDown");
    assert.equal(await focus(page), 1);
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("ArrowUp");
    assert.equal(await focus(page), "field");
  }));

test("enter opens the first answer, with its inputs", () =>
  it.visit(inner, async (page) => {
    await type(page, "guide tube 14 in channel");
    await page.keyboard.press("Enter");
    await page.waitForURL(/guide-tube-length\?channel_depth=14%20in/);
  }));

test("escape closes the sheet and the page has the keys again", () =>
  it.visit(inner, async (page) => {
    await type(page, "hose");
    await page.keyboard.press("Escape");
    assert.equal(await page.locator("dialog.search-sheet[open]").count(), 0);
    await page.keyboard.press("/");
    assert.equal(await focus(page), "field");
  }));

test("a screen reader gets a named field, a live count and named groups", () =>
  it.visit("search.html", async (page) => {
    const box = page.getByRole("search");
    assert.equal(await box.getByRole("searchbox", { name: "Search, or ask for a value" }).count(), 1);
    assert.equal(await box.getByRole("status").count(), 1);
    await page.locator("input[type=search]").fill("osha 100 db");
    await page.waitForFunction(() => /answer/.test(document.querySelector(".search-count")?.textContent ?? ""));
    assert.match(await box.getByRole("status").innerText(), /^1 answer: Permitted time .* 2\.00\sh\. \d+ found/);
    assert.equal(await box.getByRole("group", { name: "Answers" }).getByRole("link", { name: /Noise exposure.*2\.00\sh/ }).count(), 1);
    assert.ok((await box.getByRole("group", { name: "Found" }).getByRole("listitem").count()) > 0);
  }));

test("the count is told once a pause, not once a letter", () =>
  it.visit("search.html", async (page) => {
    await page.evaluate(() => {
      globalThis.told = [];
      new MutationObserver(() => globalThis.told.push(document.querySelector(".search-count")?.textContent)).observe(
        /** @type {Node} */ (document.querySelector(".search-count")), { childList: true, characterData: true, subtree: true });
    });
    await page.locator("input[type=search]").pressSequentially("guide tube", { delay: 20 });
    await page.waitForFunction(() => /\d/.test(document.querySelector(".search-count")?.textContent ?? ""));
    const told = await page.evaluate(() => globalThis.told);
    assert.ok(told.length <= 2, JSON.stringify(told));
  }));

test("every kind of hit has its label", () =>
  it.visit("search.html", async (page) => {
    for (const query of ["guide tube", "channel head depth", "wrench 9/16", "rating", "set the stop", "tractor", "cut"]) {
      await page.locator("input[type=search]").fill(query);
      await page.locator("li.hit").first().waitFor();
      for (const label of await page.locator(".hit-kind").allInnerTexts()) assert.doesNotMatch(label, /undefined|^$/, query);
    }
  }));

test("without hits the way on is offered, each way a target for a thumb", () =>
  it.visit("search.html", async (page) => {
    await page.locator("input[type=search]").fill("chamnal");
    await page.locator(".search-near button").first().waitFor();
    assert.match(await page.locator(".search-near").innerText(), /channel/);
    assert.match(await page.locator(".search-else").innerText(), /phases/);
    for (const way of await page.locator(".search-near button, .search-else a").all()) {
      const box = await way.boundingBox();
      assert.ok(box && box.height >= 48 && box.width >= 48, JSON.stringify(box));
    }
    await page.locator(".search-near button", { hasText: "channel" }).click();
    await page.locator("li.hit").first().waitFor();
  }));

test("a hit on a table's row opens at the row, and the row is marked", () =>
  it.visit("search.html", async (page) => {
    await page.locator("input[type=search]").fill("wrench for 3/8 in bolt 9/16");
    const hit = page.locator("li.hit[data-kind=row] a").first();
    await hit.click();
    await page.waitForURL(/tables\/.*#row-\d+/);
    assert.equal(await page.locator("tr:target").count(), 1);
  }));

test("what people say leads to the handbook's own term", () =>
  it.visit("search.html", async (page) => {
    await page.locator("input[type=search]").fill("tractor");
    const hit = page.locator("li.hit a").first();
    assert.match(await hit.locator(".hit-means").innerText(), /^drive: /);
  }));

test("a term that was found leads to the card about it in one tap, under what it means", () =>
  it.visit("search.html", async (page) => {
    await page.locator("input[type=search]").fill("back-out preventer");
    const hit = page.locator("li.hit a").first();
    assert.match(await hit.locator(".hit-means").innerText(), /^anti-withdrawal stop: Jaws/);
    await hit.click();
    await page.waitForURL(/#set-the-stop/);
    assert.equal(await page.locator("#set-the-stop").count(), 1);
  }));

test("where nothing is found, the lists and the words of the trade are a tap away", () =>
  it.visit("search.html", async (page) => {
    await page.locator("input[type=search]").fill("xyzzyqwv");
    const links = page.locator(".search-else a:visible");
    await links.first().waitFor();
    const paths = await links.evaluateAll((all) => all.map((link) => new URL(link.href).pathname.split("/").slice(-2).join("/")));
    for (const end of ["calculators/index.html", "tables/index.html", "glossary.html"]) {
      assert.ok(paths.some((path) => path.endsWith(end)), `${end}: ${paths.join(" ")}`);
    }
  }));

test("a term's first mention leads to what it means, on paper and without scripts too", () => {
  const linked = pages.filter((path) => read(path).includes('class="term"'));
  assert.ok(linked.length > 3, linked.join(" "));
  for (const path of linked) {
    for (const [, href] of String(read(path)).matchAll(/<a class="term" href="([^"]+)"/g)) {
      const [file, id] = href.replace(/^\.\.\//, "").split("#");
      assert.ok(read(file).includes(`id="${id}"`), `${path}: ${href}`);
    }
  }
  assert.ok(!read("glossary.html").includes('class="term"'));
});
