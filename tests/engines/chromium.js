// Chromium, by chromedriver.
import { freePort, home, session, started } from "./driver.js";

/** @returns {Promise<import("./tab.js").Engine>} */
export async function chromium() {
  const { folder, remove } = home();
  const port = await freePort();
  const run = started("chromedriver", [`--port=${port}`]);
  const send = await session(port, {
    "goog:chromeOptions": {
      args: ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", `--user-data-dir=${folder}`],
      ...process.env.CHROMIUM && { binary: process.env.CHROMIUM },
    },
    "goog:loggingPrefs": { browser: "ALL" },
  }, run);
  return {
    send,
    prints: true,
    // A window is never under 500 pixels wide.
    size: (width, height) => send("goog/cdp/execute", {
      cmd: "Emulation.setDeviceMetricsOverride",
      params: { width, height, deviceScaleFactor: 1, mobile: false },
    }),
    async said(urls) {
      await send("se/log", { type: "browser" });
      for (const url of urls) {
        await send("WebDriver:Navigate", { url });
        await new Promise((later) => setTimeout(later, 500));
      }
      const entries = /** @type {{ level: string, message: string }[]} */ (await send("se/log", { type: "browser" }));
      return entries.filter(({ level }) => level !== "INFO" && level !== "DEBUG").map(({ message }) => message);
    },
    async stop() {
      await run.stop();
      remove();
    },
  };
}
