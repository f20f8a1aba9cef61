// Firefox, by its own Marionette: the same commands over a socket, so that no other driver is needed.
import { readFileSync, writeFileSync } from "node:fs";
import { connect } from "node:net";
import { join } from "node:path";
import { home, soon, started } from "./driver.js";

/** @typedef {import("./tab.js").Send} Send */

const PREFERENCES = {
  "marionette.port": 0,
  "browser.shell.checkDefaultBrowser": false,
  "datareporting.policy.dataSubmissionEnabled": false,
  "toolkit.telemetry.enabled": false,
  "app.update.disabledForTesting": true,
  "network.captive-portal-service.enabled": false,
  "network.connectivity-service.enabled": false,
};

/** Messages are JSON behind their length: `[0, id, command, parameters]`, and `[1, id, fault, result]` back. @param {number} port @returns {Promise<Send>} */
function marionette(port) {
  const socket = connect(port, "127.0.0.1");
  /** @type {Map<number, { tell: (value: any) => void, fail: (fault: Error) => void }>} */
  const asked = new Map();
  let next = 0;
  let held = Buffer.alloc(0);

  /** @type {Send} */
  const send = (command, parameters = {}) =>
    new Promise((tell, fail) => {
      const id = next += 1;
      asked.set(id, { tell, fail });
      const text = JSON.stringify([0, id, command, parameters]);
      socket.write(`${Buffer.byteLength(text)}:${text}`);
    });

  return new Promise((ready, fail) => {
    socket.on("error", fail);
    socket.on("close", () => { for (const one of asked.values()) one.fail(new Error("Firefox has gone")); });
    socket.on("data", (part) => {
      held = Buffer.concat([held, part]);
      for (let colon = held.indexOf(":"); colon > 0; colon = held.indexOf(":")) {
        const end = colon + 1 + Number(held.subarray(0, colon));
        if (held.length < end) return;
        const message = JSON.parse(held.subarray(colon + 1, end).toString());
        held = held.subarray(end);
        // The first says which protocol it speaks.
        if (!Array.isArray(message)) ready(send);
        else answered(message[1], message[2], message[3]);
      }
    });
    /** @param {number} id @param {{ error: string, message: string } | null} fault @param {any} result */
    function answered(id, fault, result) {
      const one = asked.get(id);
      asked.delete(id);
      if (fault) one?.fail(new Error(`${fault.error}: ${fault.message}`));
      else one?.tell(result !== null && typeof result === "object" && "value" in result ? result.value : result);
    }
  });
}

/** @returns {Promise<import("./tab.js").Engine>} */
export async function firefox() {
  const { folder, remove } = home();
  const preferences = Object.entries(PREFERENCES).map(([name, value]) => `user_pref("${name}", ${JSON.stringify(value)});\n`);
  writeFileSync(join(folder, "user.js"), preferences.join(""));
  const run = started(process.env.FIREFOX ?? "firefox-esr", ["--headless", "--no-remote", "--marionette", "--remote-allow-system-access", "--profile", folder, "about:blank"], { HOME: folder });
  const port = await soon("Firefox", () => Number(readFileSync(join(folder, "MarionetteActivePort"), "utf8")), run);
  const send = await soon("Marionette", () => marionette(port), run);
  await send("WebDriver:NewSession", {});
  await send("WebDriver:SetTimeouts", { script: 20_000, pageLoad: 60_000 });

  /** Runs in the browser itself, not in the page. @param {string} script @param {any[]} args */
  const within = async (script, ...args) => {
    await send("Marionette:SetContext", { value: "chrome" });
    try {
      return await send("WebDriver:ExecuteScript", { script, args });
    } finally {
      await send("Marionette:SetContext", { value: "content" });
    }
  };
  // Where it is driven, files are of one origin; a crew's own Firefox holds each apart.
  await within(`Services.prefs.setBoolPref("security.fileuri.strict_origin_policy", true);`);
  return {
    send,
    prints: true,
    // A window is never under 450 pixels wide.
    size: (width, height) => within(`
      const { style } = gBrowser.selectedBrowser;
      for (const [name, length] of [["width", arguments[0]], ["height", arguments[1]]])
        for (const side of ["min-" + name, "max-" + name]) style.setProperty(side, length + "px");`, width, height),
    async said(urls, home) {
      await within("Services.console.reset();");
      for (const url of urls) {
        await send("WebDriver:Navigate", { url });
        await new Promise((later) => setTimeout(later, 500));
      }
      return within(`const [home] = arguments;
        return Services.console.getMessageArray()
          .filter((one) => one instanceof Ci.nsIScriptError)
          .filter((one) => one.sourceName.startsWith(home) || /CSP|Content.Security/.test(one.category))
          .map((one) => one.errorMessage + " " + one.sourceName);`, home);
    },
    async stop() {
      await run.stop();
      remove();
    },
  };
}
