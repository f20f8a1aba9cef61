// A tab, worked by the commands of WebDriver Classic, which the drivers of all engines know.

/** Sends one command, by the name that Marionette has for it, and tells its value. @typedef {(command: string, parameters?: object) => Promise<any>} Send */

/**
 * One started browser: what its driver does beyond the standard.
 * @typedef {object} Engine
 * @property {Send} send
 * @property {(width: number, height: number) => Promise<unknown>} size gives the page this much room
 * @property {(urls: string[], home: string) => Promise<string[]>} said what the browser's console holds against these pages
 * @property {boolean} prints whether the driver can print
 * @property {() => Promise<void>} stop
 */

const KEYS = { tab: "\uE004", enter: "\uE007" };
const PATIENCE = 15_000;

export class Tab {
  /** @param {Engine} engine @param {(path: string) => string} url of a page of the site */
  constructor(engine, url) {
    this.engine = engine;
    this.url = url;
  }

  /** @param {string} path */
  async open(path) {
    await this.engine.send("WebDriver:Navigate", { url: this.url(path) });
  }

  async reload() {
    await this.engine.send("WebDriver:Refresh");
  }

  /**
   * What a function comes to in the page; it sees its parameters and the document alone.
   * @template {any[]} P @template T
   * @param {(...parameters: P) => T} act @param {P} args
   * @returns {Promise<Awaited<T>>}
   */
  async run(act, ...args) {
    const script = `const [done, ...args] = [...arguments].reverse();
      Promise.resolve().then(() => (${act})(...args.reverse())).then((value) => done({ value }), (fault) => done({ fault: String(fault) }));`;
    const { value, fault } = await this.engine.send("WebDriver:ExecuteAsyncScript", { script, args });
    if (fault) throw new Error(fault);
    return value;
  }

  /**
   * Asks until the answer is true; an error, as between two pages, is no answer yet.
   * @template {any[]} P @template T
   * @param {(...parameters: P) => T} ask @param {P} args
   */
  async until(ask, ...args) {
    const end = Date.now() + PATIENCE;
    let last;
    do {
      try {
        last = await this.run(ask, ...args);
        if (last) return last;
      } catch (fault) {
        last = fault;
      }
      await new Promise((next) => setTimeout(next, 50));
    } while (Date.now() < end);
    throw new Error(`never came: (${ask})(${JSON.stringify(args)}); last: ${last}`);
  }

  /** The first element of a selector, clear of what is fixed to the window's edges. @param {string} selector @returns {Promise<string>} */
  async #find(selector) {
    await this.until((selector) => {
      const found = document.querySelector(selector);
      found?.scrollIntoView({ block: "center", behavior: "instant" });
      return found !== null;
    }, selector);
    const found = await this.engine.send("WebDriver:FindElement", { using: "css selector", value: selector });
    return String(Object.values(found)[0]);
  }

  /** @param {string} selector */
  async click(selector) {
    const click = async () => this.engine.send("WebDriver:ElementClick", { id: await this.#find(selector) });
    // What a page draws anew between the two is another element.
    await click().catch((fault) => /stale element/.test(fault.message) ? click() : Promise.reject(fault));
  }

  /** Replaces a field's text by keys, and leaves the field: a value set by script tells nobody. @param {string} selector @param {string} text */
  async type(selector, text) {
    const id = await this.#find(selector);
    await this.engine.send("WebDriver:ElementClear", { id });
    await this.engine.send("WebDriver:ElementSendKeys", { id, text: text + KEYS.tab });
  }

  /** @param {string} key */
  async press(key) {
    const actions = ["keyDown", "keyUp"].map((type) => ({ type, value: key }));
    await this.engine.send("WebDriver:PerformActions", { actions: [{ type: "key", id: "keys", actions }] });
  }

  /** @param {string} selector */
  text(selector) {
    return this.run((selector) => (document.querySelector(selector)?.textContent ?? "").replace(/\s+/g, " ").trim(), selector);
  }

  /** The page on A4, as a PDF. */
  async print() {
    const page = { width: 21, height: 29.7 };
    return Buffer.from(await this.engine.send("WebDriver:Print", { page, margin: { top: 1.4, bottom: 1.6, left: 1.4, right: 1.4 } }), "base64");
  }
}
