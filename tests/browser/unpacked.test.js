// A browser that can't unpack gzip, as on iPhones before iOS 16.4, gets the same from a script of ours.
import assert from "node:assert/strict";
import { test } from "node:test";
import { gunzipSync, gzipSync } from "node:zlib";
import { reader } from "./support/browser.js";
import { pages, read } from "./support/site.js";
import { Widget } from "./support/widget.js";

const it = reader();
const tube = "calculators/guide-tube-length.html";
const carried = ["engine", "search-engine", "share-engine", "catalog", "search-index", "search-texts"];

/** @typedef {import("playwright-core").Page} Page */

/** A page in such a browser. @param {Page} page */
async function older(page) {
  await page.addInitScript(() => { Reflect.deleteProperty(globalThis, "DecompressionStream"); });
  await page.reload();
  assert.equal(await page.evaluate(() => "DecompressionStream" in globalThis), false);
}

/** Whether the script of ours was fetched. @param {Page} page */
const fetched = (page) => page.evaluate(() => document.querySelector("script[src*='scripts/inflate.js']") !== null);

/** What a page says to an entry, a refused one, and a query. @param {Page} page */
async function answers(page) {
  const widget = await Widget.live(page, "guide-tube-length");
  await widget.type("channel_depth", "14 3/8");
  const told = [await widget.results(), await widget.verdicts(), await widget.working(), await widget.figure()];
  await widget.type("channel_depth", "14psi");
  told.push(await widget.problem("channel_depth"));
  const asked = await page.evaluate(async () => {
    const [find, share] = [await gaugeleaf.finder(), await gaugeleaf.sharer()];
    await gaugeleaf.excerpts();
    return [find({ do: "search", query: "guide tube length" }), share({ do: "qr", text: "channel_depth=14" })];
  });
  return [...told, ...asked];
}

for (const from of /** @type {const} */ (["http", "file"])) {
  test(`calculators, search and codes answer the same without the browser's own unpacking, over ${from}`, async () => {
    const usual = await it.visit(tube, async (page) => {
      const told = await answers(page);
      assert.equal(await fetched(page), false, "nobody else pays for it");
      return told;
    }, { from });
    const without = await it.visit(tube, async (page) => {
      await older(page);
      const told = await answers(page);
      assert.equal(await fetched(page), true);
      return told;
    }, { from });
    assert.deepEqual(without, usual);
    assert.ok(JSON.stringify(usual).includes("channel"));
  });
}

test("everything that is carried comes out the same to the byte", () =>
  it.visit(tube, async (page) => {
    await page.evaluate(() => gaugeleaf.bring("scripts/inflate.js"));
    for (const name of carried) {
      const packed = read(`scripts/${name}.js`).toString("latin1").match(/"([A-Za-z0-9+/=]{200,})"/)?.[1] ?? "";
      assert.equal(await inflated(page, packed), gunzipSync(Buffer.from(packed, "base64")).toString("base64"), name);
    }
  }));

test("what is stored, packed by fixed codes, empty or with a long run comes out the same", () =>
  it.visit(tube, async (page) => {
    await page.evaluate(() => gaugeleaf.bring("scripts/inflate.js"));
    const words = Buffer.concat(pages.slice(0, 3).map(read));
    for (const bytes of [Buffer.alloc(0), Buffer.from("a"), Buffer.alloc(70_000, 7), words]) {
      for (const way of [{ level: 0 }, { level: 1 }, { level: 9 }, { strategy: 4 }, { strategy: 2 }]) {
        const packed = gzipSync(bytes, way).toString("base64");
        assert.equal(await inflated(page, packed), bytes.toString("base64"), `${bytes.length} bytes, ${JSON.stringify(way)}`);
      }
    }
  }));

test("damaged bytes are refused, whichever bit is wrong, and cut ones", () =>
  it.visit(tube, async (page) => {
    await page.evaluate(() => gaugeleaf.bring("scripts/inflate.js"));
    const packed = gzipSync(read("index.html"));
    for (let turn = 0; turn < 200; turn += 1) {
      const damaged = Buffer.from(packed);
      // The head's time and system, bytes 4 to 9, mean nothing to anybody.
      damaged[10 + ((turn * 97) % (packed.length - 10))] ^= 1 << (turn % 8);
      const found = await inflated(page, damaged.toString("base64"));
      // A bit that no code uses leaves the text what it was.
      if (found !== read("index.html").toString("base64")) assert.equal(found.slice(0, 40), "RangeError: damaged", `turn ${turn}`);
    }
    for (const length of [0, 5, 18, 200, packed.length - 1]) {
      assert.match(await inflated(page, packed.subarray(0, length).toString("base64")), /^RangeError/);
    }
  }));

/** What the script makes of packed bytes, or its fault. @param {Page} page @param {string} packed in base64 */
const inflated = (page, packed) =>
  page.evaluate((packed) => {
    const bytes = Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0));
    try {
      let letters = "";
      for (const byte of new Uint8Array(gaugeleaf.inflate(bytes))) letters += String.fromCharCode(byte);
      return btoa(letters);
    } catch (fault) {
      return String(fault);
    }
  }, packed);
