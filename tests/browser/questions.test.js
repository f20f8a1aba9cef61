// Questions are graded in the page, numbers by the engine.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { Question } from "./support/question.js";
import { pages, read } from "./support/site.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };
const holds = (path, part) => read(path).includes(part);
/** A page with a question of this kind that is no test. */
const withKind = (kind) => pages.find((path) => holds(path, `data-kind="${kind}"`) && !holds(path, 'class="test"')) ?? "";

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

test("steps are put in order by taps, each said, and graded once all have a number", () =>
  it.visit(withKind("order"), async (page) => {
    const question = Question.first(page, "order");
    const steps = question.at.locator(".order > li");
    const count = await steps.count();
    await question.check();
    assert.equal(await question.said(), "Tap every step, in their order.");
    assert.equal(await question.is(), null);
    const first = steps.first().locator(".order-tap");
    await first.focus();
    await page.keyboard.press("Enter");
    assert.match(await question.said(), new RegExp(`: 1 of ${count}\\.$`));
    assert.equal(await steps.first().locator(".order-number").innerText(), "1");
    await first.click();
    assert.match(await question.said(), /: taken out\.$/);
    assert.equal(await steps.first().locator(".order-number").innerText(), "");
    await question.arrange(false);
    await question.check();
    assert.equal(await question.is(), "wrong");
    await question.at.locator(".question-retry").click();
    await question.arrange(true);
    await question.check();
    assert.equal(await question.is(), "right");
  }, phone));

/** Pages with a question of this sort on its card. @param {string} part */
const withCard = (part) => pages.find((path) => !holds(path, 'class="test"') && holds(path, part)) ?? "";

test("a card is dealt anew each time, and its answer with it", () =>
  it.visit(withCard("data-cases"), async (page) => {
    const question = new Question(page.locator(".question[data-cases]").first());
    const cases = JSON.parse((await question.at.getAttribute("data-cases")) ?? "[]");
    const seen = new Set();
    for (let turn = 0; turn < cases.length; turn += 1) {
      const right = await question.at.getAttribute("data-right");
      seen.add(right);
      const shown = await question.at.locator("[data-line]").evaluateAll((cells) => Object.fromEntries(cells.map((cell) => [cell.dataset.line, cell.textContent])));
      const dealt = cases[turn % cases.length];
      for (const [name, text] of Object.entries(shown)) if (name in dealt.shown) assert.equal(plain(text ?? ""), dealt.shown[name]);
      await question.choose(true);
      await question.check();
      assert.equal(await question.is(), "right");
      const chosen = await question.at.locator(`input[value="${right}"] + span`).textContent();
      assert.equal(await question.key(), plain(chosen ?? ""));
      await question.at.locator(".question-retry").click();
    }
    assert.ok(seen.size > 1, "every card had the same answer");
  }, phone));

test("a gauge's needle turns with the number that is asked for", () =>
  it.visit(withCard('class="dial"'), async (page) => {
    const question = new Question(page.locator(".question:has(.dial)").first());
    const needle = question.at.locator(".dial-needle");
    const turns = JSON.parse((await needle.getAttribute("data-turns")) ?? "[]");
    assert.ok(turns.length >= 12);
    assert.equal(await needle.getAttribute("transform"), `rotate(${turns[0]})`);
    await question.give(true);
    await question.check();
    assert.equal(await question.is(), "right");
    await question.at.locator(".question-retry").click();
    assert.equal(await needle.getAttribute("transform"), `rotate(${turns[1]})`);
    await question.give(true);
    await question.check();
    assert.equal(await question.is(), "right");
  }, phone));

test("a number is graded by the engine with its working shown after, and asked again with others", () =>
  it.visit(withKind("number"), async (page) => {
    const question = Question.first(page, "number");
    const asked = async () => [await question.at.locator(".question-ask").innerText(), await question.at.locator(".dial-needle").evaluateAll((all) => all.map((one) => one.getAttribute("transform")))];
    const before = await asked();
    await question.entry.fill("1");
    await question.check();
    assert.equal(await question.is(), "wrong");
    assert.ok(await question.at.locator(".working-result").first().isVisible());
    await question.at.locator(".question-retry").click();
    assert.notDeepEqual(await asked(), before);
    const result = await question.result();
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

test("the controls of questions are at least 64 pixels tall and wide", async () => {
  for (const path of [withKind("choice"), withKind("order"), withKind("number")]) {
    await it.visit(path, async (page) => {
      const small = await page.locator(".question :is(button, label:has(input), .entry)").evaluateAll((all) =>
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
