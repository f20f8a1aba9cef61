// A test asks some of its questions each time, one a screen, and passes by its own rule.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { letters, printed } from "./support/paper.js";
import { Question } from "./support/question.js";
import { pages, read } from "./support/site.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };
const tests = pages.filter((path) => read(path).includes('class="test"'));
const exam = tests.find((path) => read(path).includes('data-kind="number"')) ?? "";

/** The questions of the try that runs, in their order. */
async function questions(page) {
  const all = await page.locator(".test .question:not([hidden])").all();
  return all.map((at) => new Question(at));
}

const told = async (page) => plain(await page.locator(".test-said").innerText());

/** Begins a record, so that results are kept. */
async function named(page, name = "Mara Quist") {
  await page.locator(".person-name").fill(name);
  await page.locator(".person-add").click();
}

async function begin(page) {
  await page.locator(".test-begin").click();
}

/** Answers each question of the try on its own screen; `right` says how. */
async function answer(page, right = async (question) => question !== undefined) {
  const all = await questions(page);
  for (const [at, question] of all.entries()) {
    assert.deepEqual(await page.locator(".test .question").evaluateAll((parts) => parts.filter((one) => one.checkVisibility()).map((one) => one.id)), [await question.at.getAttribute("id")]);
    await question.give(await right(question));
    if (at < all.length - 1) await page.locator(".test-on").click();
  }
  return all;
}

async function grade(page) {
  await page.locator(".test-grade").click();
  await page.locator(".test-said:not(:empty)").waitFor();
}

test("every test asks at most half of its questions, and the first asks rules and emergencies alone, all critical", () => {
  assert.ok(tests.length > 10, `${tests.length}`);
  for (const path of tests) {
    const html = read(path).toString();
    const asked = Number(html.match(/data-asked="(\d+)"/)?.[1]);
    const pool = html.match(/data-question=/g)?.length ?? 0;
    assert.ok(asked >= 7 && pool >= 2 * asked, `${path}: ${asked} of ${pool}`);
  }
  const first = read("training/rules.html").toString();
  const asked = [...first.matchAll(/data-question="[^"]*"[^>]*/g)].map(([tag]) => tag);
  assert.ok(asked.every((tag) => tag.includes("data-critical")), "a question of the first test isn't critical");
  assert.match(first, /To pass, every one must be right\./);
});

test("a try asks some questions, one a screen, and another try asks others", () =>
  it.visit(exam, async (page) => {
    assert.equal(await page.locator(".test .question").evaluateAll((all) => all.filter((one) => one.checkVisibility()).length), 0);
    const asks = Number(await page.locator(".test").getAttribute("data-asked"));
    const critical = Number(await page.locator(".test").getAttribute("data-critical"));
    const sets = new Set();
    for (let turn = 0; turn < 4; turn += 1) {
      await page.evaluate(() => localStorage.clear());
      await page.reload();
      await begin(page);
      const all = await questions(page);
      assert.equal(all.length, asks);
      assert.equal(await page.locator(".test .question[data-critical]:not([hidden])").count(), critical);
      const keys = await Promise.all(all.map((one) => one.at.getAttribute("data-question")));
      assert.equal(new Set(keys).size, asks);
      sets.add([...keys].sort().join());
    }
    assert.ok(sets.size > 1, "four tries asked the same questions");
  }, phone));

test("a test with an open question isn't graded, and shows it", () =>
  it.visit(exam, async (page) => {
    await begin(page);
    const count = (await questions(page)).length;
    for (let at = 1; at < count; at += 1) await page.locator(".test-on").click();
    await grade(page);
    assert.match(await told(page), /^\d+ of \d+ still to answer\.$/);
    assert.equal(await page.locator(".test [data-is]").count(), 0);
    assert.equal(await page.locator(".test-where").innerText(), `Practice: question 1 of ${count}`);
  }, phone));

test("a try goes on after a reload where it was left", () =>
  it.visit(exam, async (page) => {
    await begin(page);
    const [first] = await questions(page);
    await first?.give(true);
    await page.locator(".test-on").click();
    const where = await page.locator(".test-where").innerText();
    const before = await Promise.all((await questions(page)).map((one) => one.at.getAttribute("data-question")));
    await page.reload();
    assert.equal(await page.locator(".test-where").innerText(), where);
    assert.deepEqual(await Promise.all((await questions(page)).map((one) => one.at.getAttribute("data-question"))), before);
    assert.deepEqual(await violations(page), []);
  }, phone));

test("a test answered rightly is passed, kept in the record, and printed with lines to sign", () =>
  it.visit(exam, async (page) => {
    await named(page);
    await begin(page);
    const all = await answer(page);
    await grade(page);
    assert.equal(await told(page), `Passed. ${all.length} of ${all.length} right.`);
    await page.reload();
    await page.locator('.test[data-is="passed"]').waitFor();
    assert.deepEqual(await violations(page), []);
    const kept = await page.evaluate((path) => globalThis.gaugeleaf.people.person().tests[path], exam);
    assert.deepEqual(kept.map(({ passed, right, of }) => ({ passed, right, of })), [{ passed: true, right: all.length, of: all.length }]);
    const variant = await page.locator(".sign-variant").textContent();
    const paper = letters(await printed(page));
    for (const part of [
      "Sign-off sheet", "Candidate", "Assessor signs", "Date", "Fingerprint", "revision", `variant ${variant}`,
      "Comprehension checked in language", `${all.length} of ${all.length} right, passed`,
    ]) {
      assert.ok(paper.includes(letters(part)), `the sheet lacks ${part}`);
    }
    const rows = await page.locator(".sign-off dl > div:not(.blank)").evaluateAll((all) => all.map((row) => row.querySelector("dd")?.textContent?.trim()));
    assert.ok(rows.every((said) => said), "a row of the sheet says nothing");
    const why = await page.locator(".test .question:not([hidden]) .answer-why").first().textContent();
    assert.ok(!paper.includes(letters(why ?? "?")), "the key is printed beside its question");
  }, phone));

test("a result without a record is told and not kept", () =>
  it.visit(exam, async (page) => {
    await begin(page);
    await answer(page);
    await grade(page);
    assert.match(await told(page), /^Passed\. .* Practice: nobody's record was in hand, so it counts for nobody\.$/);
    assert.equal(plain(await page.locator(".sign-score").innerText()), "practice: nobody's record was in hand");
    assert.equal(await page.evaluate(() => globalThis.gaugeleaf.people.inHand()), "");
  }, phone));

test("one critical question wrong fails the test, whatever the score, and its answer leads to what it rests on", () =>
  it.visit(exam, async (page) => {
    await begin(page);
    const critical = page.locator(".test .question[data-critical]:not([hidden])").first();
    const id = await critical.getAttribute("id");
    await answer(page, async (question) => (await question.at.getAttribute("id")) !== id);
    await grade(page);
    assert.match(await told(page), /^Not passed\. \d+ of \d+ right\. A question that must be right was not\./);
    await critical.locator(".answer-place a").click();
    await page.locator("h1").waitFor();
    assert.ok(!page.url().includes(exam), page.url());
  }, phone));

test("too few right answers fail the test", () =>
  it.visit(exam, async (page) => {
    await page.evaluate(() => {
      for (const one of globalThis.gaugeleaf.questions) one.critical = false;
    });
    await begin(page);
    await answer(page, async () => false);
    await grade(page);
    assert.match(await told(page), /^Not passed\. 0 of \d+ right\. \d+ of \d+ are needed\./);
  }, phone));

test("after two fails nobody tries again before somebody else has gone through it", () =>
  it.visit(exam, async (page) => {
    await named(page);
    await begin(page);
    for (const turn of [1, 2]) {
      await answer(page, async () => false);
      await grade(page);
      if (turn === 1) await page.locator(".test-retry").click();
    }
    assert.ok(!(await page.locator(".test-retry").isVisible()) && !(await page.locator(".test-begin").isVisible()));
    const remedy = page.locator(".remedy");
    await remedy.locator(".remedy-by").fill("mara  quist");
    await remedy.locator("button").click();
    assert.match(await remedy.locator(".remedy-said").innerText(), /somebody else than the candidate/);
    await remedy.locator(".remedy-by").fill("Ole Brandt");
    await remedy.locator(".remedy-apart").check();
    await remedy.locator("button").click();
    assert.ok(!(await remedy.isVisible()));
    await page.locator(".test-retry").click();
    assert.ok((await questions(page)).length > 0);
    assert.equal(await page.locator(".test .is-answered, .test input:checked").count(), 0);
  }, phone));

test("a try is graded once, and for the one who took it", () =>
  it.visit(exam, async (page) => {
    await named(page);
    await begin(page);
    await answer(page);
    // another window has graded it, or taken somebody else in hand
    await page.evaluate((path) => {
      const { people, store } = globalThis.gaugeleaf;
      const place = `test/${path}/${people.inHand()}`;
      store.set(place, { ...store.get(place), graded: people.today() });
    }, exam);
    await page.locator(".test-grade").click();
    await page.locator(".test-said:not(:empty)").waitFor();
    assert.equal(((await page.evaluate((path) => globalThis.gaugeleaf.people.person().tests[path], exam)) ?? []).length, 0);
  }, phone));

test("a window that was left open passes no test by the answers that another one has shown", () =>
  it.visit(exam, async (page) => {
    await named(page);
    await begin(page);
    const other = await page.context().newPage();
    await other.goto(page.url());
    const all = await other.locator(".test .question:not([hidden])").all();
    for (const [at, part] of all.entries()) {
      await new Question(part).give(false);
      if (at < all.length - 1) await other.locator(".test-on").click();
    }
    await grade(other);
    await other.close();
    await page.locator('.test[data-is="failed"]').waitFor();
    assert.ok(!(await page.locator(".test-grade").isVisible()));
    // even where no event came through
    await page.evaluate((path) => {
      const { people, store } = globalThis.gaugeleaf;
      const place = `test/${path}/${people.inHand()}`;
      store.set(place, { ...store.get(place), graded: "", at: 0 });
    }, exam);
    await page.reload();
    // the record holds that try: another one may begin, and this one is over
    await page.locator(".test-begin").waitFor();
    assert.ok(!(await page.locator(".test-grade").isVisible()));
    const tries = await page.evaluate((path) => globalThis.gaugeleaf.people.person().tests[path], exam);
    assert.deepEqual(tries.map(({ passed }) => passed), [false]);
  }, phone));

test("what is graded while another is taken in hand is nobody else's", () =>
  it.visit(exam, async (page) => {
    await named(page, "Jon Vale");
    await page.locator(".person-more > summary").click();
    await named(page);
    await begin(page);
    await answer(page);
    await page.evaluate(() => {
      const [one] = globalThis.gaugeleaf.questions.filter(({ part }) => !part.hidden);
      const judge = one.judge.bind(one);
      one.judge = async () => {
        await new Promise((done) => { globalThis.go = done; });
        return judge();
      };
    });
    await page.locator(".test-grade").click();
    await page.waitForFunction(() => globalThis.go);
    await page.evaluate(() => {
      const { people } = globalThis.gaugeleaf;
      people.choose(people.named("Jon Vale")[0]);
      globalThis.go();
    });
    await page.locator(".test-begin").waitFor();
    const tests = await page.evaluate(() => Object.values(globalThis.gaugeleaf.people.all()).map((person) => Object.keys(person.tests)));
    assert.deepEqual(tests, [[], []]);
    assert.equal(await page.locator(".test-said").textContent(), "");
  }, phone));

test("after an incident, or where it wasn't kept, a passed test says so", () =>
  it.visit(exam, async (page) => {
    await named(page);
    await begin(page);
    await answer(page);
    await grade(page);
    await page.evaluate(() => globalThis.gaugeleaf.people.change((held) => { held.incidents.push({ when: "2099-01-01", why: "a near miss" }); }));
    await page.reload();
    await page.locator(".test-said:not(:empty)").waitFor();
    assert.equal(await told(page), "Ended on 2099-01-01: a near miss.");
    await page.evaluate((path) => globalThis.gaugeleaf.people.change((held) => { held.incidents = []; delete held.tests[path]; }), exam);
    await page.reload();
    await page.locator(".test-said:not(:empty)").waitFor();
    assert.match(await told(page), /^Passed\. \d+ of \d+ right\. Not kept: this device keeps nothing/);
    assert.equal(await page.locator(".sign-score").textContent(), "not kept on this device: write it by hand");
  }, phone));

test("a test that is asked aloud says who read it", () =>
  it.visit(exam, async (page) => {
    await named(page);
    await page.locator(".test-aloud").check();
    await begin(page);
    for (const reader of ["", "MARA quist"]) {
      await page.locator(".test-by").fill(reader);
      await begin(page);
      assert.equal(await told(page), "Write who reads it aloud: somebody else than the candidate.");
    }
    await page.locator(".test-by").fill("Ole Brandt");
    await begin(page);
    assert.ok(!(await page.locator(".sign-off").isVisible()), "the sheet shows while the test runs");
    // a phone that was put away goes on with the same question, and knows who reads
    await page.locator(".test-on").click();
    await page.reload();
    await page.locator(".test.is-running").waitFor();
    assert.match(await page.locator(".test-where").innerText(), /^Mara Quist: question 2 of/);
    assert.ok(await page.locator(".test-where").evaluate((line) => line.getBoundingClientRect().top < innerHeight / 2), "it opens at the page's head");
    await page.locator(".test-back").click();
    await answer(page);
    await grade(page);
    const kept = await page.evaluate((path) => globalThis.gaugeleaf.people.person().tests[path], exam);
    assert.deepEqual(kept.map(({ aloud, by }) => ({ aloud, by })), [{ aloud: true, by: "Ole Brandt" }]);
    assert.deepEqual([/^[0-9a-f]{8}$/.test(kept[0].mark), kept[0].revision !== ""], [true, true]);
    assert.ok(await page.locator(".test-said").evaluate((line) => line.getBoundingClientRect().top >= 0 && line.getBoundingClientRect().bottom < innerHeight), "the result is off the screen");
    assert.equal(await page.locator(".sign-reader").innerText(), "Ole Brandt");
    // Asked aloud once more, or not: whoever begins again says.
    assert.ok(await page.locator(".test-aloud").isVisible() && await page.locator(".test-by").isVisible());
    // Somebody else's sheet says nothing of this.
    await page.locator(".person-more summary").click();
    await named(page, "Jon Vale");
    assert.deepEqual(await page.locator(".sign-score, .sign-reader, .sign-variant").allTextContents(), ["", "", ""]);
    assert.ok(!(await page.locator(".test-aloud").isChecked()));
  }, phone));

test("the controls of a test are at least 64 pixels tall and wide", () =>
  it.visit(exam, async (page) => {
    await named(page);
    const small = () => page.locator(":is(.test-start, .test-bar, .person) :is(button, select, .entry, label:has(input)), .test .question :is(button, label:has(input), .entry)").evaluateAll((all) =>
      all
        .filter((one) => one.checkVisibility({ visibilityProperty: true }))
        .filter((one) => Math.min(one.getBoundingClientRect().width, one.getBoundingClientRect().height) < 63.5)
        .map((one) => one.outerHTML.slice(0, 90)));
    assert.deepEqual(await small(), []);
    await begin(page);
    for (let at = 1; at < (await questions(page)).length; at += 1) {
      assert.deepEqual(await small(), []);
      await page.locator(".test-on").click();
    }
    assert.deepEqual(await small(), []);
  }, phone));

test("two taps on the grade write one result", () =>
  it.visit(exam, async (page) => {
    await named(page);
    await begin(page);
    await answer(page);
    await page.locator(".test-grade").evaluate((button) => { button.click(); button.click(); });
    await page.locator(".test-said:not(:empty)").waitFor();
    assert.equal((await page.evaluate((path) => globalThis.gaugeleaf.people.person().tests[path], exam)).length, 1);
  }, phone));
