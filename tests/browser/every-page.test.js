// What holds on every page with its scripts running: on the narrowest phone and on a desk, in
// either look.
import { violations } from "./support/access.js";
import { live, look, pictures, reader } from "./support/browser.js";
import { faint } from "./support/contrast.js";
import { everyPage } from "./support/every.js";
import { small, wide } from "./support/layout.js";
import { calculatorPages } from "./support/site.js";

const it = reader();
const phone = { width: 320, height: 640 };
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

/** A check of the calculators' own pages. @param {Check} check @returns {Check} */
const ofCalculators = (check) => async (page, path) => (calculatorPages.includes(path) ? check(page, path) : []);

const readable = "every text is at least 7:1 and what is acted on 15:1, light and dark, on a phone and on a desk";
/** @type {Check} */
const contrast = async (page) => [...(await faint(page, said, 7)), ...(await faint(page, acted.join(","), 15))];

const accessible = "no violation on any page, on the narrowest phone in the light and on a desk in the dark";
/** The contrast above is the stricter rule about colours. @type {Check} */
const access = (page) => violations(page, { colours: false });

everyPage(it, { viewport: phone, hasTouch: true, reducedMotion: "reduce" }, [
  ["every widget gets its first answer", async (page) => (await live(page), [])],
  ["every picture is there", pictures],
  ["no page scrolls sideways at 320 pixels", wide],
  ["every control is at least 48 pixels tall and wide", (page) =>
    small(page, ":is(a[href], button, summary, input, select):not(.skip)", 48)],
  ["body text is at least 18 pixels and results 24", async (page, path) => [
    ...(await faint(page, body, 0, 18)),
    ...(calculatorPages.includes(path) ? await faint(page, ".result-text", 0, 24) : []),
  ]],
  ["fields are typed in at 16 pixels or more, so that no phone zooms in", ofCalculators((page) =>
    page.locator(".widget input.entry, .widget select").evaluateAll((all) => {
      const little = all.filter((one) => Number.parseFloat(getComputedStyle(one).fontSize) < 16);
      return all.length === 0 ? ["no field"] : little.map((one) => one.outerHTML.slice(0, 90));
    }))],
  [accessible, access],
  [readable, contrast],
  [readable, view(phone, "dark")],
  [readable, contrast],
  [accessible, view(desk, "dark")],
  [accessible, access],
  [readable, contrast],
  [readable, view(desk, "light")],
  [readable, contrast],
  ["a calculator's own controls are at least 64 pixels tall and wide", ofCalculators(async (page) => {
    await page.setViewportSize({ width: 360, height: 740 });
    await page.locator(".widget input.entry").first().focus();
    return small(page, ".widget :is(input.entry, select, button, input[type=radio])", 64);
  })],
]);
