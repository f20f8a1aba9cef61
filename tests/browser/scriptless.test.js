// Without scripts a page is complete: its text, tables, figures and computed results.
import { pictures, reader } from "./support/browser.js";
import { answered, everyPage, ofCalculators } from "./support/every.js";
import { plain } from "./support/widget.js";

const it = reader();

/** The text a reader sees outside the widgets' and the search's own controls, block by block. */
const shown = (page) =>
  page.evaluate(() => {
    const blocks = "h1,h2,h3,h4,p,li,td,th,dt,dd,figcaption,summary,pre,svg text";
    return [...document.querySelectorAll("main")].flatMap((main) =>
      [...main.querySelectorAll(blocks)]
        .filter((block) => !block.closest(".widget, dialog, .search-box, .search-hits, .search-near, .job-form, .tube-map, .job-bar, .person, .task-who, .role-left, .role-strokes, .sheet-revision, .register, .settings, .setup-print, .held"))
        .filter((block) => block.checkVisibility({ visibilityProperty: true }))
        .map((block) => block.textContent ?? ""),
    );
  });

/** What each page shows without scripts. @type {Map<string, string[]>} */
const still = new Map();

/** What a calculator's page tells. @param {import("playwright-core").Page} page */
const told = (page) =>
  page.evaluate(() => {
    const widget = document.querySelector(".widget");
    const texts = (selector) =>
      [...(widget?.querySelectorAll(selector) ?? [])].map((one) => (one.textContent ?? "").trim());
    return {
      results: texts(".result-text"),
      verdicts: texts(".verdict .because"),
      given: [...(widget?.querySelectorAll(".field") ?? [])].map((field) =>
        [...field.querySelectorAll(".understood, .choices label:has(:checked)")].filter((one) => one.checkVisibility()).map((one) => one.textContent).join(" ").trim()),
      from: texts(".field-from"),
      working: texts(".working-line"),
      figure: widget?.querySelector(".widget-figure")
        ? (widget.querySelector(".widget-figure svg")?.getBoundingClientRect().width ?? 0)
        : Infinity,
    };
  });

everyPage(it, { javaScriptEnabled: false }, [
  ["a page has something to show without scripts", async (page, path) => {
    const texts = await shown(page);
    still.set(path, texts.map(plain));
    return texts.length > 0 ? [] : ["nothing"];
  }],
  ["a calculator's page holds its results, verdicts, figure and working as text", ofCalculators(async (page) => {
    const { results, verdicts, given, from, working, figure } = await told(page);
    const holds = {
      "no result": results.some((text) => text !== ""),
      "an input is hidden": given.length > 0 && given.every((text) => text !== ""),
      "does not say where a value comes from": from.every((text) => text !== ""),
      "no working": working.length > 0,
      "an empty figure": figure > 100,
      "a verdict without a reason": verdicts.every((text) => text !== ""),
    };
    return Object.entries(holds).filter(([, kept]) => !kept).map(([fault]) => fault);
  })],
  ["no control that needs a script shows without one", (page) =>
    page.evaluate(() =>
      [...document.querySelectorAll("button, select, input:not([type=hidden])")]
        .filter((control) => control.checkVisibility({ visibilityProperty: true }))
        .map((control) => control.outerHTML.slice(0, 80)))],
]);

everyPage(it, { from: "file" }, [
  ["every widget gets its first answer from a folder", answered],
  ["every picture is there in a folder", pictures],
  ["nothing outside the live controls needs a script", async (page, path) => {
    const there = new Set(still.get(path));
    return (await shown(page)).map(plain).filter((text) => text !== "" && !there.has(text));
  }],
]);
