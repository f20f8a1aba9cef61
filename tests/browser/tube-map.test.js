// The tube map is marked by a tap or by keys, stays marked, and says what is left.
import assert from "node:assert/strict";
import { test } from "node:test";
import axe from "axe-core";
import { reader } from "./support/browser.js";
import { counts, live, mode, tap } from "./support/tubes.js";
import { plain } from "./support/widget.js";

const it = reader();
const path = "run/tube-map.html";
const phone = { viewport: { width: 320, height: 640 }, hasTouch: true };

/** @typedef {import("playwright-core").Page} Page */

/** Gives the job in hand, or a new one, a bundle of this diameter, and opens its map. @param {Page} page @param {string} diameter @param {Record<string, string>} [more] */
async function measured(page, diameter, more = {}) {
  await page.evaluate(async ({ diameter, more }) => {
    await gaugeleaf.bring("scripts/jobs.js");
    await gaugeleaf.engine();
    // the rest as the handbook's own job has it: what a job lacks is not known
    const own = gaugeleafPrepared.find((one) => one.name === document.documentElement.dataset.own)?.given ?? {};
    const values = { ...own, bundle_diameter: diameter, ...more };
    const given = Object.fromEntries(Object.entries(values).filter(([, text]) => text !== "").map(([name, text]) => [name, { text, when: "2026-11-26" }]));
    const id = gaugeleaf.jobs.inHand();
    if (id === "") gaugeleaf.jobs.add({ name: "New", given });
    else gaugeleaf.jobs.keep(id, { ...gaugeleaf.jobs.all()[id], given });
  }, { diameter, more });
  await page.reload();
  await live(page);
}

/** @param {Page} page */
async function violations(page) {
  if (!(await page.evaluate(() => "axe" in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
    const found = await globalThis.axe.run({ runOnly: tags, resultTypes: ["violations"] });
    return found.violations.flatMap((rule) => rule.nodes.map((node) => `${rule.id}: ${node.html.slice(0, 120)}`));
  });
}

test("marks are counted at once, and survive a reload", () =>
  it.visit(path, async (page) => {
    await live(page);
    const before = await counts(page);
    assert.equal(before.todo, await page.locator("circle[data-tube]").count());
    // stroke 1 clears the first two tubes: it is over when both are marked
    const first = await page.locator("circle[data-stroke='1']").evaluateAll((all) => all.map((one) => Number(one.dataset.tube)));
    assert.equal(first.length, 2);
    await tap(page, first[0]);
    assert.equal((await counts(page)).strokes, before.strokes);
    await tap(page, first[1]);
    assert.equal((await counts(page)).strokes, before.strokes - 1);
    await mode(page, "blocked");
    await tap(page, 10);
    await mode(page, "plugged");
    await tap(page, 20);
    const marked = await counts(page);
    assert.deepEqual(
      [marked.todo, marked.cleaned, marked.blocked, marked.plugged],
      [before.todo - 4, 2, 1, 1],
    );
    await page.reload();
    await live(page);
    assert.deepEqual(await counts(page), marked);
    assert.equal(await page.locator(".tube-sheet use").count(), 4);
    assert.deepEqual(await violations(page), []);
  }));

test("the time left is the engine's for the strokes left", () =>
  it.visit(path, async (page) => {
    await live(page);
    await page.locator(".tube-rows > summary").click();
    await page.locator(".tube-rows li > button").first().click();
    const { strokes, time } = await counts(page);
    const asked = await page.evaluate(async (strokes) => {
      const engine = await gaugeleaf.engine();
      const inputs = { strokes: { text: String(strokes), confirmed: true } };
      return engine({ do: "calculate", name: "cleaning-time", inputs, want: [] }).outputs.elapsed.text;
    }, strokes);
    assert.equal(plain(time), plain(asked));
  }));

test("everything can be marked by keys, row by row and tube by tube", () =>
  it.visit(path, async (page) => {
    await live(page);
    await page.locator(".tube-modes input").first().focus();
    await page.keyboard.press("ArrowDown");
    await page.locator(".tube-rows > summary").focus();
    await page.keyboard.press("Enter");
    await page.keyboard.press("Tab");
    assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Mark row 1");
    await page.keyboard.press("Enter");
    const row = await page.locator("[data-row='1'] circle").count();
    assert.equal((await counts(page)).blocked, row);
    assert.equal(await page.locator(".tube-said").innerText(), "Row 1: blocked.");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Tab");
    assert.match(await page.evaluate(() => document.activeElement?.textContent ?? ""), /^Tube 1, stroke 1: blocked$/);
    await mode(page, "cleaned");
    await page.locator("[data-tube-of='1']").focus();
    await page.keyboard.press("Enter");
    // a blocked tube is asked about, and the answer that changes nothing has the focus
    assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Leave it blocked");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    assert.match(await page.evaluate(() => document.activeElement?.textContent ?? ""), /^Tube 1, stroke 1: cleaned$/);
    assert.equal((await counts(page)).cleaned, 1);
    assert.deepEqual(await violations(page), []);
  }, phone));

test("clearing is undone, and a second tap takes a mark away", () =>
  it.visit(path, async (page) => {
    await live(page);
    await tap(page, 3);
    await tap(page, 4);
    await tap(page, 4);
    assert.equal((await counts(page)).cleaned, 1);
    await page.locator(".tube-clear").click();
    assert.equal((await counts(page)).cleaned, 0);
    assert.equal(await page.locator(".tube-sheet use").count(), 0);
    await page.locator(".tube-undo").click();
    assert.equal((await counts(page)).cleaned, 1);
  }));

test("a plugged or blocked tube is never turned into another by a tap or a row, only by an answer", () =>
  it.visit(path, async (page) => {
    await live(page);
    await mode(page, "plugged");
    await tap(page, 2);
    await mode(page, "blocked");
    await tap(page, 3);
    await mode(page, "cleaned");
    await page.locator(".tube-rows > summary").click();
    await page.locator(".tube-rows li > button").first().click();
    const row = await page.locator("[data-row='1'] circle").count();
    const after = await counts(page);
    assert.deepEqual([after.plugged, after.blocked, after.cleaned], [1, 1, row - 2]);
    assert.equal(plain(await page.locator(".tube-said").innerText()), "Row 1: cleaned. Left as marked: tube 2 plugged, tube 3 blocked.");

    const ask = page.locator(".tube-ask");
    for (const as of ["cleaned", "plugged", ""]) {
      await mode(page, as);
      await tap(page, 2);
      await ask.waitFor();
      assert.match(await ask.innerText(), /Tube 2, stroke 1, is marked as plugged\. A lance in it is thrown out\./);
      assert.deepEqual(await violations(page), []);
      await ask.getByText("Leave it plugged").click();
      assert.equal((await counts(page)).plugged, 1, `a tap as ${as}`);
    }
    await tap(page, 3);
    await page.keyboard.press("Escape");
    assert.equal((await counts(page)).blocked, 1);
    await mode(page, "cleaned");
    await tap(page, 3);
    await ask.getByText("Mark it as cleaned").click();
    assert.equal((await counts(page)).blocked, 0);
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
  }, phone));

test("every mark is undone, one after the other, also after a reload", () =>
  it.visit(path, async (page) => {
    await live(page);
    const undo = page.locator(".tube-undo");
    const states = [await counts(page)];
    await tap(page, 2);
    states.push(await counts(page));
    await mode(page, "plugged");
    await tap(page, 2);
    states.push(await counts(page));
    await mode(page, "cleaned");
    await page.locator(".tube-rows > summary").click();
    await page.locator(".tube-rows li > button").first().click();
    states.push(await counts(page));
    await page.locator(".tube-clear").click();
    await page.locator(".tube-ask").getByText("Clear these too").click();
    assert.equal(plain(await undo.innerText()), "Undo: all marks cleared");
    await page.reload();
    await live(page);
    while (states.length > 0) {
      await undo.click();
      // to take a plugged mark away is asked about, undone or not
      const ask = page.locator(".tube-ask").getByText("Undo it");
      if (await ask.isVisible()) await ask.click();
      assert.deepEqual(await counts(page), states.pop());
    }
    assert.ok(await undo.isHidden());
    assert.equal(await page.evaluate(() => gaugeleaf.store.get(gaugeleaf.store.ofJob("tubes"))), null);
  }));

test("clearing leaves plugged and blocked tubes as they are unless they are cleared too", () =>
  it.visit(path, async (page) => {
    await live(page);
    await tap(page, 1);
    await mode(page, "plugged");
    await tap(page, 2);
    const ask = page.locator(".tube-ask");
    await page.locator(".tube-clear").click();
    await ask.getByText("Leave every mark").click();
    assert.deepEqual([(await counts(page)).cleaned, (await counts(page)).plugged], [1, 1]);
    await page.locator(".tube-clear").click();
    await ask.getByText("Clear all but these").click();
    assert.deepEqual([(await counts(page)).cleaned, (await counts(page)).plugged], [0, 1]);
  }));

test("each job has a map and marks of its own, and two thousand tubes stay usable", () =>
  it.visit(path, async (page) => {
    await live(page);
    await tap(page, 1);
    const own = await counts(page);
    await page.evaluate(async () => {
      await gaugeleaf.bring("scripts/jobs.js");
      await gaugeleaf.engine();
      const own = gaugeleafPrepared.find((one) => one.name === document.documentElement.dataset.own)?.given ?? {};
      const values = { ...own, bundle_diameter: "60 in", tube_pitch: "1 in", tube_od: "3/4 in" };
      gaugeleaf.jobs.add({ name: "Large", given: Object.fromEntries(Object.entries(values).map(([name, text]) => [name, { text, when: "" }])) });
    });
    await page.reload();
    await live(page);
    const large = await counts(page);
    assert.ok(large.todo > 2000, `${large.todo} tubes`);
    assert.equal(large.cleaned, 0);
    for (let zoom = 0; zoom < 4; zoom += 1) await page.locator(".tube-larger").click();
    const tube = page.locator("circle[data-tube='900']");
    await tube.scrollIntoViewIfNeeded();
    assert.ok(((await tube.boundingBox())?.width ?? 0) >= 48);
    await tube.click();
    assert.equal((await counts(page)).cleaned, 1);
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
    await page.evaluate(() => gaugeleaf.store.set("job", null));
    await page.reload();
    await live(page);
    assert.deepEqual(await counts(page), own);
  }, phone));

test("a sheet that is measured anew after it was marked says so", () =>
  it.visit(path, async (page) => {
    await live(page);
    await measured(page, "20 in");
    await tap(page, 1);
    await measured(page, "18 in");
    const held = page.locator(".tube-held");
    assert.match(await held.innerText(), /have changed since it was marked/);
    assert.ok(await page.locator(".run-start").isDisabled());
    assert.ok(await page.locator(".tube-modes input").first().isDisabled());
    // no tap marks, nor takes the notice away
    await tap(page, 2);
    assert.equal((await counts(page)).cleaned, 1);
    assert.match(await held.innerText(), /have changed since it was marked/);
    await page.reload();
    await live(page);
    assert.match(await held.innerText(), /have changed since it was marked/);
    await page.locator(".tube-clear").click();
    assert.ok(await held.isHidden());
    assert.ok(await page.locator(".run-start").isEnabled());
    await page.reload();
    await live(page);
    assert.ok(await held.isHidden());
  }));

test("on a sheet that was measured anew each locked mark is compared before anything goes on", () =>
  it.visit(path, async (page) => {
    await live(page);
    await measured(page, "20 in");
    await mode(page, "plugged");
    for (const tube of [5, 7]) await tap(page, tube);
    await measured(page, "18 in");
    const ask = page.locator(".tube-ask");
    const compare = page.locator(".tube-held button");
    await compare.click();
    assert.match(await ask.innerText(), /Tube 5 is marked as plugged: in row \d+, stroke \d+/);
    await ask.getByText("No, or not sure").dispatchEvent("click");
    assert.ok(await page.locator(".run-start").isDisabled());
    await compare.click();
    for (const tube of [5, 7]) {
      assert.match(await ask.innerText(), new RegExp(`Tube ${tube} is`));
      await ask.getByText("It is plugged there").dispatchEvent("click");
    }
    assert.ok(await page.locator(".run-start").isDisabled());
    await ask.getByText("Compared: keep the marks").dispatchEvent("click");
    assert.ok(await page.locator(".tube-held").isHidden());
    assert.ok(await page.locator(".run-start").isEnabled());
    // what was compared is taken back as all else
    await page.locator(".tube-undo").click();
    assert.ok(await page.locator(".run-start").isDisabled());
  }));

for (const [what, changed, told, marks] of /** @type {[string, Record<string, string>, RegExp, boolean][]} */ ([
  ["is a stop", { odd_method: "undecided" }, /^STOP .*a lance has no tube/, true],
  ["is open", { odd_method: "" }, /^OPEN /, true],
  ["has lances across the rows", { pitch_direction: "across-rows" }, /across the rows/, false],
  ["has a direction that nobody measured", { pitch_direction: "" }, /^OPEN |not measured/, false],
])) {
  test(`a job whose plan ${what} has no run, and says why`, () =>
    it.visit(path, async (page) => {
      await live(page);
      await measured(page, "20 in", changed);
      assert.match(plain(await page.locator(".tube-held").innerText()), told);
      assert.ok(await page.locator(".run-start").isDisabled());
      if (await page.locator("circle[data-tube]").count() > 0) {
        await tap(page, 1);
        assert.equal((await counts(page)).cleaned, marks ? 1 : 0);
      }
    }));
}

test("a job that is not measured is told as open, counts nothing, and shows no keys to mark by", () =>
  it.visit(path, async (page) => {
    await live(page);
    await measured(page, "");
    const told = plain(await page.locator(".tube-held").innerText());
    assert.match(told, /^OPEN /);
    assert.match(told, /undle diameter/);
    assert.doesNotMatch(plain(await page.locator(".tube-problem").innerText()), /too many/);
    assert.deepEqual(await page.locator(".tube-count").allInnerTexts(), ["–", "–", "–", "–"]);
    assert.equal(await page.locator(".tube-time").innerText(), "–");
    assert.ok(await page.locator(".tube-modes").isHidden());
    assert.ok(await page.locator(".run-start").isDisabled());
  }));

test("the map prints without scripts, with signs that tell by shape", () =>
  it.visit(path, async (page) => {
    assert.ok((await page.locator("circle[data-tube]").count()) > 100);
    const signs = await page.locator(".tube-legend li").allInnerTexts();
    assert.deepEqual(signs.map((sign) => plain(sign)), ["to do", "cleaned", "blocked", "plugged"]);
    assert.equal(await page.locator(".tube-map button:visible").count(), 0);
  }, { javaScriptEnabled: false }));

test("a mark made in another window stays, whatever this one does next", () =>
  it.visit(path, async (page) => {
    await live(page);
    const other = await page.context().newPage();
    await other.goto(it.url(path));
    await live(other);
    await mode(other, "plugged");
    await tap(other, 5);
    await page.waitForFunction(() => document.querySelector('[data-count="plugged"]')?.textContent === "1");
    await tap(page, 9);
    assert.deepEqual([(await counts(page)).cleaned, (await counts(page)).plugged], [1, 1]);
    const kept = await page.evaluate(() => gaugeleaf.tubeMarks.read(gaugeleaf.store.get(gaugeleaf.store.ofJob("tubes")), "").marks);
    assert.deepEqual(kept, { 5: "plugged", 9: "cleaned" });
  }));

test("the second half of a double tap answers no question", () =>
  it.visit(path, async (page) => {
    await live(page);
    await mode(page, "plugged");
    await tap(page, 5);
    await mode(page, "cleaned");
    await tap(page, 5);
    const unlock = page.locator(".tube-ask").getByText("Mark it as cleaned");
    const box = await unlock.boundingBox();
    assert.ok(box);
    await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
    assert.equal((await counts(page)).plugged, 1);
    await unlock.click();
    assert.equal((await counts(page)).plugged, 0);
  }, phone));

test("marks that come back by undo belong to the sheet that they were made on", () =>
  it.visit(path, async (page) => {
    await live(page);
    await measured(page, "20 in");
    await tap(page, 5);
    await measured(page, "18 in");
    await page.locator(".tube-clear").click();
    await page.locator(".tube-undo").click();
    await page.reload();
    await live(page);
    assert.match(await page.locator(".tube-held").innerText(), /have changed since it was marked/);
  }));

test("where the phone keeps nothing every mark says so", () =>
  it.visit(path, async (page) => {
    await page.addInitScript(() => {
      Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };
    });
    await page.reload();
    await live(page);
    await tap(page, 5);
    assert.match(await page.locator(".tube-said").innerText(), /^Tube 5: cleaned\. This phone keeps nothing/);
    assert.equal((await counts(page)).cleaned, 1);
  }));
