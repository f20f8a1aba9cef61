// What the engine cannot read, it refuses beside the field, and no old result stays.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { root } from "./support/site.js";
import { Widget, plain } from "./support/widget.js";

const it = reader();
const tube = "calculators/guide-tube-length.html";
const target = process.env.CARGO_TARGET_DIR ?? join(root, "target");
const program = process.env.GAUGELEAF ?? join(target, "release", "gaugeleaf");

const refused = [
  "14psi",
  "14 psi",
  "1/0",
  "--3",
  "1,250.5",
  "1.250,5",
  "1 - 1/4",
  "14 in in",
  "14 furlongs",
  "fourteen",
  "1e999",
  "NaN",
  "-2 in",
  "−2",
  "5 kg",
  "1 1/4 1/4",
  "0x10",
  "<b>14</b>",
  "9999 in",
];

test("a refused entry empties every result and says why beside its field", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    for (const text of refused) {
      await widget.type("channel_depth", "14");
      assert.notEqual((await widget.results()).length, "");
      await widget.type("channel_depth", text);
      const results = Object.values(await widget.results());
      assert.ok(results.every((result) => result === ""), `${text} left ${results}`);
      assert.deepEqual(await widget.verdicts(), [], `${text} left a verdict`);
      const problem = await widget.problem("channel_depth");
      assert.notEqual(problem.message, "", text);
      const entry = widget.entry("channel_depth");
      assert.equal(await entry.getAttribute("aria-invalid"), "true", text);
      assert.equal(await entry.inputValue(), text, "the entry is never repaired");
      const described = (await entry.getAttribute("aria-describedby")) ?? "";
      const id = await widget.field("channel_depth").locator(".problem").getAttribute("id");
      assert.ok(described.split(" ").includes(id ?? "-"), `${text}: described by ${described}`);
    }
  }));

test("an emptied field has no result", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("channel_depth", "");
    assert.ok(Object.values(await widget.results()).every((result) => result === ""));
  }));

test("a good entry clears the refusal", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("stock_length", "11 1/2");
    await widget.type("channel_depth", "14psi");
    await widget.problem("channel_depth");
    await widget.type("channel_depth", "14");
    assert.equal((await widget.results()).length, "25 1/2 in");
    assert.ok(await widget.field("channel_depth").locator(".problem").isHidden());
    assert.notEqual(await widget.entry("channel_depth").getAttribute("aria-invalid"), "true");
  }));

test("the widget refuses in the words of the command line", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    for (const text of ["14psi", "1/0", "fourteen", "14 furlongs", "9999 in"]) {
      const ran = spawnSync(program, ["calculate", "guide-tube-length", `channel_depth=${text}`], {
        cwd: root,
        encoding: "utf8",
      });
      assert.equal(ran.error, undefined, `${program} runs: build it with --release`);
      assert.equal(ran.status, 2, `${text}: ${ran.stderr}`);
      await widget.type("channel_depth", text);
      const { message } = await widget.problem("channel_depth");
      assert.ok(plain(ran.stderr + ran.stdout).includes(message), `${message}\n${ran.stderr}`);
    }
  }));

test("an unusual entry is used only once it is confirmed", () =>
  it.visit(tube, async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("channel_depth", "14");
    const field = widget.field("channel_depth");
    const doubtful = await firstDoubtful(page);
    await widget.type("channel_depth", doubtful);
    await widget.problem("channel_depth");
    assert.ok(Object.values(await widget.results()).every((result) => result === ""));
    await field.locator("button.confirm").click();
    assert.notEqual((await widget.results()).length, "");

    await widget.type("channel_depth", `${doubtful} `);
    await widget.type("channel_depth", "14psi");
    await widget.problem("channel_depth");
    assert.ok(await field.locator("button.confirm").isHidden(), "a refusal cannot be confirmed");
  }));

/** Asks the engine for a depth that is only doubtful. @returns {Promise<string>} */
async function firstDoubtful(page) {
  const found = await page.evaluate(async () => {
    const call = await globalThis.gaugeleaf.engine();
    for (const text of ["0.01", "0.1", "0.5", "37", "40", "45", "50", "55", "60", "80", "100"]) {
      const answer = call({
        do: "calculate",
        name: "guide-tube-length",
        inputs: { channel_depth: { text, unit: "in", confirmed: false } },
      });
      if (answer.problems.some((problem) => problem.doubtful)) return text;
    }
    return "";
  });
  assert.notEqual(found, "", "no depth is doubtful");
  return found;
}
