// What a phone has to fetch stays small.
import assert from "node:assert/strict";
import { posix } from "node:path";
import { test } from "node:test";
import { gzipSync } from "node:zlib";
import { files, pages, read } from "./support/site.js";

const kilobyte = 1000;
const packed = (path) => gzipSync(read(path), { level: 9 }).length;

/** The engine, and the handbook's data that it opens, are weighed on their own. */
const carried = new Set(["engine", "search-engine", "share-engine", "catalog", "search-index", "search-texts"].map((name) => `scripts/${name}.js`));

/** The styles and scripts that a page loads, by path from the site's root. */
function loads(path) {
  const text = read(path).toString("utf8");
  return [...text.matchAll(/<(?:script[^>]*\ssrc|link[^>]*rel="?stylesheet"?[^>]*\shref)="([^"]+)"/g)]
    .map((found) => posix.join(posix.dirname(path), found[1].replace(/\?.*/, "")))
    .filter((file) => !carried.has(file));
}

test("a page with its styles and scripts is under 40 kB, and one on a whole job under 50", () => {
  // The ledger lists every value of the handbook, for the trainer's desk.
  for (const path of pages.filter((path) => !path.startsWith("ledger"))) {
    const parts = [path, ...new Set(loads(path))].map((part) => [part, packed(part)]);
    const total = parts.reduce((sum, [, size]) => sum + Number(size), 0);
    // a job as a whole: the form over every measurement, the sheet of every calculator
    const most = /styles\/(job-form|setup)\.css/.test(read(path).toString("utf8")) ? 50 : 40;
    assert.ok(total < most * kilobyte, `${path} weighs ${total} bytes: ${parts.join(" ")}`);
  }
});

for (const [what, name, most] of [
  ["the engine", "engine", 156],
  ["the search's half of the engine", "search-engine", 66],
  ["the part that draws QR codes", "share-engine", 45],
  // some 2 kB a calculator
  ["the catalog", "catalog", 92],
  ["the search index", "search-index", 206],
  ["the texts of the search", "search-texts", 160],
]) {
  test(`${what} is under ${most} kB`, () => {
    const size = packed(`scripts/${name}.js`);
    assert.ok(size < most * kilobyte, `${size} bytes`);
  });
}

test("no font is sent, and no picture is over 60 kB", () => {
  for (const path of files) {
    assert.doesNotMatch(path, /\.(woff2?|ttf|otf)$/);
    if (/\.(svg|png|jpe?g|webp|gif|avif)$/.test(path)) {
      assert.ok(packed(path) < 60 * kilobyte, `${path} weighs ${packed(path)} bytes`);
    }
  }
});
