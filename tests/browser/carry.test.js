// A job travels to another phone: everything that was given, when it was taken, and what was refused.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { every, holds, keptJobs, measure, opened, ready, sideways, told, unfolded } from "./support/job.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 320, height: 640 }, hasTouch: true };
const decoder = readFileSync(createRequire(import.meta.url).resolve("jsqr"), "utf8");

test("everything that was given arrives the same: each value with its day, the note, the kit, what was refused", async () => {
  const parts = {
    name: "Unit 7 & 8",
    note: "north head, 2 plugs",
    kit: "yard-drive",
    refused: { channel_depth: { text: "140", unit: "in", label: "Channel head depth" } },
  };
  /** @type {Record<string, string>} */
  const days = { channel_depth: "2026-11-25", tube_od: "date not known", tube_length: "on T2" };
  const sent = await it.visit("jobs.html", async (page) => {
    await opened(page);
    const values = Object.entries(await every(page));
    const given = Object.fromEntries(values.map(([name, text]) => [name, { text, when: days[name] ?? "2026-11-26" }]));
    await page.evaluate((parts) => gaugeleaf.jobs.add(parts), { ...parts, given });
    await page.reload();
    await opened(page);
    await page.locator(".job-share").click();
    const link = (await page.locator(".share-words").textContent()) ?? "";
    await page.getByText("Show QR code").click();
    await page.locator(".share-code svg").waitFor();
    return { link, given };
  });
  assert.ok(Object.keys(sent.given).length >= 20);
  await it.visit(`jobs.html${sent.link.slice(sent.link.indexOf("#"))}`, async (page) => {
    const dialog = page.locator(".take-over");
    await dialog.locator(".yes").waitFor();
    const words = plain(await dialog.innerText());
    assert.match(words, /measured 25 Nov 2026/);
    assert.match(words, /measured, date not known/);
    assert.match(words, /140 in was not taken on the other phone/);
    await dialog.locator(".yes").click();
    await page.waitForFunction(() => globalThis.gaugeleaf?.store.kept() !== undefined);
    const { version, made, ...arrived } = await page.evaluate(() => gaugeleaf.store.kept());
    assert.deepEqual(arrived, { ...parts, given: sent.given });
  });
});

for (const [what, part, says] of /** @type {const} */ ([
  ["another handbook", "of=other-yard&rev=1", /comes from another handbook, other-yard/],
  ["another revision", "of=HANDBOOK&rev=0", /made with revision 0 of the handbook\. This is revision 1/],
  ["a kit that is not here", "of=HANDBOOK&rev=1&kit=big-drive", /Its kit, big-drive, is not in this handbook/],
])) {
  test(`a job of ${what} says so before it is taken over`, () =>
    it.visit("jobs.html", async (page) => {
      await opened(page);
      const handbook = await page.evaluate(() => document.documentElement.dataset.handbook ?? "");
      const line = `job=Dock&v=2&${part.replace("HANDBOOK", handbook)}&day=2026-11-26&channel_depth=14+in`;
      await page.evaluate((line) => { location.hash = `#${line}`; }, line);
      const dialog = page.locator(".take-over");
      await dialog.locator(".yes").waitFor();
      assert.match(plain(await dialog.locator(".take-over-warning").innerText()), says);
      assert.deepEqual(await violations(page), []);
    }, phone));
}

test("a job of a newer handbook is refused, kept unread, told in the list and carried on as it is", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await holds(page, "channel_depth", "14 in");
    const newer = { version: 3, name: "Far", hose: [1, 2] };
    const line = `job=Far&v=3&raw=${encodeURIComponent(JSON.stringify(newer))}`;
    await page.evaluate((line) => { location.hash = `#${line}`; }, line);
    const dialog = page.locator(".take-over");
    await dialog.getByText("Keep it unread").click();
    assert.match(plain(await dialog.innerText()), /A newer handbook made this job\. It can't be read here, so nothing was taken over/);
    assert.equal(await dialog.locator(".yes").count(), 0);
    assert.deepEqual(await violations(page), []);
    await page.reload();
    await opened(page);
    await holds(page, "channel_depth", "14 in");
    assert.match(plain(await page.locator(".job-newer li").innerText()), /^Far: made by a newer handbook\./);
    assert.equal(await page.locator(".job-pick option:disabled").innerText(), "Far: made by a newer handbook");
    await page.getByText("Carry Far on").click();
    const words = (await page.locator(".share-words").textContent()) ?? "";
    const carried = new URLSearchParams(words.slice(words.indexOf("#") + 1));
    assert.deepEqual(JSON.parse(carried.get("raw") ?? ""), newer);
    // whatever is done with the others leaves it as it is
    await measure(page, "channel_depth", "15");
    await holds(page, "channel_depth", "15 in");
    const all = Object.values(await keptJobs(page));
    assert.deepEqual(all.find((job) => job.version === 3), newer);
  }));

test("a job's link and its QR code carry it into a fresh profile, which asks first", async () => {
  const { link, codes } = await it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "1' 2 1/8\"");
    await measure(page, "tube_length", "14 ft");
    await unfolded(page, "layout");
    await page.locator(".job-form [data-input='layout'] input[value='60']").check({ force: true });
    await page.locator(".job-name-text").fill("Unit 7 & 8, 50% + rest");
    await page.locator(".job-name-text").blur();
    await page.locator(".job-share").click();
    const words = page.locator(".share-words");
    await words.waitFor();
    assert.equal(await sideways(page), 0);
    await page.getByText("Show QR code").click();
    await page.locator(".share-code svg").waitFor();
    assert.deepEqual(await violations(page), []);
    await page.evaluate(decoder);
    return { link: (await words.textContent()) ?? "", codes: await page.evaluate(read) };
  }, phone);
  assert.equal(codes.plain, link);
  assert.equal(codes.quiet, true);
  assert.deepEqual(new Set(codes.glared), new Set([link]));
  // what equals the handbook's own is carried too: another revision may print another value
  assert.match(link, /&tube_length=14\+ft/);

  await it.visit(`fit/guide-tubes.html${link.slice(link.indexOf("#"))}`, async (page) => {
    const dialog = page.locator(".take-over");
    await dialog.locator(".yes").waitFor();
    assert.match(plain(await dialog.innerText()), /Unit 7 & 8, 50% \+ rest.*Channel head depth.*1\.177083333 ft = 14 1\/8 in/s);
    assert.deepEqual(await keptJobs(page), {});
    assert.deepEqual(await violations(page), []);
    assert.equal(await sideways(page), 0);
    await dialog.locator(".yes").click();
    await ready(page);
    assert.equal(await told(page, "guide-tube-length.length"), "26 7/8 in");
    assert.doesNotMatch(page.url(), /job=/);
  }, phone);
});

/** Reads the code off a canvas: as it stands, and with a white disc over a part of it in twenty places. */
async function read() {
  const svg = /** @type {SVGElement} */ (document.querySelector(".share-code svg"));
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(svg.outerHTML)}`;
  await image.decode();
  const side = 600;
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = side;
  const paint = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d", { willReadFrequently: true }));
  const decode = () => globalThis.jsQR(paint.getImageData(0, 0, side, side).data, side, side)?.data;
  paint.drawImage(image, 0, 0, side, side);
  const modules = svg.viewBox.baseVal.width;
  const edge = paint.getImageData(0, 0, side, Math.floor((4 * side) / modules)).data;
  const found = { plain: decode(), quiet: edge.every((part) => part > 250), glared: [] };
  const radius = Math.sqrt((0.06 * side * side) / Math.PI);
  for (let at = 0; at < 20; at += 1) {
    paint.drawImage(image, 0, 0, side, side);
    paint.fillStyle = "#fff";
    paint.beginPath();
    // Away from the four marks by which a reader finds the code.
    const [column, row] = [at % 5, Math.floor(at / 5)];
    paint.arc(side * (0.42 + 0.04 * column), side * (0.42 + 0.04 * row), radius, 0, 2 * Math.PI);
    paint.fill();
    found.glared.push(decode());
  }
  return found;
}

test("a link's refused and unusual values are told, and only what is understood is taken", () =>
  it.visit("index.html#job=Dock&channel_depth=14+in&bolt_circle=2+psi&no_such=1&stop_opening=2+mm", async (page) => {
    const dialog = page.locator(".take-over");
    await dialog.locator(".yes").waitFor();
    const text = plain(await dialog.innerText());
    assert.match(text, /Not taken: `2 psi` is a pressure, and a length is wanted/);
    assert.match(text, /Not taken: there is no measurement or rating `no_such`/);
    assert.match(text, /An older handbook made this link\. It does not say when/);
    assert.match(text, /2 mm.*Unusual: .*outside the usual/);
    await dialog.locator(".yes").click();
    await ready(page);
    const [job] = Object.values(await keptJobs(page));
    const when = "date not known";
    assert.deepEqual(job.given, { channel_depth: { text: "14 in", when }, stop_opening: { text: "2 mm", when } });
    // what this handbook refuses stays in the job as not taken
    assert.deepEqual(job.refused, { bolt_circle: { text: "2 psi", unit: "", label: "Bolt circle diameter" } });
  }));

test("from a plain folder a job travels as one line", () =>
  it.visit("jobs.html", async (page) => {
    await opened(page);
    await measure(page, "channel_depth", "14");
    await page.locator(".job-share").click();
    const words = page.locator(".share-words");
    await words.waitFor();
    const day = await page.evaluate(() => gaugeleaf.jobs.today());
    assert.match(day, /^20\d\d-\d\d-\d\d$/);
    const { handbook, revision } = await page.evaluate(() => ({
      ...document.documentElement.dataset,
      .../** @type {HTMLElement} */ (document.querySelector(".job-bar")).dataset,
    }));
    assert.equal(await words.textContent(), `job=My+job&v=2&of=${handbook}&rev=${revision}&kit=yard-drive&day=${day}&channel_depth=14+in`);
    assert.match(await page.locator(".job-share-part").innerText(), /needs the same handbook/);
    await page.locator(".job-take").click();
    await page.locator(".job-paste").fill("job=Other&channel_depth=9+in");
    await page.locator(".job-look").click();
    await page.locator(".take-over .yes").click();
    await opened(page);
    await holds(page, "channel_depth", "9 in");
  }, { from: "file" }));
