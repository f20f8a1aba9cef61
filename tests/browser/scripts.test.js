// The theme's scripts hold up under a type checker, and leave numbers to the engine.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { root } from "./support/site.js";

const here = fileURLToPath(new URL(".", import.meta.url));
const scripts = join(root, "themes", "scripts");
const names = readdirSync(scripts).filter((name) => name.endsWith(".js"));

for (const [what, project] of [
  ["the theme's scripts", here],
  ["the tests in three engines", join(root, "tests", "engines")],
]) {
  test(`the type checker finds nothing in ${what}`, () => {
    assert.ok(names.length > 0);
    const checker = join(here, "node_modules", "typescript", "bin", "tsc");
    const ran = spawnSync(process.execPath, [checker, "--project", project], { encoding: "utf8" });
    assert.equal(ran.status, 0, ran.stdout + ran.stderr);
  });
}

test("no script parses, computes or formats a number", () => {
  const numbers = /\b(parseFloat|toFixed|toPrecision|toLocaleString|NumberFormat|parseInt|eval\(|new Function)/;
  for (const name of names) {
    const text = readFileSync(join(scripts, name), "utf8");
    assert.doesNotMatch(text, numbers, name);
    assert.doesNotMatch(text, /document\.write|insertAdjacentHTML/, name);
  }
});
