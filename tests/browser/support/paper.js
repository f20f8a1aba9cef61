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

/** Prints the page on A4. @param {import("playwright-core").Page} page @returns {Promise<string>} the file */
async function onPaper(page) {
  const pdf = join(work, "page.pdf");
  writeFileSync(pdf, await page.pdf({ preferCSSPageSize: true, tagged: true }));
  return pdf;
}

/** @param {string} pdf @param {"-layout" | "-raw"} order */
function textOf(pdf, order) {
  const told = spawnSync("pdftotext", [order, pdf, "-"], { encoding: "utf8" });
  assert.equal(told.status, 0, `pdftotext (Debian's poppler-utils): ${told.error ?? told.stderr}`);
  return told.stdout;
}

/** The page as printed, as text: as it lies on the sheet. @param {import("playwright-core").Page} page */
export const printed = async (page) => textOf(await onPaper(page), "-layout");

/** The same, and column by column, off one sheet. @param {import("playwright-core").Page} page */
export async function printedBothWays(page) {
  const pdf = await onPaper(page);
  return [textOf(pdf, "-layout"), textOf(pdf, "-raw")];
}

/** Letters and digits alone: a line break may fall anywhere, and splits no word we compare. @param {string} text */
export const letters = (text) => plain(text).normalize("NFKC").replace(/[^\p{L}\p{N}]/gu, "");
