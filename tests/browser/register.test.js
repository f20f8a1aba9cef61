// The register, and records that are carried as files.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { alter, known, named, person, phone, ready, register, role, said, sign, today } from "./support/training.js";

const it = reader();

test("the register lists everybody's sign-offs with how they stand, and keeps them as a file that no spreadsheet runs", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page, { language: '=1+1 "x"' });
    await page.goto(page.url().replace(role, register));
    await page.locator(".register-table tbody tr").nth(1).waitFor();
    const lines = await page.locator(".register-table tbody tr").allInnerTexts();
    assert.ok(lines.some((line) => /Lance operator[^]*counts/.test(line) && line.includes("Mara Quist")), lines.join("\n"));
    const [file] = await Promise.all([page.waitForEvent("download"), page.locator(".register-csv").click()]);
    const csv = await readFile(await file.path(), "utf8");
    assert.match(csv, /^\ufeff"Name","Role","Stands","Until","Signed","Assessor"/);
    assert.ok(csv.includes(`"'=1+1 ""x"""`), csv);
    assert.equal(csv.trim().split("\r\n").length, lines.length + 1);
    assert.deepEqual(await violations(page), []);
    page.once("dialog", (dialog) => dialog.accept());
    await page.locator(".register-remove").click();
    assert.equal(await said(page, ".register-said"), "No sign-off is kept on this device.");
  }, phone));

test("a record is carried as a file, put together with what another device holds, and no other file is taken", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page);
    await page.goto(page.url().replace(role, register));
    const [file] = await Promise.all([page.waitForEvent("download"), page.locator(".carry-keep").click()]);
    const text = await readFile(await file.path(), "utf8");
    const before = await person(page);
    const take = async (content, name = "record.json") => {
      await page.locator(".carry-said").evaluate((line) => { line.textContent = ""; });
      await page.locator(".carry-take").setInputFiles({ name, mimeType: "application/json", buffer: Buffer.from(content) });
      await page.locator(".carry-said:not(:empty)").waitFor();
      return said(page, ".carry-said");
    };
    await page.evaluate(() => localStorage.clear());
    await page.reload();
    assert.equal(await take(text), "The record of Mara Quist was taken in, and is in hand.");
    assert.deepEqual(await person(page), before);
    // Again, with one more try and an end: both are there once.
    const other = JSON.parse(text);
    other.person.signed[role][0].ended = { when: "2026-11-11", why: "an incident" };
    other.person.tests["training/fit.html"].push({ when: "2026-11-12", by: "", passed: false });
    page.on("dialog", (dialog) => dialog.accept());
    await take(JSON.stringify(other));
    const after = await person(page);
    assert.equal(after.signed[role].length, 1);
    assert.equal(after.signed[role][0].ended.why, "an incident");
    assert.equal(after.tests["training/fit.html"].length, 2);
    for (const wrong of ["", "{}", "[1]", text.slice(0, 900), text.replace('"version":1', '"version":2'), text.replace('"passed":true', '"passed":"yes"'), text.replace('"ground":{"', '"ground":{"https://')]) {
      assert.match(await take(wrong, "odd.json"), /^odd\.json is no training record, or was damaged on its way\./);
    }
    assert.deepEqual(await person(page), after);
    assert.deepEqual(await violations(page), []);
  }, phone));

test("a damaged record breaks no page, counts for nobody, stays as it is, and the register says so", () =>
  it.visit(role, async (page) => {
    await known(page);
    await named(page);
    const damaged = [null, 7, { version: 1, name: "Jon Vale" }, { version: 2, name: "Pia Lund" }, { version: 1, name: "Ana", tests: { a: [{ passed: true }] }, tasks: {}, strokes: {}, signed: {} }];
    await page.evaluate((damaged) => {
      const { store } = globalThis.gaugeleaf;
      store.set("people", { ...store.get("people"), ...Object.fromEntries(damaged.map((one, at) => [`x${at}`, one])) });
    }, damaged);
    await page.goto(page.url().replace(role, register));
    await page.locator(".register-as-of:not(:empty)").waitFor();
    assert.equal(await said(page, ".register-said"), "No sign-off is kept on this device. Records on this device that can't be read: ?, ?, Jon Vale, Pia Lund, Ana. They stay as they are. Go by their paper sheets.");
    await named(page, "pia  LUND");
    assert.equal(await said(page, ".person-said"), "A record of pia LUND on this device can't be read. Go by their paper sheet, and ask the lead.");
    await named(page, "Nils Ost");
    const kept = await page.evaluate(() => Object.entries(globalThis.gaugeleaf.store.get("people")).filter(([id]) => id.startsWith("x")).map(([, one]) => one));
    assert.deepEqual(kept, damaged);
    assert.equal(await page.locator(".person-pick option").count(), 3);
  }, phone));

test("records that can't be read at all are set aside before anything is written over them", () =>
  it.visit(register, async (page) => {
    await page.locator(".register-as-of:not(:empty)").waitFor();
    const key = await page.evaluate(() => globalThis.gaugeleaf.store.own("people"));
    await page.evaluate((key) => localStorage.setItem(key, '{"x": {"version": 1, "na'), key);
    for (const turn of [1, 2]) {
      await page.reload();
      await page.locator(".register-as-of:not(:empty)").waitFor();
      assert.match(await said(page, ".register-said"), /Records on this device that can't be read: \?\./, `${turn}`);
      if (turn === 1) await named(page, "Nils Ost");
    }
    assert.ok((await page.evaluate((key) => localStorage.getItem(`${key}/damaged`), key)).includes('"na'));
    assert.equal((await person(page)).name, "Nils Ost");
  }, phone));

test("strokes of one day beside one person are counted once, whichever device was told", () =>
  it.visit(role, async (page) => {
    await known(page);
    await named(page);
    const strokes = (...days) => Object.fromEntries([[role, days.map(([when, count, at, by = "Leo Brand"]) => ({ when, count, at, by }))]]);
    await page.evaluate((held) => globalThis.gaugeleaf.people.change((person) => { person.strokes = held; }), strokes(["2026-11-24", 20, 1], ["2026-11-25", 10, 3]));
    const record = await person(page);
    await page.goto(page.url().replace(role, register));
    await page.locator(".register-as-of:not(:empty)").waitFor();
    page.on("dialog", (dialog) => dialog.accept());
    const took = async (held) => {
      const file = JSON.stringify({ kind: "training-record", person: { ...record, strokes: held } });
      await page.locator(".carry-take").setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(file) });
      await page.locator(".carry-said:not(:empty)").waitFor();
      await page.locator(".carry-said").evaluate((line) => { line.textContent = ""; });
      return (await person(page)).strokes[role].map(({ when, count, taken }) => `${when} ${count}${taken ? " taken" : ""}`);
    };
    assert.deepEqual(await took(strokes(["2026-11-24", 20, 2])), ["2026-11-24 20", "2026-11-25 10"]);
    assert.deepEqual(await took(strokes(["2026-11-24", 15, 4], ["2026-11-24", 15, 5, "leo  brand"], ["2026-11-26", 5, 6])), ["2026-11-24 15", "2026-11-24 15", "2026-11-25 10", "2026-11-26 5"]);
    assert.deepEqual(await took(strokes(["2026-11-25", 7, 7, "Ann Lund"])), ["2026-11-24 15", "2026-11-24 15", "2026-11-25 10", "2026-11-25 7", "2026-11-26 5"]);
    // what was taken back stays so, whatever an older file says
    await alter(page, (held) => { for (const one of Object.values(held.strokes).flat()) if (one.when === "2026-11-25") one.taken = true; });
    await took(strokes(["2026-11-25", 4, 8]));
    assert.deepEqual(await took(strokes(["2026-11-25", 10, 3], ["2026-11-25", 7, 7, "Ann Lund"])), ["2026-11-24 15", "2026-11-24 15", "2026-11-25 10 taken", "2026-11-25 7 taken", "2026-11-25 4", "2026-11-26 5"]);
  }, phone));

test("an incident is told in the register without a sign-off too, and a file of nearly that name is asked about", () =>
  it.visit(role, async (page) => {
    await known(page);
    await named(page);
    await alter(page, (held) => { held.incidents.push({ when: "2026-11-20", why: "a near miss" }); });
    const file = await page.evaluate(() => JSON.stringify({ kind: "training-record", person: { ...globalThis.gaugeleaf.people.person(), name: "M. Quist" } }));
    await alter(page, (held) => { held.incidents = []; });
    await page.goto(page.url().replace(role, register));
    await page.locator(".register-as-of:not(:empty)").waitFor();
    assert.equal(await page.locator(".register-table tbody tr").count(), 0);
    const asked = [];
    // one person, whose records are put together; a question waved away takes nothing in
    const answers = [false, false, false, true];
    page.on("dialog", (dialog) => { asked.push(dialog.message()); void (answers.shift() ? dialog.accept() : dialog.dismiss()); });
    await page.locator(".carry-take").setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(file) });
    await page.waitForFunction(() => globalThis.document.querySelector(".carry-take").value === "");
    assert.equal(await page.locator(".register-table tbody tr").count(), 0);
    await page.locator(".carry-take").setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(file) });
    await page.locator(".carry-said:not(:empty)").waitFor();
    const question = "Mara Quist and M. Quist are nearly the same name. Are they two people?";
    const sure = "There is a record of Mara Quist on this device. Is it the same person? The two are put together.";
    assert.deepEqual(asked, [question, sure, question, sure]);
    assert.equal(await said(page, ".carry-said"), "The record of Mara Quist was taken in, and is in hand.");
    const [line = ""] = await page.locator(".register-table tbody tr").allInnerTexts();
    assert.ok(line.includes("Mara Quist") && line.includes("Ended on 2026-11-20: a near miss."), line);
    await page.locator(".register-remove").click();
    assert.match(asked[4] ?? "", /holds an end, an incident or a fail/);
    await named(page, "Mara Qvist");
    assert.equal(await said(page, ".person-said"), "Choose Mara Quist in the list above.");
  }, phone));

test("a file puts no fail behind a pass, and an end on either device ends what stood on it", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page);
    // a fail, kept while the clock was wrong
    await alter(page, (held) => held.tests["training/fit.html"].push({ when: "2026-01-01", by: "", passed: false }));
    const other = await page.evaluate(() => {
      const { people } = globalThis.gaugeleaf;
      const one = structuredClone(people.person());
      one.tests["training/fit.html"].length = 1;
      one.tests["training/fit.html"].push({ ...one.tests["training/fit.html"][0], when: "2026-01-03", try: 77 });
      const [signed] = one.signed["training/helper.html"];
      one.signed["training/helper.html"] = [{ ...signed, when: "2026-01-03", ended: { when: people.today(), why: "an incident" } }];
      // both devices ended it, each for its own reason
      const [own] = one.signed["training/observer.html"];
      one.signed["training/observer.html"] = [{ ...own, ended: { when: "2026-01-02", why: "new equipment" } }];
      people.change((held) => { held.signed["training/observer.html"][0].ended = { when: people.today(), why: "an incident" }; });
      return JSON.stringify({ kind: "training-record", person: one });
    });
    page.on("dialog", (dialog) => dialog.accept());
    await page.goto(page.url().replace(role, register));
    await page.locator(".register-table tbody tr").first().waitFor();
    await page.locator(".carry-take").setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(other) });
    await page.locator(".carry-said:not(:empty)").waitFor();
    const tries = (await person(page)).tests["training/fit.html"];
    assert.deepEqual(tries.map(({ passed }) => passed), [true, true, false]);
    assert.deepEqual((await person(page)).signed["training/observer.html"][0].ended, { when: today(), why: "an incident; new equipment" });
    const lines = await page.locator(".register-table tbody tr").allInnerTexts();
    assert.ok(lines.filter((line) => /Helper|Lance/.test(line)).every((line) => /Counts no more|Ended on/.test(line)), lines.join("\n"));
    assert.equal(await said(page, ".register-as-of"), `As of ${today()}`);
  }, phone));
