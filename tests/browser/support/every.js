// Every page opened once for many checks, each of which is a test of its own.
import assert from "node:assert/strict";
import { test } from "node:test";
import { live } from "./browser.js";
import { calculatorPages, pages } from "./site.js";

/** What a page does that none may do is told under this name. */
const conduct = (from) => `no page asks another host, misses a file or breaks its own policy, over ${from}`;

/**
 * @typedef {(page: import("playwright-core").Page, path: string) => Promise<string[]>} Check
 * what it objects to on a page as it stands
 */

/** A check of the calculators' own pages. @param {Check} check @returns {Check} */
export const ofCalculators = (check) => async (page, path) => (calculatorPages.includes(path) ? check(page, path) : []);

/** Waits for the engine; a page without widgets is answered at once. @type {Check} */
export const answered = async (page) => {
  await live(page);
  return [];
};

/**
 * Opens every page, and makes each check a test.
 * @param {ReturnType<typeof import("./browser.js").reader>} it
 * @param {import("playwright-core").BrowserContextOptions & {from?: "http" | "file"}} options
 * @param {[string, Check][]} checks in their order; the same name may come again, in another view
 */
export function everyPage(it, options, checks) {
  const watched = conduct(options.from ?? "http");
  /** @type {Map<string, string[]>} */
  const found = new Map([watched, ...checks.map(([name]) => name)].map((name) => [name, []]));
  let opened = 0;
  const tell = (name, path, faults) => found.get(name)?.push(...faults.map((fault) => `${path}: ${fault}`));
  const look = async (page, path) => {
    opened += 1;
    for (const [name, check] of checks) {
      tell(name, path, await check(page, path).catch((error) => [String(error)]));
    }
  };
  const clean = (name) => {
    const faults = [...new Set(found.get(name))];
    assert.equal(opened, pages.length, `${opened} of ${pages.length} pages were opened`);
    assert.equal(faults.length, 0, `${faults.length} faults\n${faults.slice(0, 30).join("\n")}`);
  };
  test(watched, async () => {
    await it.tour(pages, look, options, (path, error) => tell(watched, path, [String(error)]));
    clean(watched);
  });
  for (const name of new Set(checks.map(([name]) => name))) test(name, () => clean(name));
}
