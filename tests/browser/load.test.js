// Two hundred jobs and two thousand tubes: each keeps its own, and what is listed stays usable.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { every, keptJobs, opened, ready, sideways, texts, told, unfolded } from "./support/job.js";
import { counts, live, mode, tap } from "./support/tubes.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };
const JOBS = 200;

/** @typedef {import("playwright-core").Page} Page */

/** What tells one job from the others. @param {number} nth */
const own = (nth) => ({ channel_depth: `${(5 + nth / 10).toFixed(1)} in`, tube_length: `${120 + nth} in` });

/** Begins so many jobs with every measurement. @param {Page} page */
async function begin(page) {
  const values = await every(page);
  await page.evaluate(({ values, own }) => {
    for (const [at, mine] of own.entries()) {
      const given = Object.fromEntries(Object.entries({ ...values, ...mine }).map(([name, text]) => [name, { text, when: "2026-11-26" }]));
      if (!gaugeleaf.jobs.add({ name: `Exchanger ${at + 1}`, given })) throw new Error(`no room for job ${at + 1}`);
    }
  }, { values, own: Array.from({ length: JOBS }, (_, at) => own(at + 1)) });
}

/** Takes a job in hand by the list. @param {Page} page @param {string} name */
async function pick(page, name) {
  await page.locator(".job-pick").selectOption({ label: name });
  await page.waitForFunction((name) => /** @type {HTMLInputElement} */ (document.querySelector(".job-name-text")).value === name, name);
}

/** Every job by its name, as its own values tell it. @param {Page} page */
async function all(page) {
  const jobs = Object.values(await keptJobs(page));
  return Object.fromEntries(jobs.map(({ name, given }) => [name, { channel_depth: given.channel_depth.text, tube_length: given.tube_length.text }]));
}

const wanted = () => Object.fromEntries(Array.from({ length: JOBS }, (_, at) => [`Exchanger ${at + 1}`, own(at + 1)]));

test("two hundred measured jobs are listed, opened, changed, deleted and carried, and each keeps its own values", (t) =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begin(page);
    assert.deepEqual(await all(page), wanted());
    await page.reload();
    await page.waitForFunction((jobs) => document.querySelectorAll(".job-pick option").length > jobs, JOBS);
    const listed = await page.evaluate(() => Math.round(performance.now()));
    await opened(page);
    await unfolded(page);
    t.diagnostic(`the list of ${JOBS} jobs stands ${listed} ms after the page was asked for, the whole form after ${await page.evaluate(() => Math.round(performance.now()))} ms`);

    // as people count, whatever the order in which they were begun
    const names = (await page.locator(".job-pick option").allInnerTexts()).filter((name) => name.startsWith("Exchanger"));
    assert.deepEqual(names, Object.keys(wanted()));
    for (const nth of [1, 2, 77, 137, 138, 200]) {
      await pick(page, `Exchanger ${nth}`);
      for (const [name, text] of Object.entries(own(nth))) {
        assert.equal(await page.locator(`.job-form [data-input="${name}"] input.entry`).inputValue(), text, `${name} of ${nth}`);
      }
    }
    assert.equal(await sideways(page), 0);

    // a value of one changes one
    await pick(page, "Exchanger 77");
    const entry = page.locator('.job-form [data-input="tube_length"] input.entry');
    await entry.fill("150 in");
    await entry.blur();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.tube_length.text === "150 in");
    const changed = { ...wanted(), "Exchanger 77": { ...own(77), tube_length: "150 in" } };
    assert.deepEqual(await all(page), changed);

    // one is deleted, and brought back
    await pick(page, "Exchanger 50");
    await page.locator(".job-delete").click();
    await page.locator(".job-undo").waitFor();
    const { "Exchanger 50": _, ...others } = changed;
    assert.deepEqual(await all(page), others);
    await page.locator(".job-undo").click();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.name === "Exchanger 50");
    assert.deepEqual(await all(page), changed);

    // each is carried with its own values
    for (const nth of [137, 138]) {
      await pick(page, `Exchanger ${nth}`);
      await page.locator(".job-share").click();
      const words = (await page.locator(".share-words").textContent()) ?? "";
      const carried = new URLSearchParams(words.slice(words.indexOf("#") + 1));
      assert.deepEqual(
        { job: carried.get("job"), channel_depth: carried.get("channel_depth"), tube_length: carried.get("tube_length") },
        { job: `Exchanger ${nth}`, ...own(nth) },
      );
    }
    await page.goto(it.url("index.html"));
    await ready(page);
    assert.match(plain(await page.locator(".job-bar").innerText()), /Job Exchanger 138/);
    assert.match(await told(page, "channel_depth"), /^18 13\/16 in$/);
  }, phone));

test("a job's link that was shown goes away when the job changes", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begin(page);
    await page.reload();
    await opened(page);
    await page.locator(".job-share").click();
    await page.locator(".share-words").waitFor();
    const entry = page.locator('.job-form [data-input="tube_length"] input.entry');
    await entry.fill("155 in");
    await entry.blur();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.tube_length.text === "155 in");
    assert.ok(await page.locator(".share-words").isHidden());
  }));

test("two jobs never bear one name", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    const first = await page.evaluate(() => `Job of ${gaugeleaf.jobs.today()}`);
    for (const name of [first, `${first} (2)`, `${first} (3)`]) {
      await page.locator(".job-new").click();
      await page.waitForFunction((name) => gaugeleaf.store.kept()?.name === name, name);
    }
    await page.locator(".job-name-text").fill(first);
    await page.locator(".job-name-text").blur();
    assert.equal(await page.locator(".job-name-text").inputValue(), `${first} (3)`);
  }));

/** Takes a job with a sheet of over two thousand tubes in hand. @param {Page} page @param {string} name */
async function large(page, name) {
  await page.evaluate(async (name) => {
    await gaugeleaf.bring("scripts/jobs.js");
    await gaugeleaf.engine();
    const own = gaugeleafPrepared.find((one) => one.name === document.documentElement.dataset.own)?.given ?? {};
    const values = { ...own, bundle_diameter: "60 in", tube_pitch: "1 in", tube_od: "3/4 in" };
    gaugeleaf.jobs.add({ name, given: Object.fromEntries(Object.entries(values).map(([input, text]) => [input, { text, when: "2026-11-26" }])) });
  }, name);
  await page.reload();
  await live(page);
}

test("a map of two thousand tubes keeps every mark over a reload and undoing, and no other job's map is touched", () =>
  it.visit("run/tube-map.html", async (page) => {
    await live(page);
    await large(page, "First");
    await tap(page, 7);
    const first = await counts(page);
    const id = await page.evaluate(() => String(gaugeleaf.store.get("job")));
    const before = await page.evaluate((id) => localStorage.getItem(gaugeleaf.store.own(`${id}/tubes`)), id);

    await large(page, "Second");
    assert.ok((await counts(page)).todo > 2000);
    await mode(page, "plugged");
    for (const tube of [3, 700, 1999]) await tap(page, tube);
    await mode(page, "cleaned");
    await page.locator(".tube-rows > summary").click();
    const states = [await counts(page)];
    const rows = page.locator(".tube-rows li > button");
    const number = await rows.count();
    for (let row = 0; row < number; row += 1) {
      await rows.nth(row).click();
      states.push(await counts(page));
    }
    const whole = states.at(-1);
    assert.deepEqual([whole?.todo, whole?.plugged], [0, 3]);
    await page.reload();
    await live(page);
    assert.deepEqual(await counts(page), whole);
    const undo = page.locator(".tube-undo");
    for (let back = 1; back <= 10; back += 1) {
      await undo.click();
      assert.deepEqual(await counts(page), states.at(-1 - back));
    }
    await page.reload();
    await live(page);
    assert.deepEqual(await counts(page), states.at(-11));

    assert.equal(await page.evaluate((id) => localStorage.getItem(gaugeleaf.store.own(`${id}/tubes`)), id), before);
    await page.evaluate((id) => gaugeleaf.store.set("job", id), id);
    await page.reload();
    await live(page);
    assert.deepEqual(await counts(page), first);
  }));

test("two hundred jobs with a marked map of two thousand tubes each find room on one phone", (t) =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await begin(page);
    await page.goto(it.url("run/tube-map.html"));
    await live(page);
    await large(page, "Large");
    // every third tube is another mark: nothing lies in a row
    const fits = await page.evaluate((jobs) => {
      const marks = Object.fromEntries([...document.querySelectorAll("[data-tube]")].map((one, at) =>
        [one.getAttribute("data-tube") ?? "", ["cleaned", "blocked", "cleaned", "plugged"][at % 4]]));
      const done = [{ words: "row 1 cleaned", before: Object.fromEntries(Object.keys(marks).map((tube) => [tube, ""])), plan: "" }];
      // and a run over all of it, a stroke a minute, with breaks and a hand-over
      const log = Array.from({ length: 1020 }, (_, at) => ({ at: 1764500000 + 61 * at, ...(at % 60 === 0 ? { is: /** @type {const} */ ("on") } : at % 60 === 59 ? { is: /** @type {const} */ ("break") } : { is: /** @type {const} */ ("done"), stroke: at % 40 < 20 ? at + 1 : 20 + 2 * Math.floor(at / 40) * 40 - at + 1, tubes: at % 20 === 19 ? 1 : 2 }) }));
      const run = { log, hands: [{ from: "Lead of the day", to: "Lead of the night", open: "row 10, stroke 75, from the right" }], who: "Lead of the day", straight: false };
      const sorted = (/** @type {object[]} */ log) => log.map((one) => Object.entries(one).sort());
      const kept = gaugeleaf.tubeMarks.write({ plan: "2,000 tubes", marks, done, run });
      const ids = gaugeleaf.store.keys("job/").map((key) => key.slice(4));
      const all = ids.slice(0, jobs).map((id) => gaugeleaf.store.set(`${id}/tubes`, kept));
      const read = gaugeleaf.tubeMarks.read(gaugeleaf.store.get(`${ids[3]}/tubes`), "");
      const letters = Object.keys(localStorage).reduce((sum, key) => sum + key.length + (localStorage.getItem(key) ?? "").length, 0);
      return { all: all.filter(Boolean).length, same: JSON.stringify([read.marks, sorted(read.run.log), read.run.hands]) === JSON.stringify([marks, sorted(run.log), run.hands]) && JSON.stringify(gaugeleaf.tubeMarks.unpacked(read.done[0].before)) === JSON.stringify(done[0].before), letters };
    }, JOBS);
    t.diagnostic(`${fits.letters} letters are kept`);
    assert.deepEqual([fits.all, fits.same], [JOBS, true]);
  }));

test("marks that an edition before kept by tube are read, and kept in less room", () =>
  it.visit("run/tube-map.html", async (page) => {
    await live(page);
    await page.evaluate(() => {
      const plan = document.querySelector(".tube-says")?.textContent;
      const done = [{ words: "tube 5 plugged", before: { 5: "" }, plan }];
      gaugeleaf.store.set(gaugeleaf.store.ofJob("tubes"), { plan, marks: { 4: "cleaned", 5: "plugged", 6: "cleaned" }, done });
    });
    await page.reload();
    await live(page);
    const { cleaned, plugged } = await counts(page);
    assert.deepEqual([cleaned, plugged], [2, 1]);
    await tap(page, 7);
    const kept = await page.evaluate(() => /** @type {any} */ (gaugeleaf.store.get(gaugeleaf.store.ofJob("tubes"))).marks);
    assert.deepEqual(kept, { cleaned: "4,6-7", plugged: "5" });
    await page.locator(".tube-undo").click();
    assert.equal(plain(await page.locator(".tube-undo").innerText()), "Undo: tube 5 plugged");
    assert.deepEqual(await texts(page), {});
  }));
