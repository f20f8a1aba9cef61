// What a reader does with the handbook, as every engine must answer it.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** @typedef {import("./tab.js").Tab} Tab */
/** @typedef {{ what: string, path: string, check: (tab: Tab, from: "http" | "file") => Promise<void>, prints?: true }} Check */

const jsQR = /** @type {(pixels: Uint8ClampedArray, width: number, height: number) => { data: string } | null} */ (
  createRequire(new URL("../browser/package.json", import.meta.url))("jsqr"));

const TUBE = '.widget[data-calculator="guide-tube-length"]';
const DEPTH = `${TUBE} .field[data-input="channel_depth"]`;
const LENGTH = `${TUBE} .result[data-output="length"] .result-text`;
const MEASURED = '.job-form [data-input="channel_depth"] input.entry';
const CHOICE = '.question[data-kind="choice"]';

/** Waits until an element says this. @param {Tab} tab @param {string} selector @param {string} text */
const says = (tab, selector, text) =>
  tab.until((selector, text) => (document.querySelector(selector)?.textContent ?? "").replace(/\s+/g, " ").trim() === text, selector, text);

/** @param {Tab} tab @param {string} selector */
const shows = (tab, selector) => tab.until((selector) => document.querySelector(selector)?.checkVisibility() ?? false, selector);

/** Waits until the form's job has its one measurement. @param {Tab} tab */
const holds = (tab) =>
  tab.until((entry) => (document.querySelector(".job-count")?.textContent ?? "").startsWith("1 of ")
    && /** @type {HTMLInputElement | null} */ (document.querySelector(entry))?.value.startsWith("14"), MEASURED);

/** Waits for the first page that stands under this address. @param {Tab} tab @param {string} end */
const arrives = (tab, end) =>
  tab.until((end) => location.pathname.endsWith(end) && document.readyState === "complete" && document.querySelector("h1") !== null, end);

/** @param {Tab} tab @param {string} selector */
const isLive = (tab, selector) => tab.until((selector) => document.querySelector(selector)?.classList.contains("is-live") ?? false, selector);

/** Types a query where the search stands open, and follows its first hit. @param {Tab} tab @param {string} field @param {string} query @param {string} end */
async function finds(tab, field, query, end) {
  await tab.type(field, query);
  // Hits are drawn anew while excerpts come.
  // The list is made anew with each letter.
  const isFirst = (/** @type {string} */ end) => /** @type {HTMLAnchorElement | null} */ (document.querySelector("ol.search-hits > li.hit a"))?.pathname.endsWith(end) ?? false;
  await tab.until(isFirst, end);
  await tab.click("ol.search-hits > li.hit a");
  await arrives(tab, end);
}

/** The code's picture, drawn by the engine, as one letter for each pixel. */
async function drawn() {
  const svg = /** @type {SVGElement} */ (document.querySelector(".share-code svg"));
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(svg.outerHTML)}`;
  await image.decode();
  const side = 400;
  const canvas = Object.assign(document.createElement("canvas"), { width: side, height: side });
  const paint = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  paint.drawImage(image, 0, 0, side, side);
  const { data } = paint.getImageData(0, 0, side, side);
  return Array.from({ length: side * side }, (_, at) => (data[4 * at] > 127 ? "1" : "0")).join("");
}

/** What a phone's camera makes of such a picture. @param {string} bits */
function decoded(bits) {
  const side = Math.sqrt(bits.length);
  const pixels = new Uint8ClampedArray(4 * bits.length).fill(255);
  [...bits].forEach((bit, at) => { if (bit === "0") pixels.fill(0, 4 * at, 4 * at + 3); });
  return jsQR(pixels, side, side)?.data;
}

/** A printed page's text, a sheet for each part. @param {Tab} tab */
async function sheets(tab) {
  const file = join(tmpdir(), `gaugeleaf-engine-${process.pid}.pdf`);
  writeFileSync(file, await tab.print());
  const told = spawnSync("pdftotext", ["-layout", file, "-"], { encoding: "utf8" });
  assert.equal(told.status, 0, `pdftotext (Debian's poppler-utils): ${told.error ?? told.stderr}`);
  return told.stdout.split("\f").filter((sheet) => sheet.trim() !== "");
}

/** Letters and digits alone, as a line may break anywhere. @param {string} text */
const letters = (text) => text.normalize("NFKC").replace(/[^\p{L}\p{N}]/gu, "");

/** @type {Check[]} */
export const checks = [
  {
    what: "the search page finds a calculator, and leads there",
    path: "search.html",
    check: (tab) => finds(tab, "main input[type=search]", "guide tube length", "calculators/guide-tube-length.html"),
  },
  {
    what: "the sheet of the search opens by its key, and leads on",
    path: "fit/guide-tubes.html",
    async check(tab) {
      await tab.until(() => document.documentElement.classList.contains("scripted"));
      await tab.press("/");
      await tab.until(() => document.activeElement?.id === "search-words");
      await finds(tab, "#search-words", "clamp the frame", "mount/clamp-the-frame.html");
    },
  },
  {
    what: "a widget answers what is typed",
    path: "calculators/guide-tube-length.html",
    async check(tab) {
      await isLive(tab, TUBE);
      await tab.type(`${DEPTH} input.entry`, "14");
      await tab.type(`${TUBE} .field[data-input="stock_length"] input.entry`, "11 1/2");
      await says(tab, LENGTH, "25 1/2 in");
      assert.match(await tab.text(`${DEPTH} .understood`), /14 in/);
    },
  },
  {
    what: "what can't be read is refused beside its field, and no result stays",
    path: "calculators/guide-tube-length.html",
    async check(tab) {
      await isLive(tab, TUBE);
      await tab.type(`${DEPTH} input.entry`, "14");
      await tab.until((length) => document.querySelector(length)?.textContent !== "", LENGTH);
      await tab.type(`${DEPTH} input.entry`, "14psi");
      await shows(tab, `${DEPTH} .problem`);
      await says(tab, LENGTH, "");
      assert.equal(await tab.run((entry) => document.querySelector(entry)?.getAttribute("aria-invalid"), `${DEPTH} input.entry`), "true");
      await tab.type(`${DEPTH} input.entry`, "14");
      await tab.until((problem, length) => !document.querySelector(problem)?.checkVisibility() && document.querySelector(length)?.textContent !== "", `${DEPTH} .problem`, LENGTH);
    },
  },
  {
    what: "another unit keeps the quantity, and back again the text",
    path: "calculators/guide-tube-length.html",
    async check(tab) {
      await isLive(tab, TUBE);
      await tab.type(`${DEPTH} input.entry`, "11 15/32");
      const length = await tab.text(LENGTH);
      await tab.click(`${DEPTH} select.unit option:nth-child(2)`);
      await tab.until((entry) => /** @type {HTMLInputElement} */ (document.querySelector(entry)).value.startsWith("291"), `${DEPTH} input.entry`);
      await says(tab, LENGTH, length);
      await tab.click(`${DEPTH} select.unit option:nth-child(1)`);
      await tab.until((entry) => /** @type {HTMLInputElement} */ (document.querySelector(entry)).value === "11 15/32", `${DEPTH} input.entry`);
      assert.notEqual(length, "");
    },
  },
  {
    what: "a job stays after a reload",
    path: "jobs.html",
    async check(tab, from) {
      await tab.until(() => document.querySelector(".job-count")?.textContent !== "");
      await tab.type(MEASURED, "14");
      await holds(tab);
      await tab.reload();
      await holds(tab);
      // A browser may hold each file's storage apart.
      if (from === "file") return;
      await tab.open("fit/guide-tubes.html");
      await says(tab, 'main .value[data-value="guide-tube-length.length"]', "26 3/4 in");
    },
  },
  {
    what: "ticks are counted, and stay after a reload",
    path: "mount/clamp-the-frame.html",
    async check(tab) {
      const bar = ".tick-bar[data-steps] .tick-count";
      const first = "ol.steps > li > input.tick";
      await tab.until((bar) => document.querySelector(bar)?.textContent !== "", bar);
      const total = await tab.run((steps) => document.querySelectorAll(steps).length, first);
      await tab.click(first);
      await says(tab, bar, `1 of ${total} steps`);
      await tab.reload();
      await says(tab, bar, `1 of ${total} steps`);
      assert.equal(await tab.run((first) => /** @type {HTMLInputElement} */ (document.querySelector(first)).checked, first), true);
    },
  },
  {
    what: "a tube is marked by a tap, and stays marked",
    path: "run/tube-map.html",
    async check(tab) {
      await isLive(tab, ".tube-map");
      await tab.click('circle[data-tube="1"]');
      await says(tab, '[data-count="cleaned"]', "1");
      await tab.reload();
      await isLive(tab, ".tube-map");
      await says(tab, '[data-count="cleaned"]', "1");
    },
  },
  {
    what: "a run marks both tubes of a stroke by one press, shows the next one, and is left",
    path: "run/tube-map.html",
    async check(tab) {
      await isLive(tab, ".tube-map");
      await tab.click(".run-start");
      await shows(tab, ".run .run-done");
      // what comes right after the tap that opened it counts for nothing
      await tab.until((from) => performance.now() - from > 700, await tab.run(() => performance.now()));
      await tab.click(".run-done");
      await says(tab, ".run-count-cleaned", "2");
      await says(tab, ".run-what", "Stroke 2");
      await shows(tab, ".tube-lit");
      await tab.click(".run-leave");
      await says(tab, '[data-count="cleaned"]', "2");
    },
  },
  {
    what: "a question is graded wrong and right",
    path: "stroke/prove-the-stroke.html",
    async check(tab) {
      const answers = `${CHOICE} input[type=radio]`;
      const at = async (/** @type {boolean} */ right) => `${answers}${await tab.run((choice, right) => {
        const key = /** @type {HTMLElement} */ (document.querySelector(choice)).dataset.right;
        return right ? `[value="${key}"]` : `:not([value="${key}"])`;
      }, CHOICE, right)}`;
      await shows(tab, `${CHOICE} .question-check`);
      await tab.click(`label:has(> ${await at(false)})`.replace(`> ${CHOICE} `, "> "));
      await tab.click(`${CHOICE} .question-check`);
      await tab.until((choice) => /** @type {HTMLElement} */ (document.querySelector(choice)).dataset.is === "wrong", CHOICE);
      await tab.click(`${CHOICE} .question-retry`);
      await tab.click(`label:has(> ${await at(true)})`.replace(`> ${CHOICE} `, "> "));
      await tab.click(`${CHOICE} .question-check`);
      await tab.until((choice) => /** @type {HTMLElement} */ (document.querySelector(choice)).dataset.is === "right", CHOICE);
    },
  },
  {
    what: "a number is graded by the engine",
    path: "fit/guide-tubes.html",
    async check(tab) {
      const question = '.question[data-kind="number"]';
      await shows(tab, `${question} .question-check`);
      await tab.type(`${question} .entry`, "1 in");
      await tab.click(`${question} .question-check`);
      await tab.until((question) => /** @type {HTMLElement} */ (document.querySelector(question)).dataset.is === "wrong", question);
    },
  },
  {
    what: "a job's code reads as its words, and another device takes it over",
    path: "jobs.html",
    async check(tab, from) {
      await tab.until(() => document.querySelector(".job-count")?.textContent !== "");
      await tab.type(MEASURED, "14");
      await holds(tab);
      await tab.click(".job-share");
      await shows(tab, ".share-words");
      const words = await tab.run(() => document.querySelector(".share-words")?.textContent ?? "");
      assert.match(words, /&channel_depth=14\+in/);
      await tab.run(() => /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".job-share-part button")])
        .find((button) => button.textContent === "Show QR code")?.click());
      await tab.until(() => document.querySelector(".share-code svg") !== null);
      assert.equal(decoded(await tab.run(drawn)), words);
      await tab.run(() => localStorage.clear());
      if (from === "file") {
        await tab.reload();
        await tab.click(".job-take");
        await tab.type(".job-paste", words);
        await tab.click(".job-look");
      } else await tab.open(`fit/guide-tubes.html${words.slice(words.indexOf("#"))}`);
      await shows(tab, ".take-over .yes");
      await tab.click(".take-over .yes");
      if (from === "file") await holds(tab);
      else await says(tab, 'main .value[data-value="guide-tube-length.length"]', "26 3/4 in");
    },
  },
  {
    what: "a procedure prints whole",
    path: "fit/guide-tubes.html",
    prints: true,
    async check(tab) {
      await isLive(tab, TUBE);
      const paper = await sheets(tab);
      assert.match(paper[0], /Fit the guide tubes/);
      assert.match(paper.join(""), /21 3\/8 in/);
    },
  },
  {
    what: "no heading stands alone at the foot of a sheet",
    path: "fit/guide-tubes.html",
    prints: true,
    async check(tab) {
      await isLive(tab, TUBE);
      const { headings, foot } = await tab.run(() => ({
        headings: [...document.querySelectorAll("main :is(h2, h3)")].map((heading) => heading.textContent ?? ""),
        foot: document.querySelector(".control-line p")?.textContent ?? "",
      }));
      const printed = (await sheets(tab)).map((sheet) => letters(sheet).split(letters(foot).slice(0, 30)));
      assert.ok(printed.every((parts) => parts.length === 2), "no sheet without the foot");
      for (const heading of headings) for (const [body] of printed) assert.ok(!body.endsWith(letters(heading)), heading);
      const card = printed.find(([body]) => body.includes("FindthelengthCalculator")) ?? [""];
      assert.match(card[0], /WARNINGAguidetube.*onthedrivenothere/, "the card stands whole under its heading");
    },
  },
  {
    what: "no hazard parts from its step at the foot of a sheet",
    path: "fit/guide-tubes.html",
    prints: true,
    async check(tab) {
      await isLive(tab, TUBE);
      const { hazards, foot } = await tab.run(() => ({
        hazards: [...document.querySelectorAll(".prose > .hazard")].filter((one) => one.nextElementSibling?.matches(".steps")).map((one) => one.textContent ?? ""),
        foot: document.querySelector(".control-line p")?.textContent ?? "",
      }));
      assert.ok(hazards.length > 1);
      const bodies = (await sheets(tab)).map((sheet) => letters(sheet).split(letters(foot).slice(0, 30))[0]);
      for (const hazard of hazards) {
        const end = letters(hazard).slice(-25);
        assert.ok(bodies.some((body) => body.includes(end)), `a hazard of which the paper knows nothing: ${end}`);
        for (const body of bodies) assert.ok(!body.endsWith(end), hazard);
      }
    },
  },
  {
    what: "the phases' tabs fill their places beside a wide page",
    path: "stroke/prove-the-stroke.html",
    async check(tab) {
      await tab.engine.size(1280, 1000);
      const heights = await tab.run(() => [...document.querySelectorAll(".thumbs li")].map((place) =>
        [place, place.querySelector("a") ?? place].map((one) => one.getBoundingClientRect().height)));
      assert.ok(heights.length > 10);
      for (const [place, tab] of heights) assert.equal(tab, place);
    },
  },
  {
    what: "a list has dashes",
    path: "jobs.html",
    async check(tab) {
      const list = await tab.run(() => {
        const made = document.createElement("ul");
        made.append(document.createElement("li"));
        document.querySelector(".prose")?.append(made);
        return getComputedStyle(made).listStyleType;
      });
      assert.equal(list, '"\u2013 "');
    },
  },
  {
    what: "the handbook is on the phone after one visit, and an address that it doesn't have leads to a page of its own",
    path: "index.html",
    async check(tab, from) {
      const held = (/** @type {string} */ words) => tab.until((words) => document.querySelector(".held")?.textContent?.startsWith(words) ?? false, words);
      await held(from === "file" ? "Revision 1, in a folder: it works without signal." : "Ready without signal: revision 1.");
      if (from === "file") return;
      // The server has no such page: the worker answers, whatever is asked behind an address.
      await tab.open("fit/nowhere.html");
      await says(tab, "h1", "Not in this handbook");
      await tab.open("calculators/guide-tube-length.html?x=1");
      await isLive(tab, TUBE);
    },
  },
];

/** Pages of every make, on which the console has to be silent, and which have to fit. */
export const looked = [
  "index.html", "search.html", "jobs.html", "emergency.html", "calculators/guide-tube-length.html", "fit/guide-tubes.html",
  "run/tube-map.html", "stroke/prove-the-stroke.html", "ledger.html",
];

/** How far the page is wider than its window, and how wide that is. */
export const sideways = () =>
  new Promise((tell) => requestAnimationFrame(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    tell([innerWidth, Math.max(0, scrollWidth - clientWidth)]);
  }));
