// The published site as files and over loopback HTTP.
import { createReadStream, existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { extname, join, normalize, relative, sep } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

/** The repository's root. */
export const root = fileURLToPath(new URL("../../../", import.meta.url));

/** The folder under test; publish the demo handbook first. */
export const folder = process.env.SITE ?? join(root, "public");

if (!existsSync(join(folder, "index.html"))) {
  throw new Error(`no site in ${folder}: publish it with "cargo run --release"`);
}

/** Every file of the site, by its path from the site's root, in order. */
export const files = readdirSync(folder, { recursive: true })
  .map(String)
  .filter((path) => statSync(join(folder, path)).isFile())
  .map((path) => path.split(sep).join("/"))
  .sort();

/** Every page of the site. */
export const pages = files.filter((path) => path.endsWith(".html"));

/** The calculators' own pages. */
export const calculatorPages = pages.filter(
  (path) => path.startsWith("calculators/") && path !== "calculators/index.html",
);

/** @param {string} path from the site's root */
export const read = (path) => readFileSync(join(folder, path));

/** @param {string} path from the site's root */
export const fileUrl = (path) => pathToFileURL(join(folder, path)).href;

/** @type {Record<string, string>} */
export const types = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".jpg": "image/jpeg",
  ".webp": "image/webp",
  ".json": "application/json",
  ".webmanifest": "application/manifest+json",
};

/** Serves the site from a free loopback port until `close` is called. */
export async function serve() {
  const server = createServer((request, response) => {
    const asked = decodeURIComponent(new URL(request.url ?? "/", "http://site").pathname);
    if (asked === "/favicon.ico") {
      // the browser's own idea, not the page's
      response.writeHead(204).end();
      return;
    }
    let path = normalize(join(folder, asked));
    if (relative(folder, path).startsWith("..") || !existsSync(path)) {
      response.writeHead(404).end();
      return;
    }
    if (statSync(path).isDirectory()) path = join(path, "index.html");
    const type = types[extname(path)] ?? "application/octet-stream";
    response.writeHead(200, { "content-type": type });
    createReadStream(path).pipe(response);
  });
  await new Promise((ready) => server.listen(0, "127.0.0.1", () => ready(undefined)));
  const address = server.address();
  if (address === null || typeof address === "string") throw new Error("no port");
  return {
    /** @param {string} path from the site's root */
    url: (path) => `http://127.0.0.1:${address.port}/${path}`,
    close: () => new Promise((done) => server.close(done)),
  };
}
