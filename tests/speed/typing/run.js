// From a key to the result on a phone: Chromium, its processor slowed four times, six calculators:
//   SITE=/path/to/a/published/site node tests/speed/typing/run.js
// needs what `tests/run publish browser` makes. It prints figures, and fails where a promise is broken.
// Beside the whole way stands the engine alone, asked the same: what is left is the page's.
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { executablePath } from "../../browser/support/chromium.js";
import { fileUrl } from "../../browser/support/site.js";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const { chromium } = createRequire(join(root, "tests", "browser", "node_modules", "x.js"))("playwright-core");
const SLOWED = 4;
const KEYS = 60;
const MOST = 10;
/** A light one, those with the most formulas, and those whose tolerances take work. */
const CALCULATORS = ["guide-tube-length", "stroke-stops", "pump-operating-point", "hose-pressure-loss", "pitch-span", "nozzle-thrust"];

/** Types into the first field, key by key, and times each until its answer is laid out; in the page. */
async function typed({ name, keys }) {
  const widget = document.querySelector(`.widget[data-calculator="${name}"]`);
  const entry = widget.querySelector(".field .entry");
  const field = entry.closest(".field");
  entry.focus();
  const engine = await gaugeleaf.engine();
  const given = entry.value;
  const half = given.slice(0, Math.max(1, given.length - 1));
  const unit = field.querySelector("select.unit")?.value || undefined;
  const all = { way: [], engine: [] };
  for (let nth = 0; nth < keys; nth += 1) {
    const text = nth % 2 === 0 ? half : given;
    entry.value = text;
    await new Promise((next) => requestAnimationFrame(() => setTimeout(next)));
    let start = performance.now();
    entry.dispatchEvent(new Event("input", { bubbles: true }));
    // The page answers without a timer: what it has promised itself is done by then.
    for (let turn = 0; turn < 40; turn += 1) await null;
    document.documentElement.getBoundingClientRect();
    widget.getBoundingClientRect();
    all.way.push(performance.now() - start);
    await new Promise((next) => requestAnimationFrame(() => setTimeout(next)));
    start = performance.now();
    engine({ do: "calculate", name, inputs: { [field.dataset.input]: { text, unit, confirmed: false } }, want: ["figure", "working", "plot", "bound"] });
    all.engine.push(performance.now() - start);
  }
  return all;
}

const median = (times) => [...times].sort((a, b) => a - b)[times.length >> 1];
const late = (times) => [...times].sort((a, b) => a - b)[Math.floor(times.length * 0.95)];

const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] });
const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
let broken = false;
console.log(`From a key to its result, processor slowed ${SLOWED} times, ${KEYS} keys each, ms:`);
for (const name of CALCULATORS) {
  const page = await context.newPage();
  await page.goto(fileUrl(`calculators/${name}.html`));
  await page.waitForFunction(() => document.querySelector(".widget.is-live"));
  await page.waitForFunction(() => !("typing" in gaugeleaf) || gaugeleaf.pinned).catch(() => {});
  const slow = await context.newCDPSession(page);
  await slow.send("Emulation.setCPUThrottlingRate", { rate: SLOWED });
  await page.evaluate(typed, { name, keys: 10 });
  const ran = await page.evaluate(typed, { name, keys: KEYS });
  const [way, alone] = [median(ran.way), median(ran.engine)];
  if (way >= MOST) broken = true;
  console.log(`  ${name.padEnd(22)} median ${way.toFixed(1).padStart(5)}, 95 % ${late(ran.way).toFixed(1).padStart(5)}; the engine alone ${alone.toFixed(1).padStart(5)}${way >= MOST ? `  not under ${MOST}` : ""}`);
  await page.close();
}
await browser.close();
if (broken) process.exitCode = 1;
