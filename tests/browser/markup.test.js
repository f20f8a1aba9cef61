// The pages are valid HTML, lead somewhere, and each says where it stands.
import assert from "node:assert/strict";
import { test } from "node:test";
import { HtmlValidate } from "html-validate";
import { files, pages, read } from "./support/site.js";

const rules = new HtmlValidate({
  extends: ["html-validate:standard", "html-validate:a11y"],
  rules: {
    // a matter of taste, not of validity
    "long-title": "off",
    "no-trailing-whitespace": "off",
    "attr-quotes": "off",
    "void-style": "off",
    "doctype-style": "off",
    "tel-non-breaking": "off",
    "no-inline-style": "error",
    "no-dup-id": "error",
    "require-sri": "off",
    // a scrolling table is a region by role
    "prefer-native-element": "off",
  },
});

test("the validator finds nothing on any page", async () => {
  const found = [];
  for (const path of pages) {
    const report = await rules.validateString(read(path).toString("utf8"), path);
    for (const result of report.results) {
      for (const { line, column, ruleId, message } of result.messages) {
        found.push(`${path}:${line}:${column}: ${message} [${ruleId}]`);
      }
    }
  }
  assert.equal(found.length, 0, `${found.length} findings:\n${found.slice(0, 40).join("\n")}`);
});

test("every page has its own title, one h1 and no skipped heading", () => {
  const titles = new Map();
  for (const path of pages) {
    const text = read(path).toString("utf8");
    const title = text.match(/<title>([^<]*)<\/title>/)?.[1].trim() ?? "";
    assert.notEqual(title, "", path);
    assert.ok(!titles.has(title), `${path} and ${titles.get(title)} are both "${title}"`);
    titles.set(title, path);
    const levels = [...text.matchAll(/<h([1-6])\b/g)].map((found) => Number(found[1]));
    assert.equal(levels.filter((level) => level === 1).length, 1, `${path}: ${levels}`);
    levels.reduce((before, level) => {
      assert.ok(level <= before + 1, `${path} goes from h${before} to h${level}`);
      return level;
    }, 0);
    assert.match(text, /<html[^>]*\slang=/, path);
  }
});

test("every link inside the site leads to a file and a place that exist", () => {
  const ids = new Map(
    pages.map((path) => [
      path,
      new Set([...read(path).toString("utf8").matchAll(/\sid="([^"]+)"/g)].map((found) => found[1])),
    ]),
  );
  const there = new Set(files);
  for (const path of pages) {
    const text = read(path).toString("utf8");
    for (const [, quoted] of text.matchAll(/\s(?:href|src)="([^"]*)"/g)) {
      const link = quoted.replaceAll("&amp;", "&");
      if (/^(https?|mailto|tel|data):/.test(link)) continue;
      const url = new URL(link, `http://site/${path}`);
      let file = decodeURIComponent(url.pathname.slice(1));
      if (file === "" || file.endsWith("/")) file += "index.html";
      assert.ok(there.has(file), `${path} leads to ${link}`);
      const id = decodeURIComponent(url.hash.slice(1).split("?")[0]);
      if (id !== "" && ids.has(file)) assert.ok(ids.get(file)?.has(id), `${path} leads to ${link}`);
      assert.ok(!link.startsWith("/"), `${path}: ${link} needs a server's root`);
    }
  }
});

test("no field is of type number, and typed fields get the right keyboard", () => {
  for (const path of pages) {
    const text = read(path).toString("utf8");
    assert.doesNotMatch(text, /type=["']?(number|range)/i, path);
    for (const [entry] of text.matchAll(/<input[^>]*class="[^"]*\bentry\b[^>]*>/g)) {
      assert.match(entry, /type="text"/, path);
      assert.match(entry, /inputmode="(decimal|numeric|text)"/, path);
      assert.match(entry, /autocomplete="off"/, path);
    }
  }
});

test("zoom is never forbidden and every page carries the caution", () => {
  for (const path of pages) {
    const text = read(path).toString("utf8");
    const viewport = text.match(/<meta name="viewport" content="([^"]*)"/)?.[1] ?? "";
    assert.match(viewport, /width=device-width/, path);
    assert.doesNotMatch(viewport, /user-scalable|maximum-scale/, path);
    assert.match(text, /class="site-caution"/, path);
  }
});

test("a number and its unit are held together by a no-break space", () => {
  const loose = /\d(?:[ ]?|&thinsp;)(?:mm|in|ft|psi|bar|MPa|kPa|lbf|kN|kg|lb|rpm|gpm|°C|°F)(?![\w/])/g;
  const found = [];
  for (const path of pages) {
    const body = read(path).toString("utf8").replace(/<(script|code|pre)\b[\s\S]*?<\/\1>/g, "");
    for (const [, inside] of body.matchAll(/class="(?:value|result-text|num)"[^>]*>([^<]*)</g)) {
      if (loose.test(inside)) found.push(`${path}: ${inside}`);
      loose.lastIndex = 0;
    }
  }
  assert.deepEqual(found, []);
});
