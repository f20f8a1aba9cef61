// The search in Chromium, its processor slowed four times, beside a general-purpose library:
//   node tests/speed/search/run.js
// needs what `tests/run browser` installs. It prints figures, and fails where a promise is broken.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gunzipSync, gzipSync } from "node:zlib";
import { Dice, slip } from "./slips.js";
import { answers } from "./page.js";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const installed = join(root, "tests", "browser", "node_modules");
const { chromium } = createRequire(join(installed, "x.js"))("playwright-core");
const other = readFileSync(join(installed, "minisearch", "dist", "umd", "index.js"), "utf8");
const engine = gunzipSync(readFileSync(join(process.env.ENGINE_UNDER_TEST ?? join(root, "themes", "engine"), "search.wasm.gz")));
const SLOWED = 4;
const QUERIES = 300;

/** Sections of the Markdown that came with the packages: text that nobody here wrote or tuned to. */
function packageText() {
  const sections = [];
  for (const path of readdirSync(installed, { recursive: true }).map(String).sort()) {
    if (!/\.(md|markdown)$/i.test(path)) continue;
    let title = "";
    let text = "";
    const close = () => { if (title && text.trim()) sections.push({ title, text: text.replace(/\s+/g, " ").trim() }); };
    for (const line of readFileSync(join(installed, path), "utf8").split("\n")) {
      const heading = /^#{1,4}\s+(.*)/.exec(line);
      if (!heading) { text += ` ${line}`; continue; }
      close();
      [title, text] = [heading[1].replace(/[`*#\[\]]|\(http[^)]*\)/g, "").trim(), ""];
    }
    close();
  }
  return sections;
}

/** The index of these sections, or of the generated handbook. */
function index(folder, sections) {
  const from = sections ? [join(folder, "from.tsv")] : [];
  if (sections) writeFileSync(from[0], sections.map(({ title, text }) => `${title}\t${text}\n`).join(""));
  const run = ["run", "--quiet", "--release", "-p", "gaugeleaf-lookup", "--example", "measure", "--", "--write", folder, ...from];
  execFileSync("cargo", run, { cwd: root, stdio: ["ignore", "inherit", "inherit"] });
  const lines = readFileSync(join(folder, "documents.tsv"), "utf8").trimEnd().split("\n");
  const documents = lines.map((line, id) => ({ id, title: line.split("\t")[0], text: line.split("\t")[1] ?? "" }));
  return { bytes: readFileSync(join(folder, "index")), texts: readFileSync(join(folder, "texts")), documents };
}

/** Titles of one kind only, each as it is and with one slip in its longest word. */
function queries(documents, dice) {
  const times = new Map();
  const key = (title) => title.toLowerCase();
  for (const { title } of documents) times.set(key(title), (times.get(key(title)) ?? 0) + 1);
  const titles = documents.map(({ title }) => title).filter((title) => times.get(key(title)) === 1 && /[a-z]{5}/i.test(title) && title.split(" ").length > 1);
  const chosen = Array.from({ length: Math.min(QUERIES, titles.length) }, () => titles[dice.below(titles.length)]);
  return chosen.map((title) => ({ title, exact: title, slipped: slip(title, dice) }));
}

const part = (some, all) => `${((100 * some) / all).toFixed(1)} %`;

function report(name, kind, ran) {
  const all = ran.times.length;
  const sorted = [...ran.times].sort((a, b) => a - b);
  console.log(`  ${name.padEnd(12)} ${kind.padEnd(8)} first ${part(ran.first, all)}, in three ${part(ran.third, all)}, nothing ${part(ran.nothing, all)}; ` +
    `median ${sorted[all >> 1].toFixed(2)} ms, 99 % ${sorted[Math.floor(all * 0.99)].toFixed(2)} ms`);
  return { third: ran.third / all, median: sorted[all >> 1], late: sorted[Math.floor(all * 0.99)] };
}

async function measure(browser, name, folder, sections) {
  const { bytes, texts, documents } = index(folder, sections);
  const text = Buffer.from(documents.map(({ title, text }) => `${title}\n${text}\n`).join(""));
  const asked = queries(documents, new Dice(11));
  const page = await browser.newPage();
  await page.addScriptTag({ content: other });
  const slow = await page.context().newCDPSession(page);
  await slow.send("Emulation.setCPUThrottlingRate", { rate: SLOWED });
  const ran = await page.evaluate(answers, { engine: engine.toString("base64"), index: bytes.toString("base64"), texts: texts.toString("base64"), documents, asked });
  await page.close();
  const packed = (bytes) => gzipSync(bytes, { level: 9 }).length;
  const [weight, textsWeight, otherWeight, whole] = [bytes, texts, ran.other.index, text].map(packed);
  console.log(`${name}: ${documents.length} sections, ${text.length} bytes of text, gzipped ${whole}; ${asked.length} queries, processor slowed ${SLOWED} times`);
  console.log(`  index gzipped: ours ${weight} (${part(weight, text.length)} of the text's bytes), the library's ${otherWeight}; both give titles only`);
  console.log(`  texts for excerpts gzipped: ${textsWeight}, so ${part(weight + textsWeight, text.length)} with the index; the library shows none`);
  console.log(`  memory: the engine's ${ran.alone.memory} bytes with the index, ${ran.whole.memory} with the texts; opened in ${ran.opened.toFixed(0)} and ${ran.textsOpened.toFixed(0)} ms, the library's built in ${ran.other.built.toFixed(0)} ms`);
  const ours = report("index alone", "exact", ran.alone.exact);
  const slipped = report("index alone", "one slip", ran.alone.slipped);
  const late = report("with texts", "exact", ran.whole.exact);
  const lateSlipped = report("with texts", "one slip", ran.whole.slipped);
  report("the library", "exact", ran.other.exact);
  const theirs = report("the library", "one slip", ran.other.slipped);
  return { weight, share: weight / text.length, otherWeight, runs: [ours, slipped, late, lateSlipped], slips: [slipped, lateSlipped], theirs };
}

const folder = mkdtempSync(join(tmpdir(), "gaugeleaf-speed-"));
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu"] });
try {
  const large = await measure(browser, "generated handbook, 2,000 pages", folder, null);
  const foreign = await measure(browser, "text that came with npm packages", folder, packageText());
  const kept = [
    ["the index takes at most 20 % of the text's bytes", large.share <= 0.2],
    ["a query's median is under 5 ms", large.runs.every(({ median }) => median < 5)],
    ["99 % of queries take under 20 ms", large.runs.every(({ late }) => late < 20)],
    ["98 % of queries with one slip are right in three", foreign.slips.every(({ third }) => third >= 0.98)],
    ["the index is smaller than the library's", [large, foreign].every(({ weight, otherWeight }) => weight < otherWeight)],
  ];
  for (const [promise, holds] of kept) console.log(`${holds ? "kept  " : "BROKEN"} ${promise}`);
  process.exitCode = kept.every(([, holds]) => holds) ? 0 : 1;
} finally {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
