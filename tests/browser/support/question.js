// A question as its reader works it.
import { plain } from "./widget.js";

/** One question as its reader works it. */
export class Question {
  /** @param {import("playwright-core").Locator} at */
  constructor(at) {
    this.at = at;
    this.answer = at.locator(".question-answer");
    this.entry = at.locator(".entry");
  }

  /** @param {import("playwright-core").Page} page @param {string} kind */
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

  /** What the engine makes of the numbers that stand in the question, or on its dial. */
  async result() {
    return this.at.evaluate(async (part) => {
      const held = (name) => JSON.parse(part.dataset[name] ?? "null");
      const drawn = [...part.querySelectorAll(".drawn")].map((one) => [one.dataset.name, one.textContent]);
      const needle = part.querySelector(".dial-needle");
      const turns = JSON.parse(needle?.dataset.turns ?? "[]");
      const words = (text) => (text ?? "").replace(/\s/g, " ");
      const inputs = held("variants").find((variant, at) =>
        drawn.every(([name, text]) => words(variant[name]) === words(text))
        && (!needle || needle.getAttribute("transform") === `rotate(${turns[at]})`));
      const engine = await globalThis.gaugeleaf.engine();
      engine({ do: "job", given: held("job") });
      const answer = engine({ do: "calculate", name: part.dataset.calculator, inputs: { ...held("given"), ...inputs }, want: [] });
      return answer.outputs[part.dataset.output].text;
    });
  }

  /** @param {boolean} right */
  async choose(right) {
    const key = await this.at.getAttribute("data-right");
    const radio = right ? `[value="${key}"]` : `:not([value="${key}"])`;
    await this.at.locator(`input[type=radio]${radio}`).first().click();
  }

  /** Taps the steps, in their order or in another. @param {boolean} right */
  async arrange(right) {
    const steps = await this.at.locator(".order > li").evaluateAll((all) => all.map((one) => Number(one.dataset.place)));
    const order = [...steps].sort((one, other) => (right ? one - other : other - one));
    for (const place of order) await this.at.locator(`.order > li[data-place="${place}"] .order-tap`).click();
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

  /** Answers a question of any kind. @param {boolean} right */
  async give(right) {
    const kind = await this.kind();
    if (kind === "choice") await this.choose(right);
    else if (kind === "number") await this.entry.fill(right ? await this.result() : "1");
    else await this.arrange(right);
  }
}
