// A handbook in which nobody has set or measured anything says go nowhere, once its scripts ran.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { publish } from "./support/own.js";

const head = 'title = "Test yard"\nrevision = "A"\ncaution = "Local rules come first."\nemergency = [{ label = "Rescue", number = "112" }]\n';
const said = publish({ "handbook.toml": head, "content/index.md": "# Start\n\nRead this first.\n" });
const { live, reader } = await import("./support/browser.js");
const { calculatorPages, pages, root } = await import("./support/site.js");

const it = reader();

/** @typedef {import("playwright-core").Page} Page */

/** Every verdict that the page gives of its own accord; its explanations of what a check may say are none. @param {Page} page */
const go = (page) => page.locator("[data-is=go]:not(li)").evaluateAll((all) => all.map((one) => one.outerHTML));

/** The values of a calculator's worked examples that came out as go. @param {string} name */
function example(name) {
  const text = readFileSync(`${root}calculators/catalog/${name}.toml`, "utf8");
  const examples = text.split("[[example]]").slice(1);
  const given = examples.find((one) => !/verdict = "(stop|caution)"/.test(one))?.match(/given = \{(.*)\}/)?.[1] ?? "";
  return [...given.matchAll(/(\w+) = "([^"]*)"/g)].map(([, input, value]) => [input, value]);
}

test("it publishes with one warning", () => assert.match(said, /with 1 warning/));

test("no page says go after its scripts ran", () =>
  it.tour(pages, async (page, path) => {
    await live(page);
    assert.deepEqual(await go(page), [], path);
  }));

test("with one input typed a calculator that reads more than it still says no go", () => {
  const asked = new Map(calculatorPages.flatMap((path) => {
    const name = path.replace(/^.*\/|\.html$/g, "");
    const inputs = example(name);
    if (inputs.length < 2) return [];
    const [input, value] = inputs[0];
    return [[`${path}#${name}?${input}=${encodeURIComponent(value)}`, { name, input, value }]];
  }));
  return it.tour([...asked.keys()], async (page, path) => {
    const { name, input, value } = asked.get(path);
    await live(page);
    const typed = page.locator(`.widget .field[data-input="${input}"]`);
    assert.equal(await typed.count(), 1, `${name}.${input}`);
    // a check that reads nothing else may stand on it: the engine says what each one lacks
    const falsely = await page.evaluate(
      async ({ name, input, value }) => {
        const engine = await gaugeleaf.engine();
        const answer = engine({ do: "calculate", name, inputs: { [input]: { text: value } }, want: [] });
        const open = answer.unset.map((one) => one.input);
        return answer.verdicts.filter((one) => one.is === "go" && open.length > 0).map((one) => `${one.check}: ${open}`);
      },
      { name, input, value },
    );
    assert.deepEqual(falsely, [], name);
  });
});

test("no answer of the search says go on one value", () =>
  it.visit("search.html", async (page) => {
    let answered = 0;
    for (const path of calculatorPages) {
      const name = path.replace(/^.*\/|\.html$/g, "");
      const inputs = example(name);
      if (inputs.length < 2) continue;
      const [input, value] = inputs[0];
      // what was told before gives way to what is told now, an answer or how many hits there are
      await page.evaluate(() => {
        document.querySelector(".search-answers")?.insertAdjacentHTML("beforeend", "<li class=before></li>");
        /** @type {HTMLElement} */ (document.querySelector(".search-count")).textContent = "";
      });
      await page.locator("input[type=search]:visible").fill(`${name.replaceAll("-", " ")} ${input.replaceAll("_", " ")} ${value}`);
      await page.waitForFunction(() => document.querySelector(".search-answers > li:not(.before), .search-count:not(:empty)") && !document.querySelector(".before"));
      const told = await page.locator(".search-answers > li.answer").allInnerTexts();
      answered += told.length;
      for (const words of told) assert.doesNotMatch(words, /\bGO\b/, `${name}: ${words}`);
    }
    assert.ok(answered > 10, `${answered} answers`);
  }));
