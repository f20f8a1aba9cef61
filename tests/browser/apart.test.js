// The site needs nothing but itself: no other host, no server, no connection. That no page asks for
// more is looked at wherever every page is opened: every-page.test.js, scriptless.test.js.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { files, pages, read } from "./support/site.js";
import { Widget } from "./support/widget.js";

const it = reader();

test("no file names another host to load from", () => {
  const loads = /(?:src|srcset|poster|action|data|formaction)\s*=\s*["']?\s*(?:https?:)?\/\//i;
  const links = /<link\b[^>]*href\s*=\s*["']?\s*(?:https?:)?\/\//i;
  for (const path of files.filter((path) => /\.(html|svg)$/.test(path))) {
    const text = read(path).toString("utf8");
    assert.doesNotMatch(text, loads, path);
    assert.doesNotMatch(text, links, path);
  }
  for (const path of files.filter((path) => path.endsWith(".css"))) {
    assert.doesNotMatch(read(path).toString("utf8"), /url\(\s*["']?(?:https?:)?\/\/|@import/i, path);
  }
});

test("every page carries a policy that lets nothing in from outside", () => {
  for (const path of pages) {
    const text = read(path).toString("utf8");
    const policy = text.match(/http-equiv="?Content-Security-Policy"?\s+content="([^"]*)"/i)?.[1] ?? "";
    assert.match(policy, /default-src 'none'/, path);
    assert.doesNotMatch(policy, /unsafe-inline|'unsafe-eval'|https?:|\*/, path);
    assert.doesNotMatch(text, /<script(?![^>]*\bsrc=)[^>]*>/i, `${path} has a script inside`);
    assert.doesNotMatch(text, /<style\b|\sstyle\s*=|\son[a-z]+\s*=\s*"/i, `${path} has style or code inside`);
  }
});

test("a page that is open goes on calculating without a connection", () =>
  it.visit("calculators/guide-tube-length.html", async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await page.context().setOffline(true);
    await widget.type("stock_length", "11 1/2");
    await widget.type("channel_depth", "14");
    assert.equal((await widget.results()).length, "25 1/2 in");
  }));

test("blocked storage breaks nothing", async () => {
  await it.visit("calculators/guide-tube-length.html", async (page) => {
    await page.addInitScript(() => {
      for (const name of ["localStorage", "sessionStorage", "indexedDB"]) {
        Object.defineProperty(globalThis, name, {
          get() {
            throw new DOMException("blocked", "SecurityError");
          },
        });
      }
    });
    await page.reload();
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("channel_depth", "3");
    assert.notEqual((await widget.results()).length, "");
  });
});
