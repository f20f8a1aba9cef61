// A job's form as a short list: four screens of a phone, typed through without looking for anything.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { begun, every, holds, keptJobs, measure, opened, sideways } from "./support/job.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

/** @typedef {import("playwright-core").Page} Page */

/** The form with all that comes to it. @param {Page} page */
async function listed(page) {
  await opened(page);
  await page.waitForFunction(() => globalThis.gaugeleaf?.jobList && gaugeleaf.typing);
}

/** @param {Page} page @param {string} name */
const line = (page, name) => page.locator(`.measure:has([data-input="${name}"])`);

/** Opens what is known of a value. @param {Page} page @param {string} name */
async function about(page, name) {
  await line(page, name).locator(".entry").focus();
  await line(page, name).locator(".measure-about summary").click();
}

test("on a phone the whole form is four screens at most, and the pictures are a tap away and remembered", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    const height = () => page.locator(".job-form").evaluate((form) => form.getBoundingClientRect().height);
    assert.ok((await height()) <= 4 * 844, `${await height()} pixels, with no job in hand`);
    await begun(page, "Dock", await every(page));
    await page.reload();
    await listed(page);
    assert.ok((await height()) <= 4 * 844, `${await height()} pixels, with every value taken`);
    assert.equal(await sideways(page), 0);
    assert.deepEqual(await violations(page), []);
    const fields = await page.locator(".measure").count();
    assert.equal(await page.locator(".measure-picture:visible").count(), 0);
    await page.getByRole("button", { name: "With pictures" }).tap();
    assert.equal(await page.locator(".measure").count(), fields);
    assert.equal(await page.locator(".measure-picture:visible").count(), fields);
    await page.reload();
    await listed(page);
    assert.equal(await page.locator(".measure-picture:visible").count(), fields);
    assert.equal(await page.locator(".view-pictures").getAttribute("aria-pressed"), "true");
  }, phone));

test("every line of the short list is 56 pixels high or more, on the smallest phone too", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    const low = await page.locator(".measure:visible").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height).filter((height) => height < 56));
    assert.deepEqual(low, []);
    assert.equal(await sideways(page), 0);
  }, { ...phone, viewport: { width: 320, height: 640 } }));

test("what only checks another measurement is folded in the list, and open beside the pictures", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    const span = page.locator('[data-input="outside_span"]');
    assert.ok(await span.isHidden());
    assert.ok(await page.locator('[data-input="tube_pitch"]').isVisible());
    await page.locator(".measure-checks:has([data-input=outside_span]) > summary").tap();
    assert.ok(await span.isVisible());
    await page.getByRole("button", { name: "With pictures" }).tap();
    assert.ok(await page.locator('[data-input="tubes_spanned"]').isVisible());
  }, phone));

test("the short list prints as the same sheet, with every blank and picture", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    const told = () => page.locator(".measure").evaluateAll((all) => all.map((one) => [
      one.querySelector("[data-input]")?.getAttribute("data-input"), getComputedStyle(one).display, one.getBoundingClientRect().height > 0,
      getComputedStyle(one.querySelector(".measure-picture") ?? one).display, getComputedStyle(one.querySelector(".paper") ?? one).display,
    ]));
    await page.emulateMedia({ media: "print" });
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    const list = await told();
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));
    await page.emulateMedia({ media: "screen" });
    assert.ok(await page.locator('[data-input="outside_span"]').isHidden());
    await page.getByRole("button", { name: "With pictures" }).tap();
    await page.emulateMedia({ media: "print" });
    assert.deepEqual(list, await told());
    assert.ok(list.length > 40 && list.every(([, , isThere]) => isThere));
  }, phone));

test("a line opens on a tap and folds again behind the hand, and a choice shows its answer", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    await line(page, "channel_depth").locator(".entry").tap();
    await line(page, "channel_depth").locator(".field-help").waitFor();
    await line(page, "layout").locator(".measure-door").tap();
    await line(page, "channel_depth").locator(".field-help").waitFor({ state: "hidden" });
    await line(page, "layout").locator("input[value='45']").waitFor();
    await line(page, "layout").locator("input[value='45']").check({ force: true });
    await holds(page, "layout", "45");
    await line(page, "tube_od").locator(".entry").tap();
    assert.equal(await line(page, "layout").locator(".measure-door span").last().textContent(), await line(page, "layout").locator("input[value='45'] + span").textContent());
  }, phone));

test("who measured, when, and a note stay with a value, and travel with the job", async () => {
  const link = await it.visit("jobs.html", async (page) => {
    await listed(page);
    await page.locator(".job-who").fill("Ann");
    await page.locator(".job-who").blur();
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    await measure(page, "tube_length", "20");
    await holds(page, "tube_length", "20 ft");
    await page.locator(".job-who").fill("Bo | crew 2");
    await page.locator(".job-who").blur();
    await measure(page, "tube_od", "1");
    await holds(page, "tube_od", "1 in");
    await about(page, "channel_depth");
    await line(page, "channel_depth").locator(".value-note").fill("north head | shallow side");
    await line(page, "channel_depth").locator(".value-note").blur();
    await line(page, "channel_depth").locator(".value-when").fill("2026-11-25");
    await line(page, "channel_depth").locator(".value-when").blur();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth?.when === "2026-11-25");
    await page.waitForFunction(() => /measured 25 Nov 2026, by Ann, north head/.test((document.querySelector('.measure:has([data-input="channel_depth"]) .measure-from')?.textContent ?? "").replace(/\s/g, " ")));
    await page.locator(".job-share").click();
    return (await page.locator(".share-words").textContent()) ?? "";
  });
  await it.visit(`jobs.html${link.slice(link.indexOf("#"))}`, async (page) => {
    const dialog = page.locator(".take-over");
    await dialog.locator(".yes").waitFor();
    assert.match(plain(await dialog.innerText()), /by Ann, north head \| shallow side/);
    await dialog.locator(".yes").click();
    await page.waitForFunction(() => globalThis.gaugeleaf?.store.kept() !== undefined);
    const job = await page.evaluate(() => gaugeleaf.store.kept());
    assert.equal(job?.who, "Bo | crew 2");
    assert.deepEqual(Object.fromEntries(Object.entries(job?.given ?? {}).map(([name, { by, note }]) => [name, [by, note]])), {
      channel_depth: ["Ann", "north head | shallow side"], tube_length: ["Ann", undefined], tube_od: ["Bo | crew 2", undefined],
    });
  });
});

test("a value that somebody is not sure of bears nothing until it is kept, here and on another phone", async () => {
  const link = await it.visit("jobs.html", async (page) => {
    await listed(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    await about(page, "channel_depth");
    await line(page, "channel_depth").locator(".value-doubt").check();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.refused.channel_depth?.doubt);
    await page.waitForFunction(() => /not sure of 14 in/.test((document.querySelector(".not-taken")?.textContent ?? "").replace(/\s/g, " ")));
    assert.equal(await line(page, "channel_depth").locator(".entry").inputValue(), "14 in");
    const ground = await page.evaluate(async () => {
      const engine = await gaugeleaf.engine();
      engine(gaugeleaf.whose());
      return engine({ do: "calculate", name: "guide-tube-length", inputs: {}, want: [] }).outputs.length?.ground;
    });
    assert.equal(ground, "doubted");
    await page.locator(".job-share").click();
    const words = (await page.locator(".share-words").textContent()) ?? "";
    await page.goto(it.url("fit/guide-tubes.html"));
    const refused = plain(await page.locator(".job-bar .job-refused").innerText());
    assert.match(refused, /: You are not sure of 14 in\./);
    return words;
  });
  await it.visit(`jobs.html${link.slice(link.indexOf("#"))}`, async (page) => {
    await page.locator(".take-over .yes").click();
    await page.waitForFunction(() => globalThis.gaugeleaf?.store.kept()?.refused.channel_depth?.doubt);
    await listed(page);
    await line(page, "channel_depth").getByRole("button", { name: "Keep 14 in" }).click();
    await page.waitForFunction(() => !gaugeleaf.store.kept()?.refused.channel_depth);
    assert.equal((await page.evaluate(() => gaugeleaf.store.kept()))?.given.channel_depth?.text, "14 in");
  });
});

test("Enter on a value in doubt settles nothing, nor on one whose later entry was lost", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    await about(page, "channel_depth");
    await line(page, "channel_depth").locator(".value-doubt").check();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.refused.channel_depth?.doubt);
    await line(page, "channel_depth").locator(".entry").focus();
    await page.keyboard.press("Enter");
    // What is typed behind it is kept behind it.
    await measure(page, "tube_od", "1");
    await holds(page, "tube_od", "1 in");
    assert.ok(await page.evaluate(() => gaugeleaf.store.kept()?.refused.channel_depth?.doubt));
    await line(page, "channel_depth").locator(".entry").dispatchEvent("change");
    await measure(page, "tube_od", "3/4");
    await holds(page, "tube_od", "3/4 in");
    assert.ok(await page.evaluate(() => gaugeleaf.store.kept()?.refused.channel_depth?.doubt));
    await measure(page, "channel_depth", "15");
    await page.waitForFunction(() => !gaugeleaf.store.kept()?.refused.channel_depth);
    await holds(page, "channel_depth", "15 in");
    await page.evaluate(() => gaugeleaf.jobs.change(gaugeleaf.jobs.inHand(), (job) => ({ ...job, refused: { channel_depth: { text: "a later entry", unit: "", label: "Depth", lost: true } } })));
    await page.evaluate(() => gaugeleaf.jobForm.follow());
    await line(page, "channel_depth").getByRole("button", { name: "Keep 15 in" }).waitFor();
    await line(page, "channel_depth").locator(".entry").focus();
    await page.keyboard.press("Enter");
    await measure(page, "tube_od", "1");
    await holds(page, "tube_od", "1 in");
    assert.ok(await page.evaluate(() => gaugeleaf.store.kept()?.refused.channel_depth?.lost));
  }));

test("a doubt drops no refused entry, and a new value drops the note of the old one", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    await about(page, "channel_depth");
    await line(page, "channel_depth").locator(".value-note").fill("north head");
    await line(page, "channel_depth").locator(".value-note").blur();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.given.channel_depth?.note === "north head");
    await measure(page, "channel_depth", "fourteen");
    await page.waitForFunction(() => gaugeleaf.store.kept()?.refused.channel_depth?.text === "fourteen");
    await line(page, "channel_depth").locator(".value-doubt").check();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.refused.channel_depth?.doubt);
    await line(page, "channel_depth").locator(".value-doubt").uncheck();
    await page.waitForFunction(() => gaugeleaf.store.kept()?.refused.channel_depth?.doubt === undefined);
    assert.equal((await page.evaluate(() => gaugeleaf.store.kept()?.refused.channel_depth))?.text, "fourteen");
    await measure(page, "channel_depth", "15");
    await holds(page, "channel_depth", "15 in");
    assert.equal((await page.evaluate(() => gaugeleaf.store.kept()?.given.channel_depth))?.note, undefined);
  }));

test("what is typed about a value is of the job that stood there, and no day to come is taken", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    const other = await begun(page, "Other", { channel_depth: "9 in" });
    const dock = await begun(page, "Dock", { channel_depth: "14 in" });
    await page.reload();
    await listed(page);
    await about(page, "channel_depth");
    const note = line(page, "channel_depth").locator(".value-note");
    await note.focus();
    await page.keyboard.type("north head");
    // Another window takes another job in hand.
    await page.evaluate((other) => { gaugeleaf.jobs.choose(other); gaugeleaf.jobForm.follow(); }, other);
    await page.waitForFunction((other) => gaugeleaf.jobForm.shown().id === other, other);
    await note.blur();
    const jobs = await keptJobs(page);
    assert.equal(jobs[dock].given.channel_depth.note, "north head");
    assert.equal(jobs[other].given.channel_depth.note, undefined);
    assert.equal(await note.inputValue(), "");
    const when = line(page, "channel_depth").locator(".value-when");
    await when.fill("2999-01-01");
    await when.blur();
    assert.equal(await when.inputValue(), "2026-11-26");
    assert.equal((await keptJobs(page))[other].given.channel_depth.when, "2026-11-26");
  }));

test("the key of the view in hand stays readable under a pointer, and only the value's own label says its doubt", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    await page.locator(".view-short").click();
    await page.locator(".view-short").hover();
    const [ink, paper] = await page.locator(".view-short").evaluate((key) => [getComputedStyle(key).color, getComputedStyle(key).backgroundColor]);
    assert.notEqual(ink, paper);
    assert.equal(paper, await page.evaluate(() => getComputedStyle(document.body).color));
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    await about(page, "channel_depth");
    await line(page, "channel_depth").locator(".value-doubt").check();
    await page.waitForFunction(() => document.querySelector(".measure.is-doubted"));
    const marks = await line(page, "channel_depth").locator("label").evaluateAll((all) => all.map((one) => getComputedStyle(one, "::before").content));
    assert.deepEqual(marks.filter((mark) => mark.includes("?")).length, 1, marks.join());
  }));

test("a job that an edition before kept opens as it was, and gets who and note with its next value", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await page.evaluate(() => {
      gaugeleaf.store.set("job/old", { version: 2, name: "Old", note: "n", kit: "", given: { tube_od: { text: "1 in", when: "2026-01-02" } }, refused: {}, made: "" });
      gaugeleaf.store.set("job", "old");
    });
    await page.reload();
    await listed(page);
    assert.equal(await page.locator(".job-who").inputValue(), "");
    assert.equal(await line(page, "tube_od").locator(".entry").inputValue(), "1 in");
    await page.locator(".job-who").fill("Cy");
    await page.locator(".job-who").blur();
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    const { given } = Object.values(await keptJobs(page))[0];
    assert.deepEqual(given.tube_od, { text: "1 in", when: "2026-01-02" });
    assert.equal(given.channel_depth.by, "Cy");
  }));

test("a new job has a name of its own from the first, and never that of another", () =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    const names = [];
    for (let nth = 1; nth <= 3; nth += 1) {
      await page.locator(".job-new").click();
      await page.waitForFunction((nth) => Object.keys(gaugeleaf.jobs.all()).length === nth, nth);
      names.push(await page.locator(".job-name-text").inputValue());
    }
    assert.match(names[0], /^Job of \d{4}-\d{2}-\d{2}$/);
    assert.equal(new Set(names).size, 3);
  }));

/** The keys of our pad for a value, as a hand would press them. @param {string} text */
function keysOf(text) {
  const number = /^[\d ./]+/.exec(text.replace(/[\u2009\u202f]/g, ""))?.[0].trim() ?? "";
  const [, whole = "", fraction = ""] = /^(.*?)\s?(\d+\/\d+)?$/.exec(number) ?? [];
  const digits = [...whole.trim()].map((one) => (one === "." ? "point" : one));
  if (fraction === "") return digits;
  const below = fraction.split("/")[1];
  if (["2", "4", "8"].includes(below)) return [...digits, fraction];
  if (below === "16") return [...digits, "16ths", fraction];
  return [...digits, "16ths", ...(digits.length > 0 ? ["space"] : []), ...[...fraction].map((one) => (one === "/" ? "slash" : one))];
}

test("a filled survey card goes in by taps alone, and the count of them is no more than the model says", (t) =>
  it.visit("jobs.html", async (page) => {
    await listed(page);
    await page.waitForFunction(() => document.querySelector(".job-form .entry")?.getAttribute("inputmode") === "none");
    const card = await every(page);
    const names = await page.locator(".measure:visible [data-input]").evaluateAll((all) => all.map((one) => one.getAttribute("data-input") ?? ""));
    let taps = 0;
    /** Whether Next has brought the hand to the field already. */
    let there = false;
    for (const name of names) {
      const at = line(page, name);
      const door = at.locator(".measure-door");
      if ((await door.count()) > 0) {
        // Next has opened it.
        if (!there) await door.tap();
        await page.waitForFunction((name) => document.activeElement?.matches(`[data-input="${name}"] [type=radio]`), name);
        await at.locator(`input[value="${card[name]}"]`).tap();
        taps += there ? 1 : 2;
        there = false;
        continue;
      }
      if (!there) {
        await at.locator(".entry").tap();
        taps += 1;
      }
      await page.waitForFunction((name) => document.activeElement?.closest("[data-input]")?.getAttribute("data-input") === name && document.querySelector(".keypad:not([hidden])"), name);
      for (const key of [...keysOf(card[name]), "Next"]) {
        await page.locator(".keypad:not([hidden])").getByRole("button", { name: key, exact: true }).tap();
        taps += 1;
      }
      there = await page.evaluate(() => document.activeElement?.matches(".entry, .measure-door, [type=radio]") ?? false);
    }
    const most = names.length;
    await page.waitForFunction((most) => Object.keys(gaugeleaf.store.kept()?.given ?? {}).length === most, most);
    // DEVELOPERS.md, "How long does a survey take": find 0.8 s and glance 0.6 s a value, 0.4 s a tap.
    const seconds = names.length * (0.8 + 0.6) + taps * 0.4;
    t.diagnostic(`${names.length} values, ${taps} taps: ${seconds.toFixed(0)} s by the model`);
    assert.ok(seconds <= 180, `${names.length} values, ${taps} taps, ${seconds} s`);
  }, phone));
