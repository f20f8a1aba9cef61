// What a crew does on a phone, in taps, keys and seconds of the machine's, the processor slowed four times:
//   SITE=/path/to/a/published/site node tests/speed/tasks/run.js
// needs what `tests/run publish browser` makes. A tap is one touch that leads on; a key is one letter of a
// keyboard or of the page's own keys; the seconds are those that somebody waits, without the hand's own.
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { executablePath } from "../../browser/support/chromium.js";
import { fileUrl } from "../../browser/support/site.js";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const { chromium } = createRequire(join(root, "tests", "browser", "node_modules", "x.js"))("playwright-core");

class Hand {
  constructor(page) {
    this.page = page;
    this.taps = 0;
    this.keys = 0;
    this.waited = 0;
  }

  /** Waits for what a tap or a key leads to. */
  async until(what, ...given) {
    const start = performance.now();
    await this.page.waitForFunction(what, ...given);
    this.waited += performance.now() - start;
  }

  async tap(selector, text) {
    const part = text === undefined ? this.page.locator(selector) : this.page.locator(selector, { hasText: text });
    await part.first().scrollIntoViewIfNeeded();
    const start = performance.now();
    await part.first().tap();
    this.waited += performance.now() - start;
    this.taps += 1;
  }

  async type(text) {
    await this.page.keyboard.type(text);
    this.keys += text.length;
  }

}

const answered = (words) => [...document.querySelectorAll(".search-answers li")].some((one) => (one.textContent ?? "").replace(/\s+/g, " ").includes(words));
const found = (words) => [...document.querySelectorAll(".search-hits li")].slice(0, 3).some((one) => (one.textContent ?? "").includes(words));

/** A question asked on any page. */
async function ask(hand, question, check, words) {
  await hand.tap(".bar-search");
  await hand.type(question);
  await hand.until(check, words);
}

const TASKS = [
  ["A guide tube behind a head of 14 in, asked", "pressure/fill-and-pressurise.html", (hand) => ask(hand, "guide tube 14 in channel", answered, "26 3/4 in")],
  ["A the same, in the calculator's own fields", "index.html", async (hand) => {
    await hand.tap(".doors a", "Calculators");
    await hand.tap("#narrow");
    await hand.type("guide tube");
    await hand.tap(".rows a", "Guide tube length");
    await hand.until(() => document.querySelector(".widget.is-live"));
    await hand.tap('[data-input="channel_depth"] .entry');
    await hand.type("14");
    await hand.until(() => (document.querySelector(".result-text")?.textContent ?? "").replace(/\s/g, " ") === "26 3/4 in");
  }],
  ["A the loss of a hose", "index.html", (hand) => ask(hand, "pressure loss 5 mm hose", answered, "psi")],
  ["A the drive goes the wrong way", "run/row-by-row.html", (hand) => ask(hand, "goes left instead of right", found, "wrong")],
  ["A the wrench for the clamp's bolts", "mount/clamp-the-frame.html", (hand) => ask(hand, "wrench clamp bolts", found, "rench")],
  ["C go on where I was", "index.html", async (hand) => {
    await hand.tap(".first-on");
    await hand.until(() => document.querySelector(".go-on"));
  }, async (page) => {
    await page.goto(fileUrl("mount/clamp-the-frame.html"));
    await page.locator("#step-1 > input.tick").tap();
    await page.goto(fileUrl("index.html"));
    await page.locator(".first-on:visible").waitFor();
  }],
  ["D a stroke is done, in the run", "run/tube-map.html", async (hand) => {
    const before = await hand.page.locator(".run-done").innerText();
    await hand.tap(".run-done");
    await hand.until((before) => document.querySelector(".run-done")?.textContent !== before, before);
  }, async (page) => {
    await page.locator(".tube-map.is-live").waitFor();
    await page.locator(".run-start").tap();
    await page.locator(".run-done:visible").waitFor();
  }],
  ["E help, from a page of the work", "run/row-by-row.html", async (hand) => {
    await hand.tap(".bar-emergency");
    await hand.until(() => document.querySelector(".begin, #step-1"));
  }],
];

const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] });
console.log("taps  keys  seconds  task");
for (const [name, path, act, before] of TASKS) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await page.goto(fileUrl(path));
  if (before) await before(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  const hand = new Hand(page);
  await act(hand);
  console.log(`${String(hand.taps).padStart(4)}  ${String(hand.keys).padStart(4)}  ${(hand.waited / 1000).toFixed(1).padStart(7)}  ${name}`);
  await context.close();
}
await browser.close();
