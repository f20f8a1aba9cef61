// A printed page holds what the screen holds, and the caution.
import assert from "node:assert/strict";
import { test } from "node:test";
import { live, reader } from "./support/browser.js";
import { letters, printed, printedBothWays } from "./support/paper.js";
import { calculatorPages, pages } from "./support/site.js";
import { Widget, plain } from "./support/widget.js";

const it = reader();

/**
 * Whether a text is on the paper, were it parted by the ends of pages.
 * @param {string} paper @param {string} text both as letters alone
 * @param {number} parts
 */
function stands(paper, text, parts = 3) {
  if (paper.includes(text)) return true;
  let [held, over] = [0, text.length];
  while (over - held > 1) {
    const middle = (held + over) >> 1;
    if (paper.includes(text.slice(0, middle))) held = middle;
    else over = middle;
  }
  return parts > 1 && held > 8 && stands(paper, text.slice(held), parts - 1);
}

test("every page prints its heading, its text and the caution", () =>
  it.tour(pages.filter((path) => path !== "search.html" && !path.startsWith("ledger")), async (page, path) => {
    // a sheet's page prints all but its first side where the annex is unfolded
    for (const annex of await page.locator(".setup-annex > summary").all()) await annex.click();
    await page.waitForFunction(() => !document.querySelector(".setup-annex[open]") || !document.documentElement.hasAttribute("data-side"));
    // whose value it is stands before it, and is no letter of the text
    const whose = letters("T1: ");
    const paper = letters(await printed(page)).replaceAll(whose, "");
    const blocks = await page.evaluate(() =>
      [...document.querySelectorAll("h1, p.site-caution, main > p, main li > p, ol.steps > li, aside.hazard p")]
        .filter((block) => !block.closest(".widget, .skip, nav, dialog"))
        .filter((block) => block.checkVisibility())
        .filter((block) => block.querySelector("math, svg, p, ol, ul, table") === null)
        .map((block) => block.textContent ?? ""),
    );
    assert.ok(blocks.length > 1, path);
    for (const block of blocks) {
      assert.ok(stands(paper, letters(block).replaceAll(whose, "")), `${path} prints without: ${plain(block)}`);
    }
    // nobody scrolled, and a picture that waits for that leaves a hole on the paper
    const lacking = await page.evaluate(() =>
      [...document.images].filter((image) => !image.complete || image.naturalWidth === 0).map((image) => image.src));
    assert.deepEqual(lacking, [], path);
  }));

test("the emergency page is one side of either paper", () =>
  it.visit("emergency.html", async (page) => {
    for (const format of ["A4", "Letter"]) {
      const pdf = (await page.pdf({ format })).toString("latin1");
      assert.equal(pdf.match(/\/Type\s*\/Page\b/g)?.length, 1, format);
    }
  }));

test("a calculator prints its inputs, its result and its verdict, not its controls", () =>
  it.tour(calculatorPages, async (page, path) => {
    await live(page);
    const name = path.replace(/^calculators\/|\.html$/g, "");
    const widget = new Widget(page, name);
    // a source of two lines has the other column's line between them
    const [paper, columns] = (await printedBothWays(page)).map(letters);
    const told = await page.locator(".widget .field :is(.understood, .choices label:has(:checked))").allTextContents();
    assert.ok(told.length > 0, path);
    const sources = await page.locator(".widget .field .field-from").allTextContents();
    assert.ok(sources.some((text) => text !== ""), path);
    for (const text of sources) assert.ok(stands(columns, letters(text)), `${path} prints without the source ${text}`);
    for (const text of [...told, ...Object.values(await widget.results())]) {
      assert.ok(stands(paper, letters(text)), `${path} prints without ${text}`);
    }
    await page.emulateMedia({ media: "print" });
    const controls = await page
      .locator(".widget :is(input, select, button)")
      .evaluateAll((all) => all.filter((one) => one.checkVisibility({ visibilityProperty: true })).length);
    assert.equal(controls, 0, `${path} prints controls`);
  }));

test("what was typed is what is printed", () =>
  it.visit("calculators/guide-tube-length.html", async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("stock_length", "11 1/2");
    await widget.type("channel_depth", "14");
    const paper = letters(await printed(page));
    assert.ok(paper.includes(letters("14 in")) && paper.includes(letters("25 1/2 in")));
  }));

test("a dark look prints dark on white", () =>
  it.visit(pages[0], async (page) => {
    await page.evaluate(() => (document.documentElement.dataset.look = "dark"));
    await page.emulateMedia({ media: "print" });
    const colours = await page.evaluate(() => {
      const sum = (colour) => {
        const [red, green, blue, alpha = 1] = (colour.match(/[\d.]+/g) ?? []).map(Number);
        return alpha === 0 ? null : red + green + blue;
      };
      const grounds = [document.body, document.documentElement].map((element) =>
        sum(getComputedStyle(element).backgroundColor),
      );
      return {
        ground: grounds.find((ground) => ground !== null) ?? 765,
        text: sum(getComputedStyle(document.body).color) ?? 765,
      };
    });
    assert.ok(colours.ground > 700 && colours.text < 200, JSON.stringify(colours));
  }));

/** How light the ground of a page's first picture is. @param {import("playwright-core").Page} page */
async function groundOf(page) {
  const seen = await page.locator(".picture img").first().screenshot();
  const desk = await page.context().newPage();
  const sum = await desk.evaluate(async (png) => {
    const picture = new Image();
    picture.src = `data:image/png;base64,${png}`;
    await picture.decode();
    const canvas = document.createElement("canvas");
    const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    pen.drawImage(picture, 0, 0);
    const [red = 0, green = 0, blue = 0] = pen.getImageData(4, 4, 1, 1).data;
    return red + green + blue;
  }, seen.toString("base64"));
  await desk.close();
  return sum;
}

test("a picture follows the look of its page, and prints light", () =>
  it.visit("connect/air-lines.html", async (page) => {
    assert.ok(await groundOf(page) > 700);
    await page.evaluate(() => (document.documentElement.dataset.look = "dark"));
    assert.ok(await groundOf(page) < 100);
    await page.emulateMedia({ media: "print" });
    assert.ok(await groundOf(page) > 700);
  }));

test("a printed picture has type of 12 pt, and leaves room on its sheet", () =>
  it.visit("isolation.html", async (page) => {
    await page.emulateMedia({ media: "print" });
    const { width, height } = await page.locator(".picture img").first().boundingBox() ?? { width: 0, height: 0 };
    // of a drawing 380 wide with type of 13, in points; a sheet's text is some 240 mm high
    assert.ok(width * 13 / 380 * 0.75 >= 12 && height * 25.4 / 96 < 160, `${width} by ${height}`);
  }));
