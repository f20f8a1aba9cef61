// A calculator's widget as its reader works it.

/** @typedef {import("playwright-core").Page} Page */

export class Widget {
  /** @param {Page} page @param {string} name the calculator's */
  constructor(page, name) {
    this.page = page;
    this.name = name;
    this.at = page.locator(`.widget[data-calculator="${name}"]`).first();
  }

  /** @param {Page} page @param {string} name */
  static async live(page, name) {
    const widget = new Widget(page, name);
    await page.waitForFunction(
      (name) => document.querySelector(`[data-calculator="${name}"]`)?.classList.contains("is-live"),
      name,
    );
    // within a procedure a phone shows the result alone
    const fold = widget.at.locator(".widget-unfold[aria-expanded=false]");
    if (await fold.isVisible()) await fold.click();
    return widget;
  }

  /** @param {string} input */
  field(input) {
    return this.at.locator(`.field[data-input="${input}"]`);
  }

  /** @param {string} input */
  entry(input) {
    return this.field(input).locator("input.entry");
  }

  /** @param {string} input */
  unit(input) {
    return this.field(input).locator("select.unit");
  }

  /** Replaces the field's text, as one input event. @param {string} input @param {string} text */
  async type(input, text) {
    await this.entry(input).fill(text);
    await this.page.evaluate(() => new Promise((done) => setTimeout(done, 0)));
  }

  /** @param {string} input @param {string} name the choice's */
  async choose(input, name) {
    await this.field(input).locator(`input[type=radio][value="${name}"]`).click({ force: true });
  }

  /** @param {string} input */
  async understood(input) {
    return plain(await this.field(input).locator(".understood").innerText());
  }

  /** The refusal beside a field, once it shows. @param {string} input */
  async problem(input) {
    await this.entry(input).blur();
    const problem = this.field(input).locator(".problem");
    await problem.waitFor({ state: "visible" });
    return {
      message: plain(await problem.locator(".problem-message").innerText()),
      help: plain(await problem.locator(".problem-help").allInnerTexts().then((all) => all.join(" "))),
    };
  }

  /** Every result's text by the output's name; "" where there is none. */
  async results() {
    const all = await this.at.locator(".result").evaluateAll((results) =>
      results.map((result) => [
        result.getAttribute("data-output"),
        result.querySelector(".result-text")?.textContent ?? "",
      ]),
    );
    return Object.fromEntries(all.map(([name, text]) => [name, plain(text)]));
  }

  async verdicts() {
    return this.at.locator(".verdict").evaluateAll((all) => all.map((one) => one.dataset.is));
  }

  /** Waits until what explains a result has come: it comes behind it. */
  drawn() {
    return this.page.waitForFunction(() => !document.querySelector(".is-drawing"));
  }

  async figure() {
    await this.drawn();
    return this.at.locator(".widget-figure").innerHTML();
  }

  async working() {
    await this.drawn();
    return plain(await this.at.locator(".working").evaluate((working) => working.textContent ?? ""));
  }

  /** The names of the inputs that are typed. */
  async typed() {
    return this.at
      .locator(".field:has(input.entry)")
      .evaluateAll((fields) => fields.map((field) => field.dataset.input ?? ""));
  }
}

/** Text with every kind of space as one plain space. @param {string} text */
export const plain = (text) => text.replace(/[\s\u00a0\u202f\u2009]+/gu, " ").trim();
