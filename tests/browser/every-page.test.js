// What holds on every page with its scripts running: on the narrowest phone and on a desk, in
// either look.
import { violations } from "./support/access.js";
import { look, pictures, reader } from "./support/browser.js";
import { faint } from "./support/contrast.js";
import { answered, everyPage, ofCalculators } from "./support/every.js";
import { small, wide } from "./support/layout.js";

const it = reader();
const narrow = { width: 320, height: 640 };
const phone = { width: 360, height: 740 };
const desk = { width: 1280, height: 800 };

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
const said = "body *:not(script, style, noscript, svg *, option)";
const body = "main > p:not(.source), main section > p, main li, ol.steps li";

/** @typedef {import("./support/every.js").Check} Check */

/** @param {{ width: number, height: number }} size @param {"light" | "dark"} name @returns {Check} */
const view = (size, name) => async (page) => {
  await page.setViewportSize(size);
  await look(page, name);
  return [];
};

const large = "body text is at least 18 pixels and results 24";
const readable = "every text is at least 7:1 and what is acted on 15:1, light and dark, on a phone and on a desk";
/** @type {Check} */
const contrast = async (page) => [...(await faint(page, said, 7)), ...(await faint(page, acted.join(","), 15))];

const accessible = "no violation on any page, on the narrowest phone in the light and on a desk in the dark";

everyPage(it, { viewport: narrow, hasTouch: true, reducedMotion: "reduce" }, [
  ["every widget gets its first answer", answered],
  ["every picture is there", pictures],
  ["no page scrolls sideways at 320 pixels", wide],
  ["every control is at least 48 pixels tall and wide", (page) =>
    small(page, ":is(a[href], button, summary, input, select):not(.skip)", 48)],
  [accessible, violations],
  [readable, view(phone, "light")],
  [large, (page) => faint(page, body, 0, 18)],
  [large, ofCalculators((page) => faint(page, ".result-text", 0, 24))],
  ["fields are typed in at 16 pixels or more, so that no phone zooms in", ofCalculators((page) =>
    page.locator(".widget input.entry, .widget select").evaluateAll((all) => {
      const little = all.filter((one) => Number.parseFloat(getComputedStyle(one).fontSize) < 16);
      return all.length === 0 ? ["no field"] : little.map((one) => one.outerHTML.slice(0, 90));
    }))],
  [readable, contrast],
  [readable, view(phone, "dark")],
  [readable, contrast],
  [accessible, view(desk, "dark")],
  [accessible, violations],
  [readable, contrast],
  [readable, view(desk, "light")],
  [readable, contrast],
  ["a calculator's own controls are at least 64 pixels tall and wide", ofCalculators(async (page) => {
    await page.setViewportSize(phone);
    await page.locator(".widget input.entry").first().focus();
    return small(page, ".widget :is(input.entry, select, button, input[type=radio])", 64);
  })],
  ["no page scrolls sideways at twice the text's size", async (page) => {
    await page.setViewportSize({ width: 390, height: 844 });
    await page.evaluate(() => { document.documentElement.style.fontSize = "200%"; });
    return wide(page);
  }],
]);
