// Over https the whole handbook is on the phone after one visit; a newer revision is offered, and taken at a tap alone.
import assert from "node:assert/strict";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { chromium } from "playwright-core";
import { violations } from "./support/access.js";
import { executablePath } from "./support/chromium.js";
import { edition, host } from "./support/publish.js";
import { fileUrl, root } from "./support/site.js";

const CHANGED = "content/fit/guide-tubes.md";
const first = edition();
/** With other scripts, too: a page of one edition does nothing with those of the other. */
const second = edition({
  "handbook.toml": (text) => text.replace('revision = "1"', 'revision = "2"'),
  "themes/scripts/search.js": () => `${readFileSync(join(root, "themes/scripts/search.js"), "utf8")}\nvoid "of now";\n`,
});
/** Of the same revision, with other words on one page. */
const reworded = edition({ [CHANGED]: (text) => text.replace(/^1\. .*$/m, "1. Look at the work order again.") });

/** @typedef {import("playwright-core").Page} Page */
/** @type {import("playwright-core").Browser} */
let browser;
before(async () => {
  browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] });
});
after(() => browser?.close());

/** A phone of its own, and a server. @param {(phone: { context: import("playwright-core").BrowserContext, page: Page, site: Awaited<ReturnType<typeof host>> }) => Promise<void>} use @param {string} [folder] */
async function visit(use, folder = first) {
  const site = await host(folder);
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  context.setDefaultTimeout(20_000);
  const page = await context.newPage();
  /** @type {string[]} */
  const faults = [];
  page.on("pageerror", (error) => faults.push(error.message));
  await use({ context, page, site });
  assert.deepEqual(faults, []);
  await context.close();
}

/** Waits until the front page's line says this. @param {Page} page @param {RegExp} words */
async function says(page, words) {
  await page.waitForFunction((words) => new RegExp(words).test(document.querySelector(".held")?.textContent?.replaceAll("\u00a0", " ") ?? ""), words.source).catch(async (error) => {
    throw new Error(`${await page.locator(".held").textContent()}: ${error.message}`);
  });
}

/** Opens the front page, and waits until all is there. @param {Page} page @param {Awaited<ReturnType<typeof host>>} site */
async function installed(page, site) {
  await page.goto(site.url("index.html"));
  await says(page, /^Ready without signal: revision 1\. Content [0-9a-f]{8}.*, [\d.]+ MB on this phone\./);
}

/** The caches that hold editions, and how much is in each. @param {Page} page */
const caches = (page) => page.evaluate(async () => {
  const names = (await globalThis.caches.keys()).filter((name) => !name.endsWith("standing"));
  return Promise.all(names.map(async (name) => (await (await globalThis.caches.open(name)).keys()).length));
});

/** What the worker lists. @param {string} folder */
function list(folder) {
  const script = readFileSync(`${folder}/worker.js`, "utf8");
  return /** @type {{ mark: string, files: Record<string, string> }} */ (JSON.parse(script.slice("self.gaugeleafHeld=".length, script.indexOf(";\n"))));
}

test("after one visit every page opens without a server, search answers, a calculator calculates and a job is kept", () =>
  visit(async ({ page, site }) => {
    await installed(page, site);
    const { files } = list(first);
    assert.deepEqual(await caches(page), [Object.keys(files).length]);
    assert.deepEqual(await violations(page), []);
    await site.up(false);
    const pages = Object.keys(files).filter((path) => path.endsWith(".html"));
    assert.ok(pages.length > 180, `${pages.length}`);
    for (const path of pages) {
      const answer = await page.goto(site.url(path), { waitUntil: "domcontentloaded" });
      assert.ok(answer?.ok(), path);
      assert.ok(await page.locator("h1").count(), path);
    }
    await page.goto(site.url("calculators/guide-tube-length.html?x=1"));
    await page.waitForFunction(() => document.querySelector(".widget")?.classList.contains("is-live"));
    const result = page.locator('.widget [data-output="length"] .result-text').first();
    const printed = await result.textContent();
    await page.locator('.widget [data-input="channel_depth"] input.entry').first().fill("9 in");
    await page.waitForFunction((printed) => {
      const text = document.querySelector('.widget [data-output="length"] .result-text')?.textContent ?? "";
      return text !== printed && /\d/.test(text);
    }, printed);
    assert.equal(await page.locator(".half").isVisible(), false);
    await page.locator(".bar-search").click();
    await page.locator("#search-words").fill("guide tube");
    await page.locator(".search-sheet a[href*=guide-tube]").first().waitFor();
    await page.goto(site.url("jobs.html"));
    await page.waitForFunction(() => document.querySelector(".job-count")?.textContent !== "");
    const entry = page.locator('.job-form [data-input="channel_depth"] input.entry');
    await entry.fill("14 in");
    await entry.blur();
    await page.waitForFunction(() => Object.keys(localStorage).some((key) => /job\//.test(key)));
    await page.reload();
    await page.waitForFunction(() => /** @type {HTMLInputElement | null} */ (document.querySelector('.job-form [data-input="channel_depth"] input.entry'))?.value === "14 in");
    await page.goto(site.url("index.html"));
    await says(page, /^Ready without signal: revision 1/);
  }));

test("without a server a folder opens its page, and an unknown address a page of ours", () =>
  visit(async ({ page, site }) => {
    await installed(page, site);
    await site.up(false);
    for (const [path, opens] of [["", "index.html"], ["fit/", "fit/"], ["fit", "fit/"], ["fit/guide-tubes", "fit/guide-tubes"]]) {
      await page.goto(site.url(path));
      assert.ok([site.url(opens), site.url()].includes(page.url()), page.url());
      assert.ok(await page.locator(".thumbs").count(), path);
      assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue("--of-handbook") !== ""), true, path);
    }
    for (const path of ["fit/nowhere.html", "nowhere", "deep/er/still.html?x=1", "ledger.json"]) {
      await page.goto(site.url(path));
      assert.equal(await page.locator("h1").innerText(), "Not in this handbook", path);
      assert.equal(await page.locator("main a[href$='emergency.html']").count(), 1);
    }
    assert.deepEqual(await violations(page), []);
    await page.locator("main a[href$='search.html']").click();
    await page.locator("#search-words").waitFor();
  }));

test("a newer revision is offered, comes at a tap and not before, and fetches only what changed", () =>
  visit(async ({ context, page, site }) => {
    await installed(page, site);
    const before = list(first).files;
    site.folder = second;
    site.asked.length = 0;
    await page.reload();
    await says(page, /^Revision 2 is ready\. You are on revision 1\./);
    const fetched = site.asked.filter((path) => path !== "worker.js");
    const after = list(second).files;
    assert.deepEqual(fetched.sort(), Object.keys(after).filter((path) => before[path] !== after[path]).sort());
    assert.ok(fetched.length < Object.keys(after).length);
    // pages go on, and are the old one's, whatever is opened and however often
    const other = await context.newPage();
    await other.goto(site.url("calculators/guide-tube-length.html"));
    const offer = other.locator(".held-offer");
    await offer.waitFor();
    assert.match(await other.locator(".imprint").innerText(), /Rev 1/);
    const foot = await other.locator(".card-foot").boundingBox();
    const main = await other.locator("main").boundingBox();
    assert.ok(foot && main && foot.y >= main.y + main.height - 1);
    await page.close();
    await other.close();
    const anew = await context.newPage();
    await anew.goto(site.url("index.html"));
    await says(anew, /^Revision 2 is ready/);
    const open = await context.newPage();
    await open.goto(site.url("fit/guide-tubes.html"));
    await open.locator(".held-offer").waitFor();
    await anew.locator(".held-key").click();
    await says(anew, /^Ready without signal: revision 2/);
    assert.match(await anew.locator(".card-head").innerText(), /Rev 2/);
    // the other page stays with what it came from: its scripts are of its own edition
    await open.evaluate(() => gaugeleaf.bring("scripts/search.js"));
    await open.evaluate(() => gaugeleaf.finder());
    assert.equal(await open.locator(".half").isVisible(), false);
    assert.equal((await caches(anew)).length, 2);
    await open.locator(".held-offer .held-key").click();
    await open.waitForFunction(() => /Rev 2/.test(document.querySelector(".imprint")?.textContent ?? ""));
    await anew.reload();
    await says(anew, /^Ready without signal: revision 2/);
    await anew.waitForFunction(async () => (await globalThis.caches.keys()).length === 2);
    assert.deepEqual(await caches(anew), [Object.keys(after).length]);
    await site.up(false);
    await anew.goto(site.url("fit/guide-tubes.html"));
    assert.match(await anew.locator(".imprint").innerText(), /Rev 2/);
  }));

test("other words under the same revision are told by their content, and a page alone is fetched", () =>
  visit(async ({ page, site }) => {
    await installed(page, site);
    site.folder = reworded;
    site.asked.length = 0;
    await page.reload();
    await says(page, /^Revision 1 has changed: its newer content [0-9a-f]{8} is ready\. You are on content [0-9a-f]{8}\./);
    assert.ok(site.asked.includes("fit/guide-tubes.html"));
    assert.ok(!site.asked.includes("scripts/engine.js") && !site.asked.includes("run/tube-map.html"), site.asked.join(" "));
    // a server that goes back to what is in use offers nothing
    site.folder = first;
    await page.reload();
    await says(page, /^Ready without signal: revision 1/);
    await page.waitForFunction(async () => (await globalThis.caches.keys()).length === 2);
  }));

test("a file that the server lacks, or has of another publish, keeps all back; it is told, and mended by a tap", () =>
  visit(async ({ page, site }) => {
    site.missing.add("fit/guide-tubes.html");
    await page.goto(site.url("index.html"));
    await says(page, /^Not ready without signal\. The server does not have fit\/guide-tubes\.html\./);
    assert.equal(await page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.active ?? null), null);
    site.missing.clear();
    site.asked.length = 0;
    await page.locator(".held-key").click();
    await says(page, /^Ready without signal: revision 1/);
    // what had come was not fetched again
    assert.ok(site.asked.length < 300, `${site.asked.length}`);
    site.missing.add("fit/guide-tubes.html");
    site.folder = reworded;
    await page.reload();
    await says(page, /^Ready without signal: revision 1.* A newer revision could not be fetched\. The server does not have fit\/guide-tubes\.html\. Tell whoever runs it\. What is on this phone goes on\./);
    assert.deepEqual(await violations(page), []);
  }));

test("a server in the middle of a change makes no mixture", () =>
  visit(async ({ page, site }) => {
    const folder = mkdtempSync(join(tmpdir(), "half-"));
    cpSync(reworded, folder, { recursive: true });
    cpSync(`${first}/fit/guide-tubes.html`, `${folder}/fit/guide-tubes.html`);
    site.folder = folder;
    await page.goto(site.url("index.html"));
    await says(page, /^Not ready without signal\. fit\/guide-tubes\.html is of another publish/);
    rmSync(folder, { recursive: true });
  }));

test("what the browser threw away is told and fetched again; without a server a page says what to do", () =>
  visit(async ({ page, site }) => {
    await installed(page, site);
    const drop = () => page.evaluate(async () => { for (const name of await globalThis.caches.keys()) await globalThis.caches.delete(name); });
    await drop();
    site.missing.add("rules.html");
    await page.reload();
    await says(page, /^Not ready without signal\. This browser threw the handbook away\. The server does not have rules\.html\./);
    site.missing.clear();
    await page.locator(".held-key").click();
    await says(page, /^Ready without signal: revision 1/);
    await drop();
    await site.up(false);
    await page.goto(site.url("fit/guide-tubes.html")).catch(() => {});
    await page.locator("h1", { hasText: "The handbook is not on this phone" }).waitFor();
    await site.up(true);
    await page.goto(site.url("index.html"));
    await says(page, /^Ready without signal: revision 1/);
  }));

for (const [name, error, words] of [
  ["that is full", "QuotaExceededError", /^Not ready without signal\. This phone has no room for it\. Free some\./],
  ["that refuses", "SecurityError", /^Not ready without signal\. This browser keeps nothing for this address\./],
]) {
  test(`a phone ${name} is told, and the pages go on with signal`, () =>
    visit(async ({ page, site }) => {
      const folder = mkdtempSync(join(tmpdir(), "full-"));
      cpSync(first, folder, { recursive: true });
      const refusing = `Cache.prototype.put = async () => { throw new DOMException("no", "${error}"); };\n`;
      writeFileSync(`${folder}/worker.js`, refusing + readFileSync(`${first}/worker.js`, "utf8"));
      site.folder = folder;
      await page.goto(site.url("index.html"));
      await says(page, /** @type {RegExp} */ (words));
      await page.goto(site.url("fit/guide-tubes.html"));
      assert.ok(await page.locator("h1").count());
      rmSync(folder, { recursive: true });
    }));
}

test("a browser that may drop the handbook is told with what to do, and one that promised isn't", () =>
  visit(async ({ page, site }) => {
    const promise = (/** @type {boolean} */ kept) => page.addInitScript((kept) => {
      Object.defineProperty(navigator, "storage", { configurable: true, value: { persisted: async () => false, persist: async () => { Object.assign(globalThis, { asked: true }); return kept; } } });
    }, kept);
    await promise(false);
    await installed(page, site);
    await says(page, /The browser may drop it: put it on the home screen/);
    assert.equal(await page.evaluate(() => "asked" in globalThis), true);
    await promise(true);
    await page.reload();
    await says(page, /^Ready without signal: revision 1/);
    await page.waitForFunction(() => "asked" in globalThis);
    assert.doesNotMatch((await page.locator(".held").textContent()) ?? "", /may drop/);
  }));

test("the handbook can be installed: name, start, and icons of its own", () =>
  visit(async ({ context, page, site }) => {
    await installed(page, site);
    const session = await context.newCDPSession(page);
    const { url, data, errors } = await session.send("Page.getAppManifest");
    assert.deepEqual([url, errors], [site.url("handbook.webmanifest"), []]);
    const manifest = JSON.parse(data ?? "{}");
    assert.equal(manifest.name, "Wrenfold Yard Lancing Handbook");
    assert.ok(manifest.short_name.length <= 12, manifest.short_name);
    for (const { src, sizes } of manifest.icons) {
      const size = await page.evaluate(async (src) => {
        const image = Object.assign(new Image(), { src });
        await image.decode();
        return `${image.naturalWidth}x${image.naturalHeight}`;
      }, src);
      if (sizes !== "any") assert.equal(size, sizes, src);
    }
    const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
    assert.deepEqual(installabilityErrors.filter(({ errorId }) => errorId !== "in-incognito"), []);
  }));

test("from a folder, and where no worker can be, the front page says what is missing", async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(fileUrl("index.html"));
  await says(page, /^Revision 1, in a folder: it works without signal\. A folder gets no newer revision by itself/);
  await context.close();
  await visit(async ({ page, site }) => {
    await page.addInitScript(() => Object.defineProperty(globalThis, "isSecureContext", { value: false }));
    await page.goto(site.url("index.html"));
    await says(page, /^Not on this phone: works only with signal\. The address begins with http\./);
  });
});

test("what the line says moves nothing that stands under it", () =>
  visit(async ({ page, site }) => {
    await page.addInitScript(() => {
      Object.assign(globalThis, { moved: 0 });
      new PerformanceObserver((list) => {
        for (const shift of list.getEntries()) Object.assign(globalThis, { moved: /** @type {any} */ (globalThis).moved + /** @type {any} */ (shift).value });
      }).observe({ type: "layout-shift", buffered: true });
    });
    await installed(page, site);
    const moved = () => page.evaluate(() => /** @type {any} */ (globalThis).moved);
    assert.equal(await moved(), 0);
    // the second time it knows a day, too
    await page.reload();
    await says(page, /newest on .* may drop it/);
    assert.equal(await moved(), 0);
  }));
