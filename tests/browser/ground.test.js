// What a value stands on shows beside it, and a verdict without ground is open.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { printed } from "./support/paper.js";
import { calculatorPages, pages, read } from "./support/site.js";
import { Widget, plain } from "./support/widget.js";

const it = reader();
const tube = "calculators/guide-tube-length.html";
const phone = { viewport: { width: 390, height: 844 } };

/** What stands before a part, as its style writes it. @param {import("playwright-core").Locator} part */
const before = (part) => part.evaluate((one) => getComputedStyle(one, "::before").content.replace(/[\s"]+/g, " ").trim());

/** @param {Widget} widget @param {string} input */
const from = async (widget, input) => plain(await widget.field(input).locator(".field-from").innerText());

for (const way of /** @type {const} */ (["http", "file"])) {
  test(`another job's values give no verdict until the reader types his own, over ${way}`, () =>
    it.visit(
      tube,
      async (page) => {
        const widget = await Widget.live(page, "guide-tube-length");
        assert.deepEqual(await widget.verdicts(), ["open"]);
        assert.equal(await from(widget, "channel_depth"), "T1's, not this job's");
        assert.match(await from(widget, "stock_length"), /parts sheet/);
        const result = widget.at.locator("[data-output=length] .result-text");
        assert.equal(await before(result), "T1:");
        assert.match(plain(await widget.at.locator(".because").innerText()), /For T1 this is go/);
        assert.equal(await widget.at.locator("use[href='#mark-go']").count(), 0);

        await widget.type("channel_depth", "14");
        assert.deepEqual(await widget.verdicts(), ["go"]);
        assert.equal(await from(widget, "channel_depth"), "given here");
        assert.equal(await before(result), "none");

        await widget.at.locator("button.reset").click();
        assert.deepEqual(await widget.verdicts(), ["open"]);
      },
      { from: way, ...phone },
    ));
}

test("the very value that stands there is the reader's once he types it, or taps it", () =>
  it.visit("calculators/pitch-span.html", async (page) => {
    const widget = await Widget.live(page, "pitch-span");
    assert.deepEqual([...new Set(await widget.verdicts())], ["open"]);
    for (const input of await widget.typed()) {
      if ((await widget.field(input).getAttribute("data-ground")) !== "example") continue;
      await widget.type(input, await widget.entry(input).inputValue());
    }
    for (const choice of await widget.at.locator(".field.choice input:checked").all()) await choice.click({ force: true });
    assert.ok(!(await widget.verdicts()).includes("open"));
    assert.equal(await widget.at.locator("[data-ground=example]").count(), 0);
  }));

test("what nobody has measured is blank, is said, and has no result", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await page.evaluate(async () => {
      (await globalThis.gaugeleaf.engine())({ do: "job", whose: "hand", given: {} });
    });
    await widget.unit("channel_depth").selectOption("mm");
    await widget.entry("stock_length").evaluate((entry) => entry.dispatchEvent(new Event("change")));
    assert.equal(await from(widget, "channel_depth"), "not measured");
    assert.equal((await widget.results()).length, "not known");
    assert.match(plain(await widget.at.locator("[data-output=length] .result-also").innerText()), /^Not measured: channel head depth/);
    assert.deepEqual(await widget.verdicts(), ["open"]);
    assert.match(plain(await widget.at.locator(".because").innerText()), /^Not measured: channel head depth/);
  }));

test("the old result never stands beside a refused entry, for the eye or the ear", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("channel_depth", "14");
    await page.waitForFunction(() => /25|26/.test(document.querySelector(".widget .announce")?.textContent ?? ""));
    await widget.type("channel_depth", "14psi");
    assert.ok(Object.values(await widget.results()).every((text) => text === ""));
    assert.deepEqual(await widget.verdicts(), []);
    assert.equal(await widget.at.locator(".announce").textContent(), "");
    assert.equal(await widget.figure(), "");
    assert.equal(plain(await widget.working()).includes("26"), false);
    assert.equal(await from(widget, "channel_depth"), "");
  }));

test("an address's own numbers are examples; what somebody typed says so", async () => {
  for (const [hash, is] of [["channel_depth=14%20in", "open"], ["channel_depth=14%20in&channel_depth.here=1", "go"]]) {
    await it.visit(`${tube}#guide-tube-length?${hash}`, async (page) => {
      const widget = await Widget.live(page, "guide-tube-length");
      assert.deepEqual(await widget.verdicts(), [is], hash);
    });
  }
});

test("the hazard's head and who comes first stand beside every result", () =>
  it.tour(
    calculatorPages,
    async (page, path) => {
      const told = await page.locator(".widget").first().evaluate((widget) => ({
        beside: [...widget.querySelectorAll(".widget-results .beside")].map((one) => one.textContent ?? ""),
        whole: widget.querySelector(".limit-line .signal-word")?.textContent ?? "",
      }));
      assert.ok(told.beside.some((text) => /come first/.test(text)), path);
      if (told.whole) assert.ok(told.beside.some((text) => plain(text).startsWith(told.whole)), path);
    },
    { javaScriptEnabled: false },
  ));

test("training is said beside a verdict, on the page, in the dark and on paper", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    const said = () => widget.at.locator(".verdict-word").evaluate((word) => getComputedStyle(word, "::after").content);
    assert.match(await said(), /TRAINING, INVENTED EQUIPMENT/);
    await widget.type("channel_depth", "14");
    assert.match(await said(), /TRAINING, INVENTED EQUIPMENT/);
    assert.match(plain(await printed(page)), /TRAINING, INVENTED EQUIPMENT/);
  }));

test("open has a shape of its own, empty, in ink alone, in any colours", async () => {
  for (const media of [{}, { forcedColors: "active" }, { colorScheme: "dark" }, { media: "print" }]) {
    await it.visit(tube, async (page) => {
      await Widget.live(page, "guide-tube-length");
      await page.emulateMedia(media);
      const mark = await page.locator("#mark-open").evaluate((open) => {
        const path = /** @type {SVGPathElement} */ (open.querySelector("path"));
        const { fill, stroke } = getComputedStyle(path);
        const shapes = [...document.querySelectorAll("symbol[id^=mark-]")].map((one) => one.innerHTML);
        return { fill, stroke, ink: getComputedStyle(document.body).color, own: shapes.filter((one) => one === open.innerHTML).length };
      });
      assert.equal(mark.fill, "none");
      assert.equal(mark.own, 1);
      assert.equal(mark.stroke, mark.ink, JSON.stringify(media));
    });
  }
});

test("a standing rule is told as a rule, without a verdict's signs", () =>
  it.visit(tube, async (page) => {
    await Widget.live(page, "guide-tube-length");
    const told = await page.evaluate(() => {
      const made = globalThis.gaugeleaf.show.banner("p", { is: "stop", because: "Wear hearing protection." }, true);
      document.querySelector(".verdicts")?.append(made);
      return { text: made.textContent, marks: made.querySelectorAll("svg").length, is: made.dataset.is, after: getComputedStyle(made.querySelector(".verdict-word"), "::after").content };
    });
    assert.deepEqual(told, { text: "ALWAYS Wear hearing protection.", marks: 0, is: undefined, after: "none" });
  }));

test("the sheet tells standing rules without a verdict's signs", () => {
  const rows = read("survey/setup-sheet.html").toString("utf8").match(/<tr class="?setup-verdict[\s\S]*?<\/tr>/g) ?? [];
  const standing = rows.filter((row) => /class="?standing/.test(row));
  assert.ok(standing.length > 0 && standing.length < rows.length, `${standing.length} of ${rows.length}`);
  assert.deepEqual(standing.filter((row) => /data-is|#mark-|verdict-word/.test(row)), []);
});

test("swept values carry no verdict's sign, colour or shape", () => {
  let charts = 0;
  for (const path of pages) {
    const text = read(path).toString("utf8");
    for (const [chart] of text.matchAll(/<figure class="?chart[\s\S]*?<\/figure>/g)) {
      charts += 1;
      assert.doesNotMatch(chart, /data-is|#mark-|fig-(go|caution|stop)/, path);
    }
    for (const [plot] of text.matchAll(/<div class="widget-figure widget-plot"[\s\S]*?<\/svg>/g)) {
      assert.doesNotMatch(plot, /fig-(go|caution|stop)/, path);
    }
  }
  assert.ok(charts > 0);
  const sweep = read("fit/guide-tubes.html").toString("utf8");
  assert.match(sweep, /would be caution/);
});

test("a drawing has a verdict's colours only where the verdict has its ground", () =>
  it.visit("calculators/stroke-stops.html", async (page) => {
    const widget = await Widget.live(page, "stroke-stops");
    const colours = () => widget.at.locator(".widget-drawing :is(.fig-go, .fig-stop)").first().evaluate((part) => getComputedStyle(part).fill);
    const plainly = await page.evaluate(() => {
      document.body.insertAdjacentElement("beforeend", Object.assign(document.createElement("i"), { style: "" })).style.setProperty("color", "var(--hair)");
      const colour = getComputedStyle(/** @type {Element} */ (document.body.lastElementChild)).color;
      document.body.lastElementChild?.remove();
      return colour;
    });
    assert.ok((await widget.verdicts()).includes("open"));
    assert.equal(await colours(), plainly);
  }));

test("how far a value may go begins with whose values it is for", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    assert.match(plain(await page.locator(".limits .far").first().innerText()), /^For T1: go up to /);
    const far = widget.field("channel_depth").locator(".how-far");
    await far.locator("summary").click();
    await far.locator(".how-far-line").first().waitFor();
    assert.match(plain(await far.innerText()), /For T1: go up to /);
    await widget.type("channel_depth", "14");
    await page.waitForFunction(() => !/For T1/.test(document.querySelector("[data-input=channel_depth] .how-far-said")?.textContent ?? "For T1"));
  }));

test("a number in prose says whose it is as long as it is another's", () =>
  it.visit(
    "fit/guide-tubes.html",
    async (page) => {
      const link = page.locator("a.value[data-value='guide-tube-length.length']").first();
      assert.equal(await link.getAttribute("data-of"), "T1");
      assert.equal(await before(link), "T1:");
      await link.evaluate((one) => one.removeAttribute("data-of"));
      assert.equal(await before(link), "none");
      const rated = page.locator("a.value[data-value='stock_guide_tube']");
      if ((await rated.count()) > 0) assert.equal(await rated.first().getAttribute("data-of"), null);
      assert.ok(!(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)));
    },
    phone,
  ));
