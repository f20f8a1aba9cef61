// One engine with every check, served and from a folder.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { fileUrl, pages, serve } from "../browser/support/site.js";
import { checks, looked, sideways } from "./checks.js";
import { Tab } from "./tab.js";

/** What any console has to tell, or its silence about the handbook is worth nothing. */
const THROWS = "data:text/html,<!doctype html><script>throw new Error('heard')</script>";
const BREAKS = `data:text/html,<!doctype html><meta http-equiv="Content-Security-Policy" content="script-src 'none'"><script>1</script>`;

/** @param {string} name @param {() => Promise<import("./tab.js").Engine>} start */
export function meet(name, start) {
  /** @type {import("./tab.js").Engine} */
  let engine;
  /** @type {Awaited<ReturnType<typeof serve>>} */
  let site;
  before(async () => {
    site = await serve();
    engine = await start();
  });
  after(async () => {
    await engine?.stop();
    await site?.close();
  });

  for (const from of /** @type {const} */ (["http", "file"])) {
    /** @param {string} path */
    const url = (path) => from === "http" ? site.url(path) : fileUrl(path.replace(/[?#].*/s, "")) + (path.match(/[?#].*/s)?.[0] ?? "");

    describe(`${name}, over ${from}`, () => {
      for (const { what, path, check, prints } of checks) {
        test(what, async (t) => {
          if (prints && !engine.prints) return t.skip("its driver can't print");
          await engine.size(1000, 800);
          const tab = new Tab(engine, url);
          await tab.open(path);
          try {
            await check(tab, from);
          } finally {
            await tab.run(() => { localStorage.clear(); sessionStorage.clear(); });
          }
        });
      }

      test("no page goes sideways, on a phone or a desk", async () => {
        const tab = new Tab(engine, url);
        for (const width of [320, 390, 768, 1280]) {
          await engine.size(width, 800);
          for (const path of looked) {
            await tab.open(path);
            assert.deepEqual(await tab.run(sideways), [width, 0], `${path} at ${width} pixels`);
          }
        }
      });

      test("no page says anything in the console, or breaks its own policy", async () => {
        const heard = (await engine.said([THROWS, BREAKS], "data:")).join("\n");
        assert.match(heard, /Error: heard/);
        assert.match(heard, /Content.Security.Policy/i);
        const told = await engine.said(looked.map(url), url(""));
        assert.deepEqual(told, []);
      });
    });
  }
  test("the pages that are looked at are there", () => {
    for (const path of [...looked, ...checks.map(({ path }) => path)]) assert.ok(pages.includes(path), path);
  });
}
