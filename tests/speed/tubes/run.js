// How long a mark takes on a sheet of over two thousand tubes, from the tap to the frame that shows it, its
// processor slowed four times; beside it the least that a tap can do, one attribute of one tube of that sheet:
//   node tests/speed/tubes/run.js
// needs what `tests/run browser` installs, and a release build. It prints figures, and fails where a
// promise is broken.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const { chromium } = createRequire(join(root, "tests", "browser", "node_modules", "x.js"))("playwright-core");
const SLOWED = 4;
const MARKS = 20;
const MOST = 50;
const MORE = 50;

/** Takes a job with a sheet of over two thousand tubes in hand. */
async function large() {
  await gaugeleaf.bring("scripts/jobs.js");
  await gaugeleaf.engine();
  const own = gaugeleafPrepared.find((one) => one.name === document.documentElement.dataset.own)?.given ?? {};
  const values = { ...own, bundle_diameter: "60 in", tube_pitch: "1 in", tube_od: "3/4 in" };
  gaugeleaf.jobs.add({ name: "Large", given: Object.fromEntries(Object.entries(values).map(([name, text]) => [name, { text, when: "2026-11-26" }])) });
}

/** Inside the page: how long each of so many acts takes until the frame after it is painted. */
async function timed([what, times, from]) {
  const acts = {
    floor: (nth) => document.querySelector(`circle[data-tube="${40 + nth}"]`).setAttribute("opacity", nth % 2 ? ".5" : ".6"),
    tap: (nth) => document.querySelector(`circle[data-tube="${600 + nth}"]`).dispatchEvent(new MouseEvent("click", { bubbles: true })),
    run: () => document.querySelector(".run-done").click(),
  };
  const frame = () => new Promise((done) => { requestAnimationFrame(done); });
  const found = [];
  for (let nth = from; nth < from + times; nth += 1) {
    await new Promise((done) => { setTimeout(done, 650); });
    await frame();
    const start = performance.now();
    acts[what](nth);
    await frame();
    // what is posted in a frame comes after its paint
    await new Promise((done) => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = done;
      port2.postMessage(0);
    });
    found.push(performance.now() - start);
  }
  return found;
}

const at = (times, share) => [...times].sort((a, b) => a - b)[Math.floor(share * (times.length - 1))];
const folder = mkdtempSync(join(tmpdir(), "gaugeleaf-tubes-"));
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu", "--allow-file-access-from-files"] });
try {
  execFileSync(join(root, "target", "release", "gaugeleaf"), ["publish", "--to", folder], { cwd: root, stdio: ["ignore", "ignore", "inherit"] });
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true });
  const page = await context.newPage();
  const live = () => page.waitForFunction(() => document.querySelector(".tube-map")?.classList.contains("is-live"));
  await page.goto(pathToFileURL(join(folder, "run", "tube-map.html")).href);
  await live();
  await page.evaluate(large);
  await page.reload();
  await live();
  const tubes = await page.locator("circle[data-tube]").count();
  await page.locator(".tube-sheet").scrollIntoViewIfNeeded();
  const slow = await context.newCDPSession(page);
  await slow.send("Emulation.setCPUThrottlingRate", { rate: SLOWED });
  let isKept = true;
  // Of the page's own thread, in its own processor's time: others on the machine take no part in it.
  await slow.send("Performance.enable", { timeDomain: "threadTicks" });
  const spent = async () => 1000 * (await slow.send("Performance.getMetrics")).metrics.find(({ name }) => name === "TaskDuration").value;
  const measured = async (act) => {
    const found = { times: [], each: [] };
    for (let nth = 0; nth < MARKS; nth += 1) {
      const before = await spent();
      found.times.push(...await page.evaluate(timed, [act, 1, nth]));
      found.each.push(await spent() - before);
    }
    return found;
  };
  for (const [where, act] of [["the page", "tap"], ["the run", "run"]]) {
    if (act === "run") {
      await page.locator(".run-start").tap();
      await page.waitForFunction(() => document.querySelector(".run .run-done"));
    }
    const [floor, mark] = [await measured("floor"), await measured(act)];
    const [least, taken] = [at(floor.each, 0.5), at(mark.each, 0.5)];
    console.log(`${where}, ${tubes} tubes, processor slowed ${SLOWED} times: a mark takes ${taken.toFixed(0)} ms of the page's thread at the median, and is painted after ${at(mark.times, 0.25).toFixed(0)} at the lower quarter, ${at(mark.times, 0.5).toFixed(0)} at the median; the least that a tap can do ${least.toFixed(0)}, ${at(floor.times, 0.25).toFixed(0)} and ${at(floor.times, 0.5).toFixed(0)}`);
    // The page shows every tube at once, so it pays for a frame of them all.
    const holds = act === "run" ? taken < MOST : taken < MORE + least;
    console.log(`${holds ? "kept  " : "BROKEN"} ${act === "run" ? `a mark in the run is painted within ${MOST} ms` : `a mark on the page takes less than ${MORE} ms more than the least`}`);
    isKept = isKept && holds;
  }
  process.exitCode = isKept ? 0 : 1;
} finally {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
