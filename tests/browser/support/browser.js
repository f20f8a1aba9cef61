// Chromium for the tests: every page is watched, and what it must not do fails its test.
import { after, before } from "node:test";
import { chromium } from "playwright-core";
import { fileUrl, serve } from "./site.js";

const flags = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/**
 * Starts a browser and a server around the tests of one file.
 * @returns {Reader}
 */
export function reader() {
  const it = new Reader();
  before(() => it.start());
  after(() => it.stop());
  return it;
}

class Reader {
  async start() {
    this.site = await serve();
    this.chromium = await chromium.launch({
      executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
      args: flags,
    });
  }

  async stop() {
    await this.chromium?.close();
    await this.site?.close();
  }

  /**
   * Opens a page of the site and gives it to `use`; afterwards fails if the page asked another
   * host, broke its own policy, missed a file or reported an error.
   * @template T
   * @param {string} path from the site's root, with query and fragment
   * @param {(page: import("playwright-core").Page) => Promise<T>} use
   * @param {import("playwright-core").BrowserContextOptions & {from?: "http" | "file"}} options
   * @returns {Promise<T>}
   */
  async visit(path, use, { from = "http", ...options } = {}) {
    const context = await this.chromium.newContext({ serviceWorkers: "block", ...options });
    context.setDefaultTimeout(15_000);
    try {
      const page = await context.newPage();
      const faults = watch(page, this.url("", from));
      await page.goto(this.url(path, from));
      const result = await use(page);
      if (faults.length > 0) throw new Error(`${path} (${from}):\n  ${faults.join("\n  ")}`);
      return result;
    } finally {
      await context.close();
    }
  }

  /** @param {string} path @param {"http" | "file"} from */
  url(path, from = "http") {
    const [file, rest] = [path.replace(/[?#].*/s, ""), path.match(/[?#].*/s)?.[0] ?? ""];
    return from === "http" ? this.site.url(path) : fileUrl(file) + rest;
  }
}

/**
 * Collects what a page does that no page of ours may do.
 * @param {import("playwright-core").Page} page
 * @param {string} home where every request must go
 */
function watch(page, home) {
  /** @type {string[]} */
  const faults = [];
  const inside = (url) => url.startsWith(home) || /^(data|blob|about):/.test(url);
  page.on("request", (request) => {
    if (!inside(request.url())) faults.push(`asked for ${request.url()}`);
  });
  page.on("requestfailed", (request) => {
    const why = request.failure()?.errorText ?? "";
    if (why !== "net::ERR_ABORTED") faults.push(`could not get ${request.url()}: ${why}`);
  });
  page.on("response", (response) => {
    if (response.status() >= 400) faults.push(`${response.status()} for ${response.url()}`);
  });
  page.on("pageerror", (error) => faults.push(`threw ${error.message}`));
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) faults.push(`said ${message.text()}`);
  });
  return faults;
}

/** Waits until every widget of the page has had its first answer from the engine. */
export async function live(page) {
  await page.waitForFunction(() =>
    [...document.querySelectorAll(".widget")].every((widget) => widget.classList.contains("is-live")),
  );
}

/** Sets the look as a reader would have chosen it. @param {import("playwright-core").Page} page @param {string} name */
export const look = (page, name) =>
  page.evaluate((name) => {
    if (name === "dark") document.documentElement.dataset.look = "dark";
    else delete document.documentElement.dataset.look;
  }, name);

/** The pictures that could not be drawn. @param {import("playwright-core").Page} page @returns {Promise<string[]>} */
export const pictures = (page) =>
  page.evaluate(() =>
    [...document.images].filter((image) => image.complete && image.naturalWidth === 0).map((image) => image.src));
