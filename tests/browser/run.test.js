// A run over the whole screen: the stroke in hand, what is locked, breaks, pace and clock, another window.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { begin, done, kept, shown, tubesOf, wait } from "./support/run.js";
import { job } from "./support/runjob.js";
import { counts, live, mode, tap } from "./support/tubes.js";
import { plain } from "./support/widget.js";

const it = reader();
const path = "run/tube-map.html";
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true };

test("one press marks the stroke's tubes, lights the next one, and is undone, also after a reload", () =>
  it.visit(path, async (page) => {
    await begin(page);
    const first = await shown(page);
    assert.equal(first.row, "Row 1 of 24");
    assert.equal(first.stroke, "stroke 1 of 206 →");
    assert.equal(await page.locator(".tube-lit").count(), 1);
    await done(page);
    const second = await shown(page);
    assert.match(second.said, /^Stroke 1 done: tubes 1, 2 cleaned\. Next: row 1, stroke 2\./);
    assert.equal(second.stroke, "stroke 2 of 206 →");
    assert.equal(second.undo, "stroke 1 done");
    assert.deepEqual(second.counts, [2, 0, 0]);
    await page.reload();
    await live(page);
    assert.equal((await counts(page)).cleaned, 2);
    assert.equal(await page.locator(".run-start").innerText(), "Go on with the run");
    await page.locator(".run-start").click();
    await page.waitForFunction(() => document.querySelector(".run .run-undo"));
    await wait(page);
    await page.locator(".run-undo").click();
    assert.deepEqual((await shown(page)).counts, [0, 0, 0]);
    assert.equal((await shown(page)).stroke, "stroke 1 of 206 →");
    assert.deepEqual((await kept(page)).run.log.map(({ is }) => is), ["start"]);
  }, phone));

test("every other row is run back, unless the crew runs each from the left", () =>
  it.visit(path, async (page) => {
    await begin(page);
    for (let stroke = 0; stroke < 3; stroke += 1) await done(page);
    assert.equal((await shown(page)).row, "Row 2 of 24");
    assert.equal((await shown(page)).stroke, "stroke 8 of 206 ←");
    await page.locator(".run-more").click();
    await page.locator(".tube-ask.is-ready, .tube-ask").getByText("Run every row from the left").dispatchEvent("click");
    assert.equal((await shown(page)).stroke, "stroke 4 of 206 →");
  }, phone));

test("a thumb that comes down twice has done one stroke, and undone one", () =>
  it.visit(path, async (page) => {
    await begin(page);
    // nor has the tap that opened the run
    await page.locator(".run-done").click();
    assert.deepEqual((await shown(page)).counts, [0, 0, 0]);
    await done(page);
    await page.locator(".run-done").click();
    assert.deepEqual((await shown(page)).counts, [2, 0, 0]);
    await done(page);
    assert.deepEqual((await shown(page)).counts, [4, 0, 0]);
    await wait(page);
    await page.locator(".run-undo").click();
    await page.locator(".run-undo").click();
    assert.deepEqual((await shown(page)).counts, [2, 0, 0]);
  }, phone));

test("a stroke with a plugged tube is told before it is run, and the plugged one stays; one of plugged tubes alone is passed over", () =>
  it.visit(path, async (page) => {
    await live(page);
    await mode(page, "plugged");
    for (const tube of [2, 3, 4]) await tap(page, tube);
    await begin(page);
    const first = await shown(page);
    assert.match(first.warned, /^The right one, tube 2, is plugged: a lance that meets it is thrown out\. To do alone, as a short stroke: The left one, tube 1\. .* Never shut it off\.$/);
    assert.match(first.said, /tube 2, is plugged/);
    assert.equal(first.done, "Stroke 1: The left one, tube 1, alone done");
    await done(page);
    // stroke 2 is tubes 3 and 4
    const next = await shown(page);
    assert.equal(next.stroke, "stroke 3 of 206 →");
    assert.match(next.warned, /^To do alone, as a short stroke: .*Tube 5/i);
    assert.deepEqual((await kept(page)).marks, { 1: "cleaned", 2: "plugged", 3: "plugged", 4: "plugged" });
  }, phone));

test("a blocked tube is asked for, locked, and its partner comes again at the end as a short stroke", () =>
  it.visit(path, async (page) => {
    await begin(page);
    await wait(page);
    await page.locator(".run-blocked").click();
    const ask = page.locator(".tube-ask[open]");
    assert.match(await ask.innerText(), /Stroke 1: which tube is blocked\?/);
    await ask.getByText("Not blocked").dispatchEvent("click");
    assert.deepEqual((await shown(page)).counts, [0, 0, 0]);
    await page.locator(".run-blocked").click();
    await ask.getByText("The right one, tube 2").dispatchEvent("click");
    assert.deepEqual((await kept(page)).marks, { 2: "blocked" });
    assert.equal((await shown(page)).stroke, "stroke 2 of 206 →");
    // all the others by hand; what is left is the partner
    await page.evaluate(() => {
      const rest = [...document.querySelectorAll("circle[data-tube]")].map((one) => one.getAttribute("data-tube") ?? "").filter((tube) => !["1", "2"].includes(tube));
      gaugeleaf.store.change(gaugeleaf.store.ofJob("tubes"), (kept) => {
        const found = gaugeleaf.tubeMarks.read(kept, "");
        return gaugeleaf.tubeMarks.write({ ...found, marks: { ...found.marks, ...Object.fromEntries(rest.map((tube) => [tube, "cleaned"])) } });
      });
      dispatchEvent(new StorageEvent("storage", { key: null }));
    });
    const last = await shown(page);
    assert.equal(last.stroke, "stroke 1 of 206 →");
    assert.match(last.warned, /^The right one, tube 2, is blocked: it waits for its second try\. To do alone.*tube 1/);
    await done(page);
    assert.match((await shown(page)).said, /No stroke is left to do\. 1 blocked: for its second try/);
    assert.equal((await shown(page)).done, "Every stroke is done End the run");
    await done(page);
    assert.equal((await shown(page)).done, "See the report");
    assert.equal((await kept(page)).run.log.slice(-1)[0].is, "end");
  }, phone));

test("a stroke is left for later, another is taken in hand only by an answer, and both are undone", () =>
  it.visit(path, async (page) => {
    await begin(page);
    const ask = page.locator(".tube-ask[open]");
    await page.locator(".run-more").click();
    await ask.getByText("Leave stroke 1 for later").dispatchEvent("click");
    assert.equal((await shown(page)).stroke, "stroke 2 of 206 →");
    await page.locator("circle[data-tube='7']").dispatchEvent("click");
    await ask.getByText("Stay at stroke 2").dispatchEvent("click");
    assert.equal((await shown(page)).stroke, "stroke 2 of 206 →");
    await page.locator("circle[data-tube='7']").dispatchEvent("click");
    const [, stroke] = /stroke (\d+)/.exec(await ask.innerText()) ?? [];
    await ask.getByText(`Go on at stroke ${stroke}`, { exact: true }).dispatchEvent("click");
    assert.match((await shown(page)).stroke, new RegExp(`^stroke ${stroke} of`));
    for (const wanted of ["stroke 2 of 206 →", "stroke 1 of 206 →"]) {
      await wait(page);
      await page.locator(".run-undo").click();
      assert.equal((await shown(page)).stroke, wanted);
    }
  }, phone));

test("the pace is the engine's for the time between marks, without breaks, and a break takes no stroke", () =>
  it.visit(path, async (page) => {
    await begin(page);
    await done(page, 600);
    for (let stroke = 0; stroke < 5; stroke += 1) await done(page, 90);
    await wait(page);
    await page.locator(".run-break").click();
    assert.equal((await shown(page)).done, "The break is over Go on");
    await wait(page, 3600);
    await page.locator(".run-done").click();
    assert.equal((await shown(page)).stroke, "stroke 5 of 206 ←");
    await done(page, 1200);
    await wait(page);
    // strokes 2 to 6 took 450 s for their tubes; the first of all and the first after the break are timed from nothing
    const todo = (await page.locator("circle[data-tube]").count()) - (await shown(page)).counts.reduce((sum, one) => sum + one, 0);
    const asked = await page.evaluate(async (todo) => {
      const tubes = gaugeleaf.tubeMarks.read(gaugeleaf.store.get(gaugeleaf.store.ofJob("tubes")), "").run.log.filter(({ is }) => is === "done").slice(1, 6).reduce((sum, { tubes = 0 }) => sum + tubes, 0);
      const entry = (/** @type {string} */ text, /** @type {string} */ unit) => ({ text, ...(unit && { unit }), confirmed: true });
      const inputs = { tubes_done: entry(`${tubes}`, ""), time_so_far: entry("450", "s"), tubes_in_all: entry(`${tubes + todo}`, "") };
      const { outputs } = await gaugeleaf.ask({ do: "calculate", name: "pace", inputs, want: [] });
      return { each: outputs.time_each.text, left: outputs.time_left.text, seconds: outputs.time_left.si };
    }, todo);
    const { facts } = await shown(page);
    assert.ok(plain(facts).includes(`Each tube${plain(asked.each)}`), facts);
    assert.ok(plain(facts).includes(`Time left${plain(asked.left)}`), facts);
    const by = await page.evaluate((seconds) => new Date(Math.round(Date.now() / 1000) * 1000 + 1000 * Number(seconds)).toTimeString().slice(0, 5), asked.seconds);
    assert.ok(facts.includes(`Done about${by}`), `${facts}, not ${by}`);
  }, phone));

test("where the calculator can't start the run goes on, and tells no pace", () =>
  it.visit(path, async (page) => {
    await begin(page);
    await page.evaluate(() => { gaugeleaf.ask = /** @type {any} */ (async () => { throw new Error("stopped"); }); });
    await done(page, 60);
    await done(page, 60);
    await wait(page);
    assert.deepEqual((await shown(page)).counts, [4, 0, 0]);
    assert.doesNotMatch((await shown(page)).facts, /\d/);
  }, phone));

test("a clock that was put back is told, and counts in no pace", () =>
  it.visit(path, async (page) => {
    await begin(page);
    await done(page, 60);
    await done(page, 60);
    await wait(page);
    await page.evaluate(() => { const own = Date.now; Date.now = () => own() - 3 * 60 * 60 * 1000; });
    await page.locator(".run-done").click();
    const times = await page.evaluate(() => gaugeleaf.runTime.of(gaugeleaf.tubeMarks.read(gaugeleaf.store.get(gaugeleaf.store.ofJob("tubes")), "").run.log));
    assert.equal(times.back.length, 1);
    assert.equal(times.worked, 60);
    await page.keyboard.press("Escape");
    await page.locator(".run-report > summary").click();
    assert.match(plain(await page.locator(".report-told").innerText()), /clock was put back: 2026-11-30 08:02 was followed by 2026-11-30 05:02/);
  }, phone));

test("what another window does is in this run's hand at once, and neither takes the other's mark away", () =>
  it.visit(path, async (page) => {
    await begin(page);
    const other = await page.context().newPage();
    await other.goto(it.url(path));
    await live(other);
    await mode(other, "plugged");
    await tap(other, 1);
    await page.waitForFunction(() => /tube 1, is plugged/.test(document.querySelector(".run-warned")?.textContent ?? ""));
    // a thumb that was on its way has marked nothing
    await page.locator(".run-done").click();
    assert.deepEqual((await shown(page)).counts, [0, 0, 1]);
    await done(page);
    assert.deepEqual((await kept(other)).marks, { 1: "plugged", 2: "cleaned" });
    assert.deepEqual(await tubesOf(page, 1), [1, 2]);
  }, phone));

test("where the phone keeps nothing the run says so, and goes on", () =>
  it.visit(path, async (page) => {
    await page.addInitScript(() => {
      Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };
    });
    await page.reload();
    await begin(page);
    await done(page);
    assert.match((await shown(page)).said, /Stroke 1 done.*This phone keeps nothing/);
    await done(page);
    assert.deepEqual((await shown(page)).counts, [4, 0, 0]);
  }, phone));

test("clearing the map ends the run's times, and brings them back when it is undone", () =>
  it.visit(path, async (page) => {
    await begin(page);
    await done(page);
    await page.keyboard.press("Escape");
    await page.locator(".tube-clear").click();
    assert.deepEqual((await kept(page)).run.log, []);
    await page.locator(".tube-undo").click();
    assert.deepEqual((await kept(page)).run.log.map(({ is }) => is), ["start", "done"]);
    assert.equal((await counts(page)).cleaned, 2);
  }, phone));

test("with odd tubes left for one lance, strokes with an idle lance come last, in the words that were decided", () =>
  it.visit(path, async (page) => {
    await live(page);
    await job(page, { odd_method: "single" });
    await mode(page, "plugged");
    await tap(page, 2);
    await begin(page);
    // stroke 1 has a plugged tube: it is for a run of its own
    assert.equal((await shown(page)).stroke.split(" of")[0], "stroke 2");
    assert.equal((await shown(page)).warned, "");
    await page.locator(".run-leave").click();
    await page.evaluate(() => {
      const rest = [...document.querySelectorAll("circle[data-tube]")].map((one) => one.getAttribute("data-tube") ?? "").filter((tube) => !["1", "2"].includes(tube));
      gaugeleaf.store.change(gaugeleaf.store.ofJob("tubes"), (kept) => {
        const found = gaugeleaf.tubeMarks.read(kept, "");
        return gaugeleaf.tubeMarks.write({ ...found, marks: { ...found.marks, ...Object.fromEntries(rest.map((tube) => [tube, "cleaned"])) } });
      });
      dispatchEvent(new StorageEvent("storage", { key: null }));
    });
    await page.locator(".run-start").click();
    const { warned } = await shown(page);
    assert.match(warned, /^The right one, tube 2, is plugged.*The left one, tube 1\. Left for a run with one lance, at a lower pump speed that is proved first/);
    assert.doesNotMatch(warned, /swap/);
  }, phone));

test("a stroke that comes too soon to have been run is asked about", () =>
  it.visit(path, async (page) => {
    await begin(page);
    await done(page);
    await done(page, 1);
    const ask = page.locator(".tube-ask[open]");
    assert.match(await ask.innerText(), /So soon\? Stroke 2 done\?/);
    await ask.getByText("No, not yet").dispatchEvent("click");
    assert.deepEqual((await shown(page)).counts, [2, 0, 0]);
    for (let stroke = 0; stroke < 6; stroke += 1) await done(page, 90);
    await done(page, 20);
    assert.match(await ask.innerText(), /So soon\?/);
    await ask.getByText("Yes, it is done").dispatchEvent("click");
    assert.deepEqual((await shown(page)).counts, [16, 0, 0].map((count, at) => (at === 0 ? count - 1 : count)));
  }, phone));

test("a break says what makes it safe, and how it ends; a hand-over in it doesn't end it, and needs both names", () =>
  it.visit(path, async (page) => {
    await begin(page);
    await done(page);
    await wait(page);
    await page.locator(".run-break").click();
    assert.match((await shown(page)).said, /Pump locked and gauge at zero/);
    assert.match((await shown(page)).warned, /Before Go on: prove again/);
    const ask = page.locator(".tube-ask[open]");
    await page.locator(".run-more").click();
    await ask.getByText("Hand over").dispatchEvent("click");
    await ask.locator("input").nth(0).fill("Day lead");
    await ask.getByText("Handed over").dispatchEvent("click");
    assert.match(await ask.innerText(), /Both names are needed/);
    assert.equal(await ask.locator("input").nth(0).inputValue(), "Day lead");
    await ask.locator("input").nth(1).fill("Night lead");
    await ask.getByText("Handed over").dispatchEvent("click");
    assert.equal((await kept(page)).run.hands.length, 1);
    assert.equal((await shown(page)).done, "The break is over Go on");
  }, phone));

test("a job changed in another window holds the run, which says so, and begins anew when it is left", () =>
  it.visit(path, async (page) => {
    await live(page);
    await job(page, {});
    await begin(page);
    assert.equal(await page.locator(".run-job").innerText(), "Dock");
    const other = await page.context().newPage();
    await other.goto(it.url(path));
    await live(other);
    await other.evaluate(async () => {
      await gaugeleaf.bring("scripts/jobs.js");
      await gaugeleaf.engine();
      const id = gaugeleaf.jobs.inHand();
      const held = gaugeleaf.jobs.all()[id];
      gaugeleaf.jobs.keep(id, { ...held, given: { ...held.given, odd_method: { text: "undecided", when: "2026-11-27" } } });
    });
    await page.waitForFunction(() => /** @type {HTMLButtonElement | null} */ (document.querySelector(".run-done"))?.disabled);
    assert.match((await shown(page)).warned, /changed in another window/);
    await Promise.all([page.waitForEvent("load"), page.locator(".run-leave").click()]);
    await live(page);
    assert.match(await page.locator(".tube-held").innerText(), /^STOP /);
  }, phone));
