// From the address to the first words on a phone: Chromium, its processor slowed four times:
//   SITE=/path/to/a/published/site node tests/speed/paint/run.js
// needs what `tests/run publish browser` makes. It prints figures, and fails where a promise is broken.
// Beside each page stands an empty one in the same run: what is left is the handbook's.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { executablePath } from "../../browser/support/chromium.js";
import { fileUrl } from "../../browser/support/site.js";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const { chromium } = createRequire(join(root, "tests", "browser", "node_modules", "x.js"))("playwright-core");
const SLOWED = 4;
const TIMES = 7;
const MOST = 300;
const PAGES = ["index.html", "pressure/fill-and-pressurise.html", "calculators/guide-tube-length.html", "jobs.html", "run/tube-map.html", "emergency.html"];

const median = (times) => [...times].sort((a, b) => a - b)[times.length >> 1];
const folder = mkdtempSync(join(tmpdir(), "paint-"));
writeFileSync(join(folder, "empty.html"), "<!doctype html><title>-</title><p>Words");
const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] });

/** Milliseconds to the first contentful paint. @param {string} url */
async function painted(url) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: SLOWED });
  await page.goto(url, { waitUntil: "load" });
  const time = await page.evaluate(() => new Promise((told) => {
    new PerformanceObserver((list) => told(list.getEntries()[0].startTime)).observe({ type: "paint", buffered: true });
  }));
  await context.close();
  return Number(time);
}

let broken = false;
console.log(`To the first words, processor slowed ${SLOWED} times, median of ${TIMES}, ms:`);
for (const path of ["", ...PAGES]) {
  const url = path === "" ? pathToFileURL(join(folder, "empty.html")).href : fileUrl(path);
  const times = [];
  for (let nth = 0; nth < TIMES; nth += 1) times.push(await painted(url));
  const time = median(times);
  if (path !== "" && time > MOST) broken = true;
  console.log(`${time.toFixed(0).padStart(6)}  ${path || "an empty page"}`);
}
await browser.close();
rmSync(folder, { recursive: true });
process.exitCode = broken ? 1 : 0;
