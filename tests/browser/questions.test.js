// Questions are graded in the page, numbers by the engine; a test passes by its own rule.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { letters, printed } from "./support/paper.js";
import { pages, read } from "./support/site.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };
const holds = (path, part) => read(path).includes(part);
const exam = pages.find((path) => holds(path, 'class="test"') && holds(path, 'data-kind="number"')) ?? "";
/** A page with a question of this kind that is no test. */
const withKind = (kind) => pages.find((path) => path !== exam && holds(path, `data-kind="${kind}"`) && !holds(path, 'class="test"')) ?? "";

/** One question as its reader works it. */
class Question {
  /** @param {import("playwright-core").Locator} at */
  constructor(at) {
    this.at = at;
    this.answer = at.locator(".question-answer");
    this.entry = at.locator(".entry");
  }

  static first(page, kind) {
    return new Question(page.locator(`.question[data-kind="${kind}"]`).first());
  }

  kind() {
    return this.at.getAttribute("data-kind");
  }

  /** The key that a page without scripts would show. */
  async key() {
    return plain((await this.at.locator(".answer-text").textContent()) ?? "");
  }

  /** @param {boolean} right */
  async choose(right) {
    const radio = right ? '[value="0"]' : ':not([value="0"])';
    await this.at.locator(`input[type=radio]${radio}`).first().click();
  }

  places() {
    return this.at.locator(".order > li").evaluateAll((all) => all.map((one) => Number(one.dataset.place)));
  }

  /** Puts the steps into order by their buttons alone. */
  async arrange() {
    for (let turn = 0; turn < 40; turn += 1) {
      const places = await this.places();
      const at = places.findIndex((place, at) => at > 0 && place < (places[at - 1] ?? 0));
      if (at < 0) return;
      await this.at.locator(".order-up").nth(at).click();
    }
  }

  async check() {
    await this.at.locator(".question-check").click();
    await this.at.locator(".question-said:not(:empty)").waitFor();
  }

  async said() {
    return plain(await this.at.locator(".question-said").innerText());
  }

  async is() {
    return this.at.getAttribute("data-is");
  }

  /** Answers a question of any kind; a number's first variant alone has its key on the page. */
  async give(right) {
    const kind = await this.kind();
    if (kind === "choice") await this.choose(right);
    else if (kind === "number") await this.entry.fill(right ? await this.key() : "1");
    else if (right) await this.arrange();
  }
}

test("the answer is nowhere to be seen before it is given, and there without scripts", async () => {
  for (const kind of ["choice", "order", "number"]) {
    await it.visit(withKind(kind), async (page) => {
      const question = Question.first(page, kind);
      assert.ok(!(await question.answer.isVisible()), kind);
    });
    await it.visit(withKind(kind), async (page) => {
      const question = Question.first(page, kind);
      assert.ok(await question.answer.locator("summary").isVisible(), kind);
      assert.ok(!(await question.answer.evaluate((one) => /** @type {HTMLDetailsElement} */ (one).open)));
    }, { javaScriptEnabled: false });
  }
});

test("a choice is graded right and wrong, and can be tried again", () =>
  it.visit(withKind("choice"), async (page) => {
    const question = Question.first(page, "choice");
    await question.check();
    assert.equal(await question.said(), "Choose an answer first.");
    await question.choose(false);
    await question.check();
    assert.equal(await question.is(), "wrong");
    assert.ok(await question.answer.isVisible());
    await question.at.locator(".question-retry").click();
    assert.ok(!(await question.answer.isVisible()));
    await question.choose(true);
    await question.check();
    assert.equal(await question.is(), "right");
  }, phone));

test("steps are put in order by buttons, each move said, and graded", () =>
  it.visit(withKind("order"), async (page) => {
    const question = Question.first(page, "order");
    const count = (await question.places()).length;
    await question.check();
    assert.equal(await question.is(), "wrong");
    await question.at.locator(".question-retry").click();
    const up = question.at.locator(".order > li").last().locator(".order-up");
    await up.focus();
    await page.keyboard.press("Enter");
    assert.match(await question.said(), new RegExp(`: now ${count - 1} of ${count}\\.$`));
    assert.ok(await page.evaluate(() => document.activeElement?.matches(".order-up")));
    await question.arrange();
    await question.check();
    assert.equal(await question.is(), "right");
  }, phone));

test("a number is graded by the engine with its working shown after, and asked again with others", () =>
  it.visit(withKind("number"), async (page) => {
    const question = Question.first(page, "number");
    const asked = () => question.at.locator(".question-ask").innerText();
    const before = await asked();
    await question.entry.fill("1");
    await question.check();
    assert.equal(await question.is(), "wrong");
    assert.ok(await question.at.locator(".working-result").first().isVisible());
    await question.at.locator(".question-retry").click();
    assert.notEqual(await asked(), before);
    const result = await question.at.evaluate(async (part) => {
      const held = (key) => JSON.parse(part.dataset[key]);
      const engine = await globalThis.gaugeleaf.engine();
      engine({ do: "job", given: held("job") });
      const inputs = { ...held("given"), ...held("variants")[1] };
      const answer = engine({ do: "calculate", name: part.dataset.calculator, inputs, want: [] });
      return answer.outputs[part.dataset.output].text;
    });
    await question.entry.fill(result);
    await question.check();
    assert.equal(await question.is(), "right");
    assert.equal(await question.key(), result);
  }, phone));

test("the printed answer is right", () =>
  it.visit(withKind("number"), async (page) => {
    const question = Question.first(page, "number");
    await question.entry.fill(await question.key());
    await question.check();
    assert.equal(await question.is(), "right");
    assert.match(await question.said(), /Right\.$/);
  }, phone));

test("a malformed answer is refused in the engine's words and costs nothing", () =>
  it.visit(withKind("number"), async (page) => {
    const question = Question.first(page, "number");
    const problem = question.at.locator(".problem");
    for (const [typed, told] of [
      ["", "nothing is written here"],
      ["1,250", "`1,250` may be read as 1250 or as 1.25"],
      ["12 - 3/4", "`12 - 3/4` may be read as a sum or as a mixed number"],
      ["twelve", "`twelve` is not a number with a unit"],
    ]) {
      await question.entry.fill(String(typed));
      await question.check();
      assert.equal(plain(await problem.locator(".problem-message").innerText()), told);
      assert.equal(await question.is(), null);
      assert.equal(await question.entry.getAttribute("aria-invalid"), "true");
      assert.ok(!(await question.answer.isVisible()));
      assert.deepEqual(await violations(page), []);
    }
    await question.entry.fill("12");
    assert.ok(!(await problem.isVisible()));
  }, { ...phone, reducedMotion: "reduce" }));

/** Every question of the test. */
async function questions(page) {
  const all = await page.locator(".test .question").all();
  return all.map((at) => new Question(at));
}

const told = async (page) => plain(await page.locator(".test-said").innerText());

async function grade(page) {
  await page.locator(".test-grade").click();
  await page.locator(".test-said:not(:empty)").waitFor();
}

test("a test with an open question isn't graded", () =>
  it.visit(exam, async (page) => {
    await grade(page);
    assert.match(await told(page), /^\d+ of \d+ still to answer\.$/);
    assert.equal(await page.locator(".test [data-is]").count(), 0);
  }, phone));

test("a test answered rightly is passed, kept over a reload, and printed with lines to sign", () =>
  it.visit(exam, async (page) => {
    const all = await questions(page);
    for (const question of all) await question.give(true);
    await grade(page);
    assert.equal(await told(page), `Passed. ${all.length} of ${all.length} right.`);
    await page.reload();
    await page.locator('.test[data-is="passed"]').waitFor();
    assert.deepEqual(await violations(page), []);
    const paper = letters(await printed(page));
    for (const part of [
      "Sign-off sheet", "Trainee", "Trainer signs", "Date", "Fingerprint", "revision", "variant 1",
      "Comprehension checked in language", `${all.length} of ${all.length} right, passed`,
    ]) {
      assert.ok(paper.includes(letters(part)), `the sheet lacks ${part}`);
    }
    const why = await page.locator(".answer-why").first().textContent();
    assert.ok(!paper.includes(letters(why ?? "?")), "the key is printed beside its question");
  }, phone));

test("one critical question wrong fails the test, whatever the score", () =>
  it.visit(exam, async (page) => {
    const critical = page.locator(".test .question[data-critical][data-kind=choice], .test .question[data-critical][data-kind=number]").first();
    const id = await critical.getAttribute("id");
    for (const question of await questions(page)) await question.give((await question.at.getAttribute("id")) !== id);
    await grade(page);
    assert.match(await told(page), /^Not passed\. \d+ of \d+ right\. A question that must be right was not\.$/);
    const link = critical.locator(".answer-place a");
    await link.click();
    await page.locator("h1").waitFor();
    assert.ok(!page.url().includes(exam), page.url());
  }, phone));

test("too few right answers fail the test", () =>
  it.visit(exam, async (page) => {
    await page.evaluate(() => {
      for (const one of globalThis.gaugeleaf.questions) one.critical = false;
    });
    for (const question of await questions(page)) await question.give(false);
    await grade(page);
    assert.match(await told(page), /^Not passed\. 0 of \d+ right\. \d+ of \d+ are needed\.$/);
  }, phone));

test("a test started again has other numbers and no answers", () =>
  it.visit(exam, async (page) => {
    const drawn = () => page.locator(".test .drawn").allInnerTexts();
    const before = await drawn();
    for (const question of await questions(page)) await question.give(true);
    await grade(page);
    await page.locator(".test-retry").click();
    const after = await drawn();
    assert.notDeepEqual(after, before);
    assert.equal(await page.locator(".test .is-answered, .test input:checked").count(), 0);
    assert.equal(await page.locator(".sign-variant").innerText(), "2");
    await page.reload();
    assert.deepEqual(await drawn(), after);
  }, phone));

test("the controls of questions and tests are at least 64 pixels tall and wide", async () => {
  for (const path of [exam, withKind("choice"), withKind("order"), withKind("number")]) {
    await it.visit(path, async (page) => {
      const small = await page.locator(".question :is(button, label:has(input), .entry), .test-bar button").evaluateAll((all) =>
        all
          .filter((one) => one.checkVisibility({ visibilityProperty: true }))
          .filter((one) => Math.min(one.getBoundingClientRect().width, one.getBoundingClientRect().height) < 63.5)
          .map((one) => one.outerHTML.slice(0, 90)),
      );
      assert.deepEqual(small, [], path);
    }, phone);
  }
});

test("a question works from a plain folder too", () =>
  it.visit(withKind("number"), async (page) => {
    const question = Question.first(page, "number");
    await question.entry.fill(await question.key());
    await question.check();
    assert.equal(await question.is(), "right");
  }, { ...phone, from: "file" }));
