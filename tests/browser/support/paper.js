// A page as printed, read back as text.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after } from "node:test";
import { plain } from "./widget.js";

const work = mkdtempSync(join(tmpdir(), "gaugeleaf-print-"));
after(() => rmSync(work, { recursive: true }));

/**
 * The page as printed on A4, as text: as it lies on the sheet, or column by column.
 * @param {import("playwright-core").Page} page
 * @param {"-layout" | "-raw"} [order]
 */
export async function printed(page, order = "-layout") {
  const pdf = join(work, "page.pdf");
  writeFileSync(pdf, await page.pdf({ preferCSSPageSize: true, tagged: true }));
  const told = spawnSync("pdftotext", [order, pdf, "-"], { encoding: "utf8" });
  assert.equal(told.status, 0, `pdftotext (Debian's poppler-utils): ${told.error ?? told.stderr}`);
  return told.stdout;
}

/** Letters and digits alone: a line break may fall anywhere, and splits no word we compare. @param {string} text */
export const letters = (text) => plain(text).normalize("NFKC").replace(/[^\p{L}\p{N}]/gu, "");
