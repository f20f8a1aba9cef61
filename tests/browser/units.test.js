// Switching a field's unit keeps the quantity, and back again keeps the text.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { calculatorPages } from "./support/site.js";
import { Widget, plain } from "./support/widget.js";

const it = reader();

for (const path of calculatorPages) {
  const name = path.replace(/^calculators\/|\.html$/g, "");
  test(`${name}: there and back in every unit returns the text and the results`, () =>
    it.visit(path, async (page) => {
      const widget = await Widget.live(page, name);
      const results = await widget.results();
      for (const input of await widget.typed()) {
        const select = widget.unit(input);
        if ((await select.count()) === 0) continue;
        const home = await select.inputValue();
        const units = await select.locator("option").evaluateAll((all) => all.map((one) => one.value));
        assert.ok(units.length > 1, `${input} has a switch with one unit`);
        const text = await widget.entry(input).inputValue();
        for (const unit of units.filter((unit) => unit !== home)) {
          await select.selectOption(unit);
          assert.deepEqual(await widget.results(), results, `${input} in ${unit}`);
          assert.notEqual(await widget.entry(input).inputValue(), "", `${input} in ${unit}`);
          await select.selectOption(home);
          assert.equal(await widget.entry(input).inputValue(), text, `${input} ${home} by ${unit}`);
          assert.deepEqual(await widget.results(), results, `${input} ${home} by ${unit}`);
        }
      }
    }));
}

test("what was typed survives a round trip through the other unit", () =>
  it.visit("calculators/guide-tube-length.html", async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    for (const text of ["14", "1 1/4", "7/16", "0.3", "11 15/32"]) {
      await widget.type("channel_depth", text);
      await widget.unit("channel_depth").selectOption("mm");
      const metric = await widget.entry("channel_depth").inputValue();
      assert.notEqual(metric, text);
      await widget.unit("channel_depth").selectOption("in");
      assert.equal(await widget.entry("channel_depth").inputValue(), text, `by ${metric}`);
    }
  }));

test("a bare number means the unit the switch stands on", () =>
  it.visit("calculators/guide-tube-length.html", async (page) => {
    const widget = await Widget.live(page, "guide-tube-length");
    await widget.type("stock_length", "11 1/2");
    await widget.unit("channel_depth").selectOption("mm");
    await widget.type("channel_depth", "355.6");
    assert.equal((await widget.results()).length, "25 1/2 in");
    assert.match(await widget.understood("channel_depth"), /14 in/);
  }));

test("no number stands without its unit in a result or an echo", () =>
  it.tour(calculatorPages, async (page, path) => {
    const name = path.replace(/^calculators\/|\.html$/g, "");
    const widget = await Widget.live(page, name);
    for (const input of await widget.typed()) {
      if ((await widget.unit(input).count()) === 0) continue;
      const told = plain(await widget.understood(input));
      assert.match(told, /\d ?[^\d\s=].* (?:= |\().*\d ?[^\d\s=]/u, `${name}.${input}: ${told}`);
    }
  }));
