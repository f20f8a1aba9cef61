// The report of a run: on one side of paper, and as files that say their columns.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { begin, done, kept, wait } from "./support/run.js";
import { live, mode, tap } from "./support/tubes.js";
import { plain } from "./support/widget.js";

const it = reader();
const path = "run/tube-map.html";

/** @typedef {import("playwright-core").Page} Page */

/** A short run: two strokes, a plugged tube, a break, a hand-over, its end. @param {Page} page */
async function ran(page) {
  await live(page);
  await mode(page, "plugged");
  await tap(page, 4);
  await begin(page);
  for (let stroke = 0; stroke < 2; stroke += 1) await done(page, 60);
  await wait(page);
  await page.locator(".run-break").click();
  await wait(page, 900);
  await page.locator(".run-break").click();
  await page.locator(".run-more").click();
  const ask = page.locator(".tube-ask[open]");
  await ask.getByText("Hand over").dispatchEvent("click");
  const fields = ask.locator("input, textarea");
  await fields.nth(0).fill("=Day lead");
  await fields.nth(1).fill('Night "lead"');
  assert.match(await fields.nth(2).inputValue(), /Next: row 1, stroke 3, from the left\. 0 blocked, 1 plugged, \d+ to do\./);
  await ask.getByText("Handed over").dispatchEvent("click");
  await page.locator(".run-more").click();
  await ask.getByText("End the run here").dispatchEvent("click");
  await wait(page);
  await page.locator(".run-done").click();
}

/** What a key of the report hands over, as text. @param {Page} page @param {string} key */
async function file(page, key) {
  const [got] = await Promise.all([page.waitForEvent("download"), page.locator(key).click()]);
  return { name: got.suggestedFilename(), text: readFileSync(await got.path(), "utf8") };
}

test("the report says what was done, when, by whom, and what was handed over", () =>
  it.visit(path, async (page) => {
    await ran(page);
    const report = plain(await page.locator(".run-report").innerText());
    for (const said of [/Started 2026-11-30 08:00/, /Ended 2026-11-30 08:17/, /Breaks 2026-11-30 08:02 to 08:17/, /Passes planned \d/, /cleaned 3/, /plugged 1/,
      /Handed over 2026-11-30 08:17: =Day lead to Night "lead"\. Next: row 1/]) assert.match(report, said);
    assert.deepEqual(await page.locator(".report-rows tbody tr").first().locator("td").allInnerTexts(), ["1", "3", "–", "tube 4", "1", "2"]);
    await page.locator(".report-who").fill("R. Example");
    await page.locator(".report-who").blur();
    assert.match(plain(await page.locator(".report-facts").innerText()), /Marked by R\. Example/);
    // a hand-over is undone as all else
    await page.locator(".tube-undo").click();
    await page.locator(".tube-undo").click();
    assert.equal((await kept(page)).run.hands.length, 1, "a hand-over is taken back by an answer alone");
    await page.locator(".tube-ask[open]").getByText("Undo it").dispatchEvent("click");
    assert.deepEqual([(await kept(page)).run.hands, (await kept(page)).run.who], [[], "R. Example"]);
  }));

test("the files hold each tube under the columns that the page names, also from a folder", () =>
  it.visit(path, async (page) => {
    await ran(page);
    const named = /columns: ([\w, ]+)\./.exec(await page.locator(".report-tools").innerText())?.[1].split(", ");
    const csv = await file(page, ".report-csv");
    assert.match(csv.name, /^run-TRAINING-T1-2026-11-30\.csv$/);
    const [head, ...lines] = csv.text.replace("\ufeff", "").trim().split("\r\n").map((line) => line.split(/,(?=(?:[^"]*"[^"]*")*[^"]*$)/));
    assert.deepEqual(head, named);
    assert.equal(lines.length, await page.locator("circle[data-tube]").count());
    const line = Object.fromEntries(head.map((name, at) => [name, JSON.parse(lines[2][at])]));
    assert.deepEqual([line.job, line.row, line.tube, line.stroke, line.mark, line.times_run], ["TRAINING T1", "1", "3", "2", "cleaned", "1"]);
    // the plugged one of the same stroke was never run
    const plugged = Object.fromEntries(head.map((name, at) => [name, JSON.parse(lines[3][at])]));
    assert.deepEqual([plugged.tube, plugged.mark, plugged.times_run, plugged.last_run], ["4", "plugged", "0", ""]);
    assert.ok(lines[2].length >= head.length && plugged.plan !== "" );
    assert.match(line.last_run, /^2026-11-30T\d\d:02:00\.000Z$/);
    const json = JSON.parse((await file(page, ".report-json")).text);
    assert.deepEqual([json.format, json.version, json.tubes.length, json.tubes[3].mark, json.breaks.length], ["run-report", 1, lines.length, "plugged", 1]);
    assert.deepEqual([json.hand_overs[0].from, json.hand_overs[0].to], ["=Day lead", 'Night "lead"']);
    assert.deepEqual(json.events.filter(({ is }) => is === "done").map(({ took }) => took), [[1, 2], [3]]);
    assert.deepEqual(json.events.map(({ is }) => is), ["start", "done", "done", "break", "on", "hand", "end"]);
  }, { from: "file", acceptDownloads: true }));

test("the report prints alone, on one side of either paper, with the control line", () =>
  it.visit(path, async (page) => {
    await page.addInitScript(() => { globalThis.print = () => {}; });
    await page.reload();
    await ran(page);
    for (const format of ["A4", "Letter"]) {
      await page.locator(".report-print").click();
      const pdf = (await page.pdf({ format })).toString("latin1");
      assert.equal(pdf.match(/\/Type\s*\/Page\b/g)?.length, 1, format);
    }
    await page.evaluate(() => document.documentElement.classList.add("prints-report"));
    await page.emulateMedia({ media: "print" });
    assert.ok(await page.locator(".report-rows").isVisible());
    assert.ok(await page.locator(".uncontrolled").isVisible());
    assert.ok(await page.locator(".tube-sheet").isHidden());
  }));
