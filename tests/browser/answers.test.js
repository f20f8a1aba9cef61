// A question with a value is answered above the hits, and leads to the widget with its inputs.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { pages } from "./support/site.js";
import { Widget } from "./support/widget.js";

const it = reader();
const inner = pages.find((path) => /^(survey|mount|fit)\/(?!index)/.test(path)) ?? "index.html";
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };

/** Types a question and waits until its answers are counted. */
async function ask(page, question) {
  await page.locator("input[type=search]:visible").fill(question);
  await page.waitForFunction(() => /answer|found|question/i.test(document.querySelector(".search-count:not(:empty)")?.textContent ?? ""));
  return page.locator(".search-answers > li.answer");
}

for (const from of /** @type {const} */ (["http", "file"])) {
  test(`a named calculator with a value gives its result and what it stands on, and no go, over ${from}`, () =>
    it.visit(
      "search.html",
      async (page) => {
        const answers = await ask(page, "guide tube 14 in channel");
        assert.equal(await answers.count(), 1);
        const told = (await answers.first().innerText()).replaceAll("\u00a0", " ");
        assert.match(told, /26 3\/4 in/);
        assert.match(told, /mm/);
        assert.equal(await answers.first().locator(".verdict").count(), 0, "a go is the calculator's to give");
        assert.match(told, /Given here Channel head depth 14 in/);
        assert.match(told, /parts sheet.* Stock guide tube length 12 3\/4 in/);
        assert.match(told, /WARNING A guide tube that ends far from the sheet/);
        assert.match(told, /competent person on site come first/);
        assert.match((await page.locator(".search-count").first().innerText()).replaceAll("\u00a0", " "), /^1 answer: Guide tube length 26 3\/4 in\. \d+ found/);
      },
      { from },
    ));

  test(`one tap on an answer opens the widget with those inputs, over ${from}`, () =>
    it.visit(
      "search.html",
      async (page) => {
        const answers = await ask(page, "guide tube 14 in channel");
        await answers.first().locator("a").tap();
        await page.waitForURL(/guide-tube-length\.html#guide-tube-length\?channel_depth=/);
        const widget = await Widget.live(page, "guide-tube-length");
        assert.equal(await widget.entry("channel_depth").inputValue(), "14 in");
        assert.match((await widget.at.innerText()).replaceAll("\u00a0", " "), /26 3\/4/);
      },
      { from, ...phone },
    ));
}

test("an answer is drawn whole on a narrow phone, and is a target for a glove", () =>
  it.visit(
    "search.html",
    async (page) => {
      const answers = await ask(page, "loss 12 gpm 5 mm 50 ft");
      const box = await answers.first().locator("a").boundingBox();
      assert.ok(box && box.height >= 48 && box.x >= 0 && box.x + box.width <= 320, JSON.stringify(box));
      assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 320);
    },
    { viewport: { width: 320, height: 640 }, hasTouch: true, isMobile: true },
  ));

test("a question that can be read two ways is asked back, without a result, and each way is a tap", () =>
  it.visit("search.html", async (page) => {
    const answers = await ask(page, "rollers 7 mm hose");
    assert.equal(await answers.count(), 1);
    assert.match(await page.locator(".search-count").first().innerText(), /^1 question back\. /);
    assert.equal(await answers.locator(".verdict, .answer-value").count(), 0);
    const ways = answers.locator("a");
    assert.deepEqual((await ways.locator("b").allInnerTexts()).map((text) => text.replaceAll("\u00a0", " ")), ["Hose bore 7 mm", "Hose outside diameter 7 mm"]);
    for (const box of await ways.evaluateAll((links) => links.map((link) => link.getBoundingClientRect().height))) assert.ok(box >= 48, `${box}`);
    // nobody's answer is taken for somebody who only pressed a key
    await page.keyboard.press("Enter");
    assert.equal(await page.evaluate(() => document.activeElement?.closest(".is-asked") !== null), true);
    assert.match(page.url(), /search\.html/);
  }));

test("a stop is told beside its answer, as the training's", () =>
  it.visit("search.html", async (page) => {
    const answers = await ask(page, "will the clamp fit a 3 1/2 thick flange");
    assert.equal(await answers.first().locator(".verdict").getAttribute("data-is"), "stop");
    assert.ok(await answers.first().locator(".verdict-word").evaluate((word) => /TRAINING, INVENTED EQUIPMENT/.test(getComputedStyle(word, "::after").content)));
  }));

test("words without a use are told, and there is no verdict beside them", () =>
  it.visit("search.html", async (page) => {
    const answers = await ask(page, "step 6 guide tube 14 in channel");
    assert.match(await answers.first().innerText(), /Not used: step, 6\. So no verdict\./);
    assert.equal(await answers.first().locator(".verdict").count(), 0);
  }));

test("a card is low until somebody wants more of it, and then whole", () =>
  it.visit(
    "search.html",
    async (page) => {
      const answers = await ask(page, "guide tube 14 in channel");
      const height = async () => (await answers.first().boundingBox())?.height ?? 0;
      const low = await height();
      // what a signal word says, and how a result is rounded, takes the lines that it needs
      assert.ok(low > 100 && low <= 240, `${low}`);
      const cut = await answers.first().locator(".is-warning, .answer-result, .because").evaluateAll((all) => all.filter((one) => one.scrollWidth > one.clientWidth && getComputedStyle(one).overflow === "hidden").map((one) => one.textContent));
      assert.deepEqual(cut, []);
      assert.equal(await answers.first().locator(".is-warning .signal-word").count(), 1);
      const key = await answers.first().locator(".answer-open").boundingBox();
      const result = await answers.first().locator(".answer-result").boundingBox();
      assert.ok(key && result && key.y + key.height <= result.y + 1, "the key lies over no line");
      const more = answers.first().getByRole("button", { name: "More" });
      const box = await more.boundingBox();
      assert.ok(box && box.height >= 48 && box.width >= 48, JSON.stringify(box));
      await more.tap();
      assert.equal(await answers.first().getByRole("button", { name: "Less" }).getAttribute("aria-expanded"), "true");
      assert.ok((await height()) > low + 40);
    },
    { ...phone, viewport: { width: 390, height: 844 } },
  ));

test("whoever comes back from a hit finds the words and the hits again", () =>
  it.visit(inner, async (page) => {
    await page.keyboard.press("/");
    await page.keyboard.type("whip check");
    await page.locator("dialog.search-sheet[open] li.hit a").first().waitFor();
    const [first] = await page.locator("li.hit a").evaluateAll((links) => links.map((link) => /** @type {HTMLAnchorElement} */ (link).href));
    await page.keyboard.press("Enter");
    await page.waitForURL((url) => url.href === first);
    await page.goBack();
    await page.locator("dialog.search-sheet[open] li.hit a").first().waitFor();
    assert.equal(await page.locator("#search-words").inputValue(), "whip check");
    await page.locator("dialog .search-clear").click();
    assert.equal(await page.locator("#search-words").inputValue(), "");
    assert.equal(await page.locator("li.hit").count(), 0);
  }));

test("words pasted with a number are answered before the key opens them", () =>
  it.visit("search.html", async (page) => {
    await page.locator("#search-words").fill("guide tube 14 in channel");
    await page.keyboard.press("Enter");
    await page.waitForURL(/guide-tube-length\?channel_depth=14%20in/);
  }));

test("an address may ask", () =>
  it.visit("search.html?q=guide%20tube%2014%20in%20channel", async (page) => {
    await page.locator(".search-answers > li.answer").first().waitFor();
    assert.equal(await page.locator("#search-words").inputValue(), "guide tube 14 in channel");
  }));

test("a number that may be two things is told, and nothing is made of it", () =>
  it.visit("search.html", async (page) => {
    const answers = await ask(page, "guide tube 1,250 in channel");
    assert.equal(await answers.count(), 1);
    assert.match(await answers.first().innerText(), /1,250/);
    assert.equal(await answers.first().locator("a").count(), 0);
  }));

test("a value past its limits gives the reason and no result", () =>
  it.visit("search.html", async (page) => {
    const answers = await ask(page, "guide tube 900 in channel");
    assert.match(await answers.first().innerText(), /No result: .*above the most that is taken/);
  }));

test("an answer that stands on another job's value is open, and says whose it is", () =>
  it.visit("search.html", async (page) => {
    const answers = await ask(page, "guide tube length stock guide tube length 14 in");
    const open = answers.filter({ hasText: /Given here\s+Stock guide tube length/ }).first();
    const told = (await open.innerText()).replace(/\s+/g, " ");
    assert.match(told, /T1's, not this job's Channel head depth 8 5\/8 in/);
    assert.equal(await open.locator(".verdict").getAttribute("data-is"), "open");
    assert.match(told, /OPEN/);
    assert.equal(await open.locator(".answer-value").first().getAttribute("data-of"), "T1");
    assert.equal(await open.locator("use[href='#mark-go']").count(), 0);
  }));

test("a reading outside its usual band is asked back, and nothing is made of it", () =>
  it.visit("search.html", async (page) => {
    const answers = await ask(page, "guide tube 40 in channel");
    const told = await answers.first().innerText();
    assert.match(told, /Is this meant\?/);
    assert.equal(await answers.first().locator(".verdict, .answer-value").count(), 0, told);
  }));

test("a conversion is answered with its rounding", () =>
  it.visit("search.html", async (page) => {
    const answers = await ask(page, "1000 bar in psi");
    assert.match((await answers.first().innerText()).replace(/\s/g, " "), /1000 bar = 14 503\.8 psi rounded to six figures/);
  }));

test("answers go when their question does", () =>
  it.visit("search.html", async (page) => {
    const answers = await ask(page, "osha 100 db");
    assert.match(await answers.first().innerText(), /2\.00\sh/);
    await page.locator("input[type=search]:visible").fill("hose");
    await page.locator("li.hit").first().waitFor();
    assert.equal(await answers.count(), 0);
  }));
