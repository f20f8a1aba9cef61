// Chromium for the tests: every page is watched, and what it must not do fails its test.
import { after, before } from "node:test";
import { chromium } from "playwright-core";
import { executablePath } from "./chromium.js";
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

/** @typedef {import("playwright-core").Page} Page */
/** @typedef {import("playwright-core").BrowserContextOptions & {from?: "http" | "file"}} Visit */

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
      executablePath,
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
   * @param {(page: Page) => Promise<T>} use
   * @param {Visit} options
   * @returns {Promise<T>}
   */
  async visit(path, use, options = {}) {
    /** @type {T[]} */
    const results = [];
    await this.tour([path], async (page) => results.push(await use(page)), options);
    return results[0];
  }

  /**
   * The same with one page after the other, in one tab: to start a browser's process, the engine
   * and axe for each takes longer than most looks. The tab forgets what a page kept.
   * @param {string[]} paths
   * @param {(page: Page, path: string) => Promise<unknown>} use
   * @param {Visit} options
   * @param {(path: string, error: unknown) => void} tell what becomes of a fault; else it ends the tour
   */
  async tour(paths, use, { from = "http", ...options } = {}, tell = (_, error) => { throw error; }) {
    const context = await this.chromium.newContext({ serviceWorkers: "block", ...options });
    context.setDefaultTimeout(15_000);
    try {
      const page = await context.newPage();
      const size = page.viewportSize();
      const faults = watch(page, this.url("", from));
      for (const path of paths) {
        try {
          await page.goto(this.url(path, from));
          await use(page, path);
          if (faults.length > 0) throw new Error(`${path} (${from}):\n  ${faults.join("\n  ")}`);
        } catch (error) {
          tell(path, error);
        }
        faults.length = 0;
        if (path !== paths.at(-1)) await afresh(page, size);
      }
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

/** Takes a tab back to how it was opened. @param {Page} page @param {ReturnType<Page["viewportSize"]>} size */
async function afresh(page, size) {
  await page.evaluate(() => {
    localStorage.clear();
    sessionStorage.clear();
  });
  await page.emulateMedia({ media: null });
  if (size) await page.setViewportSize(size);
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
    // what keeps workers away says so itself
    if (message.text() === "Service Worker registration blocked by Playwright") return;
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
