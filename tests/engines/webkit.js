// WebKit, by the GTK port's driver and its small browser, on a display of its own.
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { freePort, home, session, soon, started } from "./driver.js";

/** Where Debian puts the browser that comes with the driver. */
const BROWSERS = ["4.1", "4.0", "6.0"].map((version) => `webkit2gtk-${version}`).concat("webkitgtk-6.0")
  .flatMap((name) => ["x86_64", "aarch64"].map((machine) => `/usr/lib/${machine}-linux-gnu/${name}/MiniBrowser`));

/** A window as narrow as a phone: the tool bar's parts else hold it wider. */
const NARROW = "* { min-width: 1px; padding: 0; margin: 0; border-width: 0; }\n";

/** @returns {Promise<import("./tab.js").Engine>} */
export async function webkit() {
  const browser = process.env.MINIBROWSER ?? BROWSERS.find((path) => existsSync(path));
  if (!browser) throw new Error("no MiniBrowser: install webkit2gtk-driver");
  const { folder, remove } = home();
  mkdirSync(join(folder, "gtk-3.0"));
  writeFileSync(join(folder, "gtk-3.0", "gtk.css"), NARROW);
  const screen = started("Xvfb", ["-displayfd", "1", "-screen", "0", "1600x1200x24", "-nolisten", "tcp"]);
  const display = await soon("Xvfb", () => {
    const number = screen.said.match(/^(\d+)\n/m)?.[1];
    if (number === undefined) throw new Error("has no display yet");
    return `:${number}`;
  }, screen);
  const env = {
    DISPLAY: display, GDK_BACKEND: "x11", HOME: folder, XDG_CONFIG_HOME: folder, XDG_CACHE_HOME: folder, XDG_DATA_HOME: folder,
    NO_AT_BRIDGE: "1", WEBKIT_DISABLE_COMPOSITING_MODE: "1", LIBGL_ALWAYS_SOFTWARE: "1",
  };
  const port = await freePort();
  const run = started("WebKitWebDriver", [`--port=${port}`], env);
  const send = await session(port, { "webkitgtk:browserOptions": { binary: browser, args: ["--automation"] } }, run);
  return {
    send,
    prints: false,
    /** The window is wider and higher than its page by what the first try shows. */
    async size(width, height) {
      const room = () => send("WebDriver:ExecuteAsyncScript", { script: "requestAnimationFrame(() => arguments[0]([innerWidth, innerHeight]));", args: [] });
      let [outerWidth, outerHeight] = [width, height];
      for (let turn = 0; turn < 10; turn += 1) {
        await send("WebDriver:SetWindowRect", { x: 0, y: 0, width: outerWidth, height: outerHeight });
        await new Promise((later) => setTimeout(later, 200));
        const [innerWidth, innerHeight] = await room();
        if (innerWidth === width && Math.abs(innerHeight - height) < 2) return;
        outerWidth += width - innerWidth;
        outerHeight += height - innerHeight;
      }
    },
    /** Under automation the console is kept from everybody, so another window shows the pages. */
    async said(urls) {
      const other = started(browser, ["--enable-write-console-messages-to-stdout=true", ...urls], env);
      await new Promise((later) => setTimeout(later, 3000 + 700 * urls.length));
      await other.stop();
      if (other.fault) throw new Error(other.fault);
      const said = other.said.split("\n").filter((line) => /\bCONSOLE .*(ERROR|WARN)/.test(line));
      // This build knows no home screen, and so not the directive by which the front page may tell one of itself.
      return said.filter((line) => !/Unrecognized Content-Security-Policy directive 'manifest-src'/.test(line));
    },
    async stop() {
      await run.stop();
      await screen.stop();
      remove();
    },
  };
}
