// Drivers of browsers as processes, and WebDriver Classic over HTTP.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** @typedef {import("./tab.js").Send} Send */

// Who is stopped stops the browsers too, which run in groups of their own.
for (const signal of /** @type {const} */ (["SIGINT", "SIGTERM"])) process.once(signal, () => process.exit(1));

/** A folder for a browser's own files, which it holds until it has ended. */
export function home() {
  const folder = mkdtempSync(join(tmpdir(), "gaugeleaf-engine-"));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true, maxRetries: 20, retryDelay: 100 }) };
}

/** @returns {Promise<number>} */
export const freePort = () =>
  new Promise((tell) => {
    const server = createServer();
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => tell(typeof address === "object" && address ? address.port : 0));
    });
  });

/**
 * A program, with the processes that it starts in a group of their own.
 * @param {string} program @param {string[]} args @param {NodeJS.ProcessEnv} env
 */
export function started(program, args, env = {}) {
  const child = spawn(program, args, { detached: true, env: { ...process.env, ...env }, stdio: ["ignore", "pipe", "pipe"] });
  const run = { said: "", fault: "", stop: () => Promise.resolve() };
  child.on("error", (error) => { run.fault = error.message; });
  for (const stream of [child.stdout, child.stderr]) stream.on("data", (part) => { run.said += part; });
  const ended = new Promise((tell) => { child.on("close", tell).on("error", tell); });
  const kill = () => {
    try { if (child.pid) process.kill(-child.pid, "SIGKILL"); } catch { /* has ended by itself */ }
  };
  process.on("exit", kill);
  run.stop = async () => {
    kill();
    await ended;
    process.off("exit", kill);
  };
  return run;
}

/**
 * What an attempt gives once it succeeds.
 * @template T
 * @param {string} what @param {() => T | Promise<T>} attempt @param {{ said: string, fault: string }} run
 */
export async function soon(what, attempt, run) {
  let last;
  for (let turn = 0; turn < 300 && run.fault === ""; turn += 1) {
    try { return await attempt(); } catch (fault) { last = fault; }
    await new Promise((next) => setTimeout(next, 100));
  }
  throw new Error(`${what}: ${run.fault || last}\n${run.said.slice(-2000)}`);
}

/** Commands as requests: `:id` is a parameter's. @type {Record<string, string>} */
const ROUTES = {
  "WebDriver:Navigate": "url",
  "WebDriver:Refresh": "refresh",
  "WebDriver:ExecuteAsyncScript": "execute/async",
  "WebDriver:FindElement": "element",
  "WebDriver:ElementClick": "element/:id/click",
  "WebDriver:ElementClear": "element/:id/clear",
  "WebDriver:ElementSendKeys": "element/:id/value",
  "WebDriver:PerformActions": "actions",
  "WebDriver:Print": "print",
  "WebDriver:SetWindowRect": "window/rect",
  "WebDriver:SetTimeouts": "timeouts",
};

/**
 * A session with a driver that listens at a port.
 * @param {number} port @param {object} capabilities @param {ReturnType<typeof started>} run
 * @returns {Promise<Send>}
 */
export async function session(port, capabilities, run) {
  const at = `http://127.0.0.1:${port}`;
  /** @param {string} path @param {object} body */
  const post = async (path, body) => {
    const answer = await fetch(`${at}/${path}`, { method: "POST", body: JSON.stringify(body), headers: { "content-type": "application/json" } });
    const { value } = /** @type {{ value: any }} */ (await answer.json());
    if (!answer.ok) throw new Error(`${path}: ${value?.error}: ${value?.message}`);
    return value;
  };
  await soon("the driver", () => fetch(`${at}/status`), run);
  const { sessionId } = await post("session", { capabilities: { alwaysMatch: capabilities } });
  /** @type {Send} */
  const send = (command, parameters = {}) => {
    const id = "id" in parameters ? String(parameters.id) : "";
    return post(`session/${sessionId}/${(ROUTES[command] ?? command).replace(":id", id)}`, parameters);
  };
  await send("WebDriver:SetTimeouts", { script: 20_000, pageLoad: 60_000 });
  return send;
}
