// Editions of the demonstration, published by the same program, and a server that a test may change under its readers.
import { execFileSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { dirname, extname, join } from "node:path";
import { after } from "node:test";
import { root, types } from "./site.js";

const program = join(process.env.CARGO_TARGET_DIR ?? join(root, "target"), "release", "gaugeleaf");

/**
 * Publishes the demonstration with changes of its files into a folder that goes with the tests.
 * @param {Record<string, (text: string) => string>} changes
 */
export function edition(changes = {}) {
  const folder = mkdtempSync(join(tmpdir(), "edition-"));
  after(() => rmSync(folder, { recursive: true }));
  for (const path of ["handbook.toml", "content"]) cpSync(join(root, path), join(folder, path), { recursive: true });
  for (const [path, change] of Object.entries(changes)) {
    const place = join(folder, path);
    const text = change(existsSync(place) ? readFileSync(place, "utf8") : "");
    mkdirSync(dirname(place), { recursive: true });
    writeFileSync(place, text);
  }
  execFileSync(program, ["publish"], { cwd: folder, stdio: ["ignore", "pipe", "pipe"] });
  return join(folder, "public");
}

/** Serves one folder after the other from one address. @param {string} folder */
export async function host(folder) {
  const it = {
    folder,
    /** What is not there, by its path. @type {Set<string>} */
    missing: new Set(),
    /** What was asked for, in order. @type {string[]} */
    asked: [],
    url: (path = "") => `http://127.0.0.1:${port}/${path}`,
    /** Cuts every reader off, or lets them in again. @param {boolean} isUp */
    up: async (isUp) => {
      server.closeAllConnections();
      await new Promise((done) => (isUp ? server.listen(port, "127.0.0.1", () => done(undefined)) : server.close(done)));
    },
  };
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? "/", "http://site").pathname).slice(1);
    it.asked.push(path);
    let place = join(it.folder, path);
    if (path.endsWith("/") || path === "") place = join(place, "index.html");
    if (it.missing.has(path) || !existsSync(place) || statSync(place).isDirectory()) return response.writeHead(404).end();
    return response.writeHead(200, { "content-type": types[extname(place)] ?? "application/octet-stream" }).end(readFileSync(place));
  });
  await new Promise((ready) => server.listen(0, "127.0.0.1", () => ready(undefined)));
  const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
  after(() => server.closeAllConnections());
  after(() => new Promise((done) => server.close(done)));
  return it;
}
