// A copy of a site that is half updated says so, on whichever page, and works nothing out; what is printed stays.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";
import { executablePath } from "./support/chromium.js";

const root = fileURLToPath(new URL("../../", import.meta.url));
const program = join(process.env.CARGO_TARGET_DIR ?? join(root, "target"), "release", "gaugeleaf");
const folder = mkdtempSync(join(tmpdir(), "copies-"));
const calculator = "calculators/guide-tube-length.html";

/** @typedef {import("playwright-core").Page} Page */

/** Publishes a small handbook, with these files put in place of its own. @param {string} name @param {Record<string, string>} files */
function publish(name, files) {
  const handbook = join(folder, `${name}.handbook`);
  mkdirSync(handbook);
  for (const path of ["handbook.toml", "content"]) cpSync(join(root, path), join(handbook, path), { recursive: true });
  // values that are written out would keep another edition's from being published
  for (const path of readdirSync(join(handbook, "content"), { recursive: true }).map(String).filter((path) => path.endsWith(".md"))) {
    const place = join(handbook, "content", path);
    writeFileSync(place, readFileSync(place, "utf8").replace(/\[[^\][]*\]\((value|own):/g, "[]($1:"));
  }
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(handbook, path)), { recursive: true });
    writeFileSync(join(handbook, path), text);
  }
  execFileSync(program, ["publish", "--to", join(folder, name)], { cwd: handbook, stdio: ["ignore", "pipe", "pipe"] });
}

/** @type {import("playwright-core").Browser} */
let browser;

before(async () => {
  const own = (path) => readFileSync(join(root, path), "utf8");
  publish("old", {});
  // another edition: its look, a script, a value, and a page's words
  const styles = ["10-tokens.css", "apart/checks.css", "apart/question.css"];
  const scripts = ["look", "store", "load", "follow", "widget", "show", "fields", "address", "ticks", "start", "search", "answers"];
  publish("new", {
    ...Object.fromEntries(styles.map((path) => [`themes/styles/${path}`, `${own(`themes/styles/${path}`)}\n.of-now { color: red; }\n`])),
    ...Object.fromEntries(scripts.map((name) => [`themes/scripts/${name}.js`, `${own(`themes/scripts/${name}.js`)}\nvoid "of now";\n`])),
    "content/equipment/yard-drive.toml": own("content/equipment/yard-drive.toml").replace('stock_guide_tube = { value = "12 3/4 in"', 'stock_guide_tube = { value = "11 in"'),
  });
  publish("later", { "content/fit/guide-tubes.md": own("content/fit/guide-tubes.md").replace(/^1\. .*$/m, "1. Look at the work order again.") });
  browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] });
});
after(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true });
});

/**
 * Opens a page of a folder and looks once everything has come.
 * @template T
 * @param {string} name @param {string} path @param {(page: Page) => Promise<T>} use
 */
async function visit(name, path, use) {
  const context = await browser.newContext();
  context.setDefaultTimeout(15_000);
  const page = await context.newPage();
  await page.goto(pathToFileURL(join(folder, name, path)).href);
  const found = await use(page);
  await context.close();
  return found;
}

/** A copy of one edition in which these files are of the other, or gone. @param {string} of @param {string[]} files @param {string} [from] */
function mixed(of, files, from) {
  rmSync(join(folder, "mixed"), { recursive: true, force: true });
  cpSync(join(folder, of), join(folder, "mixed"), { recursive: true });
  for (const path of files) {
    if (from === undefined) rmSync(join(folder, "mixed", path));
    else cpSync(join(folder, from, path), join(folder, "mixed", path));
  }
}

/** Waits until a page says that its copy is half updated, frame by frame: a browser without windows is idle only between frames. @param {Page} page */
const told = (page) => page.waitForFunction(() => document.querySelector(".half")?.checkVisibility());

/** Asks a calculator something, and gives what it shows then. @param {Page} page */
async function asked(page) {
  const entry = page.locator('.widget [data-input="channel_depth"] input.entry').first();
  // without its styles a page may show no entry
  await entry.fill("14", { timeout: 500 }).catch(() => entry.dispatchEvent("focusin"));
  await page.waitForFunction(() => new Promise((done) => setTimeout(() => done(true), 700)));
  return page.evaluate(() => ({
    length: document.querySelector('.widget [data-output="length"] .result-text')?.textContent?.replaceAll("\u00a0", " "),
    verdicts: [...document.querySelectorAll(".widget .verdicts")].filter((one) => one.checkVisibility()).length,
    live: document.querySelector(".widget")?.classList.contains("is-live"),
  }));
}

test("a copy of one edition says nothing and calculates, from a folder", async () => {
  for (const name of ["old", "new"]) {
    for (const path of ["index.html", "fit/guide-tubes.html", "search.html", "tables/index.html"]) {
      await visit(name, path, async (page) => {
        await page.evaluate(() => gaugeleaf.marked());
        assert.ok(await page.locator(".half").isHidden(), `${name} ${path}`);
      });
    }
    await visit(name, calculator, async (page) => {
      await page.waitForFunction(() => document.querySelector(".widget")?.classList.contains("is-live"));
      assert.equal((await asked(page)).live, true);
      assert.ok(await page.locator(".half").isHidden());
    });
  }
});

const PARTS = [
  ...["look", "store", "load", "follow", "fields", "address", "show", "widget", "start", "edition", "engine", "catalog"].map((name) => `scripts/${name}.js`),
  "styles/handbook.css",
  "styles/calculator.css",
];

for (const [of, from] of [["new", "old"], ["old", "new"]]) {
  test(`of a copy of the ${of} edition each file that is of the ${from} one is told, and nothing is worked out`, async () => {
    const printed = await visit(of, calculator, (page) => page.evaluate(() => document.querySelector('.widget [data-output="length"] .result-text')?.textContent?.replaceAll("\u00a0", " ")));
    for (const path of [...PARTS, calculator]) {
      mixed(of, [path], from);
      await visit("mixed", calculator, async (page) => {
        await told(page);
        const { length, verdicts, live } = await asked(page);
        assert.equal(live, false, path);
        assert.equal(verdicts, 0, path);
        if (path !== calculator) assert.equal(length, printed, path);
      });
    }
  });
}

test("each file that is missing is told, and nothing is worked out", async () => {
  for (const path of PARTS) {
    mixed("new", [path]);
    await visit("mixed", calculator, async (page) => {
      if (!/engine|catalog/.test(path)) await told(page);
      const { live } = await asked(page);
      await told(page);
      assert.equal(live, false, path);
      // a page without its styles or engine still prints what it prints
      assert.ok((await page.locator('.widget [data-output="length"] .result-text').textContent())?.trim());
    });
  }
});

test("a page of an older edition says so among newer ones, though all scripts are the same", async () => {
  mixed("later", ["fit/guide-tubes.html"], "old");
  await visit("mixed", "fit/guide-tubes.html", told);
  await visit("later", "fit/guide-tubes.html", async (page) => {
    await page.evaluate(() => gaugeleaf.marked());
    assert.ok(await page.locator(".half").isHidden());
  });
});

test("an index of another edition is told by whoever searches, and finds nothing", async () => {
  for (const path of ["scripts/search-index.js", "scripts/search-engine.js", "scripts/search.js"]) {
    for (const from of [undefined, "old"]) {
      mixed(path.includes("index") ? "later" : "new", [path], from);
      await visit("mixed", "index.html", async (page) => {
        await page.evaluate(() => gaugeleaf.marked());
        await page.evaluate(async () => {
          await gaugeleaf.bring("scripts/search.js").catch(() => {});
          await gaugeleaf.finder().catch(() => {});
        });
        await told(page);
      });
    }
  }
});

test("values of a job in hand don't show on a half updated copy", async () => {
  mixed("new", ["scripts/catalog.js"], "old");
  await visit("mixed", "jobs.html", async (page) => {
    await page.evaluate(async () => {
      await gaugeleaf.bring("scripts/jobs.js");
      gaugeleaf.jobs.add({ name: "Dock", given: { channel_depth: { text: "14 in", when: "2026-11-26" } } });
    });
    await page.goto(pathToFileURL(join(folder, "mixed", "index.html")).href);
    await told(page);
    await page.waitForFunction(() => document.documentElement.classList.contains("job-ready"));
    assert.equal(await page.locator("main .job-value").count(), 0);
    assert.match(await page.locator(".hand").innerText(), /STOP/);
  });
});

test("without scripts nothing is said of editions", async () => {
  const context = await browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  mixed("new", ["scripts/catalog.js", "scripts/store.js"], "old");
  await page.goto(pathToFileURL(join(folder, "mixed", calculator)).href);
  assert.ok(await page.locator(".half").isHidden());
  assert.ok(await page.locator(".widget .result-text").first().isVisible());
  await context.close();
});

/** Changes a page of a whole copy of the old edition. @param {(html: string) => string} change */
function changed(change) {
  mixed("old", []);
  const place = join(folder, "mixed", calculator);
  writeFileSync(place, change(readFileSync(place, "utf8")));
}

test("a page that knows no editions works nothing out with scripts that do", async () => {
  changed((html) => html.replace(/ data-edition="[^"]*"/, ""));
  await visit("mixed", calculator, async (page) => {
    await told(page);
    assert.notEqual((await asked(page)).live, true);
  });
});

test("what a host or an extension puts into a page doesn't make the copy half", async () => {
  const foreign = '<script src="https://host.invalid/beacon.js"></script><link rel="stylesheet" href="https://host.invalid/own.css">';
  changed((html) => html.replace("</head>", `${foreign}</head>`));
  await visit("mixed", calculator, async (page) => {
    await page.waitForFunction(() => document.querySelector(".widget")?.classList.contains("is-live"));
    assert.ok(await page.locator(".half").isHidden());
  });
});
