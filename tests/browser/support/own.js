// A handbook of a test's own, published by the same program; the helpers of a site then read it.
import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { after } from "node:test";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const program = join(process.env.CARGO_TARGET_DIR ?? join(root, "target"), "release", "gaugeleaf");

/**
 * Publishes these files, beside what is copied of the demonstration's content, and makes it the
 * site under test: call it before a helper of the site is imported.
 * @param {Record<string, string>} files
 * @param {string[]} copied
 * @returns {string} what publishing said
 */
export function publish(files, copied = []) {
  const folder = mkdtempSync(join(tmpdir(), "handbook-"));
  after(() => rmSync(folder, { recursive: true }));
  for (const path of copied) cpSync(join(root, path), join(folder, path), { recursive: true });
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const said = execFileSync(program, ["publish"], { cwd: folder, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
  process.env.SITE = join(folder, "public");
  return said;
}
