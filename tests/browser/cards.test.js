// A printed card and its age: its code is read off the paper, and says whether the card is current.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, test } from "node:test";
import { fileURLToPath } from "node:url";
import { violations } from "./support/access.js";
import { plain } from "./support/widget.js";

const root = fileURLToPath(new URL("../../", import.meta.url));
const program = join(process.env.CARGO_TARGET_DIR ?? join(root, "target"), "release", "gaugeleaf");
const decode = createRequire(import.meta.url)("jsqr");

// The demonstration, reached at an address, issued twice: between the two a rating and a hazard have changed.
const work = mkdtempSync(join(tmpdir(), "cards-"));
after(() => rmSync(work, { recursive: true }));
const handbook = join(work, "handbook");
for (const part of ["content", "calculators/catalog"]) cpSync(join(root, part), join(handbook, part), { recursive: true });
/** @param {string} path @param {(text: string) => string} change */
const edit = (path, change) => writeFileSync(join(handbook, path), change(readFileSync(path === "handbook.toml" ? join(work, path) : join(handbook, path), "utf8")));
/** @param {string[]} words */
const run = (...words) => execFileSync(program, words, { cwd: handbook, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });

/** @param {string} text @param {string} from @param {string} to */
function put(text, from, to) {
  assert.ok(text.includes(from), from);
  return text.replace(from, to);
}

writeFileSync(join(work, "handbook.toml"), readFileSync(join(root, "handbook.toml")));
edit("handbook.toml", (text) => `address = "https://yard.example/handbook"\n${text}`);
const [old, now] = [join(work, "old"), join(work, "now")];
run("publish", "--issue", "2026-11-01", "--to", old);
edit("content/equipment/yard-drive.toml", (text) => put(text, 'stock_guide_tube = { value = "12 3/4 in"', 'stock_guide_tube = { value = "12 1/2 in"'));
edit("content/stroke/prove-the-stroke.md", (text) => put(text, "> **WARNING** First stroke under air", "> **DANGER** First stroke under air"));
edit("handbook.toml", (text) => put(`address = "https://yard.example/handbook"\n${text}`, 'revision = "1"', 'revision = "2"'));
mended();
run("publish", "--issue", "2026-11-30", "--to", now);
process.env.SITE = now;
const { reader } = await import("./support/browser.js");
const it = reader();

/** Texts that quote a value follow it, as each finding says. */
function mended() {
  let found = "";
  try {
    found = run("inspect", "--json");
  } catch (error) {
    found = String(/** @type {{ stdout: string }} */ (error).stdout);
  }
  for (const line of found.split("\n").filter(Boolean)) {
    const { code, file, line: at, text, help } = JSON.parse(line);
    if (code !== "value-differs") continue;
    const to = /^write (.*), or leave/.exec(help)?.[1] ?? "";
    edit(file, (whole) => whole.split("\n").map((one, nth) => (nth === at - 1 ? one.replace(text, to) : one)).join("\n"));
  }
}

/** What a published site's page is known by. @param {string} site @param {string} url */
function fingerprint(site, url) {
  const ledger = JSON.parse(readFileSync(join(site, "ledger.json"), "utf8"));
  return ledger.pages.find((/** @type {{ page: string }} */ one) => one.page === url).fingerprint;
}

/** The code of a page, read off its print. @param {import("playwright-core").Page} page */
async function code(page) {
  const folder = mkdtempSync(join(work, "print-"));
  const pdf = join(folder, "card.pdf");
  writeFileSync(pdf, await page.pdf({ preferCSSPageSize: true }));
  execFileSync("pdftoppm", ["-r", "110", "-gray", pdf, join(folder, "sheet")]);
  for (const sheet of readdirSync(folder).filter((name) => name.endsWith(".pgm"))) {
    const bytes = readFileSync(join(folder, sheet));
    const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString("latin1"));
    const [width, height] = [Number(head?.[1]), Number(head?.[2])];
    const grey = bytes.subarray(head?.[0].length);
    const pixels = new Uint8ClampedArray(width * height * 4);
    for (let at = 0; at < width * height; at += 1) pixels.fill(grey[at] ?? 255, at * 4, at * 4 + 4);
    const read = decode(pixels, width, height);
    if (read) return read.data;
  }
  return null;
}

/** @param {import("playwright-core").Page} page @param {RegExp} head */
async function answer(page, head) {
  await page.locator(".card-answer h2").filter({ hasText: head }).waitFor();
  return plain(await page.locator(".card-answer").innerText());
}

for (const url of ["fit/guide-tubes.html", "stroke/prove-the-stroke.html", "calculators/guide-tube-length.html"]) {
  test(`the code on the printed ${url} leads to what its card is`, () =>
    it.visit(url, async (page) => {
      const read = await code(page);
      assert.equal(read, `https://yard.example/handbook/card.html#${fingerprint(now, url)}`);
      await page.goto(it.url(`card.html${new URL(String(read)).hash}`));
      assert.match(await answer(page, /^Current$/), /issued on 2026-11-30, in revision 2/);
    }));
}

test("each printed sheet says revision, issue, day of print, fingerprint, and that it is uncontrolled", () =>
  it.visit("fit/guide-tubes.html", async (page) => {
    const pdf = join(work, "foot.pdf");
    writeFileSync(pdf, await page.pdf({ preferCSSPageSize: true }));
    const text = execFileSync("pdftotext", ["-layout", pdf, "-"], { encoding: "utf8" });
    const sheets = text.split("\f").filter((sheet) => sheet.trim() !== "");
    assert.ok(sheets.length > 1);
    for (const sheet of sheets) {
      const words = plain(sheet).replace(/\s+/g, " ");
      const year = new Date().getFullYear();
      for (const one of ["Revision 2", "Issued 2026-11-30 in revision 2", `Fingerprint ${fingerprint(now, "fit/guide-tubes.html")}`, "Uncontrolled when printed"]) assert.ok(words.includes(one), `${one} in ${words}`);
      assert.match(words, new RegExp(`Printed .*${year}.*:\\d\\d`));
    }
  }));

test("a card from before a rating and a hazard changed is out of date, and told what it says and what holds", () =>
  it.visit(`card.html#${fingerprint(old, "stroke/prove-the-stroke.html")}`, async (page) => {
    const hazard = await answer(page, /^Out of date$/);
    assert.match(hazard, /Don't work by this card/);
    assert.match(hazard, /On the card: WARNING First stroke under air/);
    assert.match(hazard, /Now: DANGER First stroke under air/);
    assert.deepEqual(await violations(page), []);
    const mark = fingerprint(old, "fit/guide-tubes.html");
    await page.locator("#card-asked").fill(mark.replace("-", "").toLowerCase());
    await page.waitForFunction(() => /Guide tube length/.test(document.querySelector(".card-answer")?.textContent ?? ""));
    const value = await answer(page, /^Out of date$/);
    assert.match(value, /On the card: Guide tube length: 21 3\/8 in/);
    assert.match(value, /Now: Guide tube length: 21 1\/8 in/);
  }));

test("what changed between the issues are the cards whose fingerprints changed, and no other", () => {
  const pages = (/** @type {string} */ site) => new Map(JSON.parse(readFileSync(join(site, "ledger.json"), "utf8")).pages.map((/** @type {{ page: string, fingerprint: string }} */ one) => [one.page, one.fingerprint]));
  const [before, after] = [pages(old), pages(now)];
  const changed = [...after].filter(([url, mark]) => before.get(url) !== mark).map(([url]) => url).sort();
  const issues = readFileSync(join(handbook, "history.jsonl"), "utf8").trim().split("\n").map((line) => JSON.parse(line));
  assert.deepEqual(Object.keys(issues[1].pages).sort(), changed);
  assert.ok(changed.includes("fit/guide-tubes.html") && changed.includes("stroke/prove-the-stroke.html") && !changed.includes("emergency.html"));
});

test("the answer stands on the first screen of a phone, wherever the page's own line is", () =>
  it.visit(`card.html#${fingerprint(now, "stroke/prove-the-stroke.html")}`, async (page) => {
    await answer(page, /^Current$/);
    await page.waitForFunction(() => document.readyState === "complete" && scrollY === 0);
    const box = await page.locator(".card-answer h2").boundingBox();
    assert.ok(box && box.y + box.height < 640, JSON.stringify(box));
  }, { viewport: { width: 360, height: 720 }, hasTouch: true }));

test("half a fingerprint is asked on, a wrong one is no card, and neither keeps an earlier answer", () =>
  it.visit(`card.html#${fingerprint(now, "emergency.html")}`, async (page) => {
    await answer(page, /^Current$/);
    const entry = page.locator("#card-asked");
    await entry.fill("3F2");
    assert.equal(await page.locator(".card-answer").textContent(), "");
    await entry.fill("3F2A-91BC");
    assert.match(await answer(page, /^Not known$/), /Don't work by this card/);
    await entry.fill("XYZW-1234");
    await answer(page, /^No fingerprint$/);
    // A thumb writes the letter for the figure.
    await entry.fill(fingerprint(now, "emergency.html").replaceAll("0", "o"));
    await answer(page, /^Current$/);
  }));

test("without the list nothing is called current, and what comes later answers", () =>
  it.visit("card.html", async (page) => {
    await page.evaluate(() => {
      const append = document.head.append.bind(document.head);
      document.head.append = (script) => {
        if (!/cards\.js/.test(script.src)) return append(script);
        document.head.append = append;
        setTimeout(script.onerror);
      };
    });
    const mark = fingerprint(now, "emergency.html");
    await page.locator("#card-asked").fill(mark);
    assert.match(await answer(page, /^Not looked up$/), /don't work by the card/);
    await page.locator("#card-asked").fill(mark.toLowerCase());
    await answer(page, /^Current$/);
  }));

test("from a folder, and without scripts, every page stands there with its fingerprint and issue", async () => {
  await it.visit(`card.html#${fingerprint(old, "fit/guide-tubes.html")}`, (page) => answer(page, /^Out of date$/), { from: "file" });
  await it.visit("card.html", async (page) => {
    assert.ok(await page.locator(".card-ask").isHidden());
    const rows = plain(await page.locator(".rows").innerText());
    assert.ok(rows.includes(`Fingerprint ${fingerprint(now, "emergency.html")}`));
    assert.match(rows, /Issued 2026-11-01 in revision 1/);
  }, { javaScriptEnabled: false });
});
