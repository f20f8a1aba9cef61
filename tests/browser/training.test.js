// Tasks that an assessor watches, the way to a sign-off, and the register: kept on the device, and on paper.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { letters, printed } from "./support/paper.js";
import { pages, read } from "./support/site.js";
import { plain } from "./support/widget.js";

const it = reader();
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };
const holds = (path, part) => read(path).includes(part);
const tasks = pages.filter((path) => holds(path, 'class="task"'));
const roles = pages.filter((path) => holds(path, 'class="role"'));
const task = tasks[0] ?? "";
const role = "training/lance-operator.html";
const register = pages.find((path) => holds(path, 'class="register"')) ?? "";

async function named(page, name = "Mara Quist") {
  const more = page.locator(".person-more");
  if (!(await more.evaluate((one) => one.open))) await more.locator("summary").click();
  await page.locator(".person-name").fill(name);
  await page.locator(".person-add").click();
}

/** Marks every line, each as `mark` says. */
async function watch(page, mark = (critical) => (critical ? "seen" : "seen"), by = "Ole Brandt") {
  for (const line of await page.locator(".task-lines > li").all()) {
    const critical = (await line.getAttribute("data-critical")) !== null;
    await line.locator(`input[value="${mark(critical)}"]`).click();
  }
  await page.locator(".task-by").fill(by);
  await page.locator(".task-keep").click();
}

const said = async (page, selector) => plain(await page.locator(selector).innerText());
const person = (page) => page.evaluate(() => globalThis.gaugeleaf.people.person());

test("every task has 8 to 15 lines, some of them critical, and its pages to read", () => {
  assert.ok(tasks.length >= 15, `${tasks.length}`);
  for (const path of tasks) {
    const html = read(path).toString();
    const lines = html.match(/data-seen=/g)?.length ?? 0;
    assert.ok(lines >= 8 && lines <= 15, `${path}: ${lines} lines`);
    assert.ok((html.match(/<li data-seen="?[^>]*data-critical/g)?.length ?? 0) > 0, `${path} has no critical line`);
  }
});

test("a task is shown where every critical line was seen unprompted, on two days", () =>
  it.visit(task, async (page) => {
    await page.locator(".task-keep").click();
    assert.equal(await said(page, ".task-said"), "Choose whose record it is first.");
    await named(page);
    await page.locator(".task-keep").click();
    assert.match(await said(page, ".task-said"), /^\d+ of \d+ lines are not marked yet\.$/);
    await watch(page, undefined, "mara quist");
    assert.equal(await said(page, ".task-said"), "Nobody assesses themselves.");
    await page.locator(".task-by").fill("Ole Brandt");
    await page.locator(".task-keep").click();
    assert.equal(await said(page, ".task-said"), "Kept: shown on this day.");
    await watch(page);
    const first = await person(page);
    assert.equal(first.tasks[task].length, 2);
    assert.ok(!(await page.evaluate((path) => globalThis.gaugeleaf.people.shown(globalThis.gaugeleaf.people.person().tasks[path]), task)), "twice on one day counted");
    await page.evaluate((path) => globalThis.gaugeleaf.people.change((held) => { held.tasks[path][0].when = "2026-01-05"; }), task);
    assert.equal(await page.locator(".task").getAttribute("data-is"), "shown");
    assert.deepEqual(await violations(page), []);
  }, phone));

test("one critical line prompted fails the task, and so does any line not seen; others may be prompted", () =>
  it.visit(task, async (page) => {
    await named(page);
    await watch(page, (critical) => (critical ? "seen" : "prompted"));
    assert.equal(await said(page, ".task-said"), "Kept: shown on this day.");
    let first = true;
    await watch(page, (critical) => {
      const one = critical && first;
      if (one) first = false;
      return one ? "prompted" : "seen";
    });
    assert.match(await said(page, ".task-said"), /^Kept: not shown\. A critical line/);
    await watch(page, (critical) => (critical ? "seen" : "missed"));
    assert.match(await said(page, ".task-said"), /^Kept: not shown\. A line was not seen/);
    // Two fails in a row: somebody goes through it first.
    assert.ok(await page.locator(".task-keep").isDisabled());
    await page.locator(".remedy-by").fill("Ole Brandt");
    await page.locator(".remedy button").click();
    assert.ok(await page.locator(".task-keep").isEnabled());
    const tries = (await person(page)).tasks[task];
    assert.deepEqual(tries.map((one) => [one.passed, one.remedy === true]), [[true, false], [false, false], [false, false], [false, true]]);
  }, phone));

test("marks stay over a reload, for the one in hand alone, and the last occasion can be taken back", () =>
  it.visit(task, async (page) => {
    await named(page);
    await page.locator('.task-lines > li:nth-child(2) input[value="prompted"]').click();
    await page.reload();
    assert.equal(await page.locator(".task-lines input:checked").count(), 1);
    await named(page, "Jon Vale");
    assert.equal(await page.locator(".task-lines input:checked").count(), 0);
    await watch(page);
    await page.locator(".task-back").click();
    assert.equal(((await person(page)).tasks[task] ?? []).length, 0);
    await page.locator(".person-pick").selectOption({ label: "Mara Quist" });
    assert.equal(await page.locator(".task-lines input:checked").count(), 1);
  }, phone));

test("a task's keys are at least 64 pixels tall, and its sheet prints with boxes for two days on two sides", () =>
  it.visit(task, async (page) => {
    const small = await page.locator(".seen-marks label, .task-bar :is(button, .entry)").evaluateAll((all) =>
      all.filter((one) => one.checkVisibility()).filter((one) => one.getBoundingClientRect().height < 63.5).map((one) => one.outerHTML.slice(0, 80)));
    assert.deepEqual(small, []);
    const paper = letters(await printed(page));
    for (const part of ["Day 1", "Day 2", "not seen", "assessor (names and signatures)", "what to set up"]) {
      assert.ok(paper.includes(letters(part)), `the sheet lacks ${part}`);
    }
  }, phone));

/** A record of somebody who has everything behind them that the role wants, but for what `but` takes back. */
async function ready(page, but = "") {
  await named(page);
  await page.evaluate((but) => {
    const { people } = globalThis.gaugeleaf;
    const days = [people.later(people.today(), -2), people.later(people.today(), -1)];
    const links = (kind) => [...document.querySelectorAll(`tr[data-kind=${kind}] a`)].map((link) => people.place(link));
    people.change((held) => {
      for (const page of links("first")) held.signed[page] = { role: "first", places: [], when: "2026-01-02", until: "2999-01-01", assessor: "Ole Brandt", teacher: "Ida Moss", language: "English", revision: "1", ground: {} };
      for (const page of links("tests")) held.tests[page] = [{ when: days[0], by: "", passed: true, right: 9, of: 10, set: "A", try: 1 }];
      for (const page of links("tasks")) held.tasks[page] = days.map((when) => ({ when, by: "Ole Brandt", passed: true }));
      held.strokes.push({ when: "2026-02-06", count: 500, by: "Ole Brandt" });
      if (but === "test") held.tests[links("tests")[0]].push({ when: days[1], by: "", passed: false, right: 1, of: 10, set: "A", try: 2 });
      if (but === "day") for (const one of held.tasks[links("tasks")[0]]) one.when = days[0];
      if (but === "old test") held.tests[links("tests")[0]] = [{ when: "2021-02-09", by: "", passed: true, right: 9, of: 10, set: "A", try: 2 }];
      if (but === "old task") held.tasks[links("tasks")[0]][0].when = "2021-02-09";
      if (but === "strokes") held.strokes = [{ when: "2026-02-06", count: 1, by: "Ole Brandt" }];
      if (but === "first") for (const page of links("first")) held.signed[page].until = "2026-02-01";
    });
  }, but);
}

/** Fills in the sign-off, but for what `but` writes otherwise. @param {Record<string, string | boolean>} [but] */
async function sign(page, but = {}) {
  const given = { identity: true, fit: true, language: "English", teacher: "Ida Moss", assessor: "Ole Brandt", ...but };
  for (const [name, value] of Object.entries(given)) {
    const field = page.locator(`.role-sign [name=${name}]`);
    if (typeof value === "boolean") await field.setChecked(value);
    else await field.fill(value);
  }
  // what was said before is no answer to this
  await page.locator(".role-sign-said").evaluate((line) => { line.textContent = ""; });
  await page.locator(".role-sign > button").click();
  await page.locator(".role-sign-said:not(:empty)").waitFor();
  return said(page, ".role-sign-said");
}

test("a role tells what is left, and nobody signs before nothing is", () =>
  it.visit(role, async (page) => {
    const rows = await page.locator("tr[data-kind], tr:has(.role-stroke-state)").count();
    await named(page);
    assert.equal(await said(page, ".role-left"), `${rows} to go before the sign-off.`);
    assert.ok(!(await page.locator(".role-sign").isVisible()));
    for (const but of ["test", "day", "strokes", "first", "old test", "old task"]) {
      await page.evaluate(() => localStorage.clear());
      await page.reload();
      await ready(page, but);
      assert.equal(await said(page, ".role-left"), "1 to go before the sign-off.", but);
      assert.ok(!(await page.locator(".role-sign").isVisible()), but);
    }
    await page.evaluate(() => localStorage.clear());
    await page.reload();
    await ready(page);
    assert.equal(await said(page, ".role-left"), "Nothing is left: an assessor may sign.");
    assert.deepEqual(await violations(page), []);
  }, phone));

test("a sign-off wants who the candidate is, and an assessor who neither is nor taught the candidate", () =>
  it.visit(role, async (page) => {
    await ready(page);
    for (const [but, told] of /** @type {const} */ ([
      [{ identity: false }, "See who the candidate is first."],
      [{ fit: false }, "Ask the site whether the candidate is fit for this work."],
      [{ language: " " }, "Write the language in which it was understood."],
      [{ teacher: "" }, "Write who taught the candidate."],
      [{ assessor: "" }, "Write the assessor's name."],
      [{ assessor: "MARA QUIST" }, "Nobody signs themselves off."],
      [{ assessor: "ida  moss" }, "The assessor may not be the one who taught."],
      [{ teacher: "Ole Brandt", assessor: "Ida Moss" }, "Ole Brandt taught the candidate and assessed a task: somebody else has to see that task."],
    ])) {
      assert.equal(await sign(page, but), told);
      assert.deepEqual((await person(page)).signed[role], undefined);
    }
    assert.equal(await sign(page), "Signed. Print the sheet: paper and this device are the record.");
    const { signed } = await person(page);
    const today = new Date().toLocaleDateString("sv");
    assert.equal(signed[role].when, today);
    assert.equal(signed[role].until.slice(0, 4), `${Number(today.slice(0, 4)) + 1}`);
    assert.equal(await said(page, ".role-signed"), `Counts until ${signed[role].until}.`);
    assert.deepEqual(await page.locator(".role-changes li").count(), 0);
  }, phone));

test("a signed sheet prints on two sides at most, with who, when, until when and what ends it", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page);
    await page.evaluate(() => document.documentElement.classList.add("sheet-alone"));
    const bytes = await page.pdf({ format: "A4" });
    const sides = bytes.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    assert.ok(sides >= 1 && sides <= 2, `${sides} sides`);
    const paper = letters(await printed(page));
    for (const part of ["Mara Quist", "Ole Brandt", "Ida Moss", "English", "Counts until", "Signatures", "after an incident or near miss", "Local codes"]) {
      assert.ok(paper.includes(letters(part)), `the sheet lacks ${part}`);
    }
    assert.ok(!paper.includes(letters("What it allows")), "the page prints with its sheet");
  }, phone));

test("a later revision tells which hazards and values of a sign-off have changed", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page);
    const told = await page.evaluate((role) => {
      const { people } = globalThis.gaugeleaf;
      let [hazardous, valued, name] = ["", "", ""];
      people.change((held) => {
        const { ground } = held.signed[role];
        hazardous = Object.keys(ground).find((page) => ground[page].hazards.length > 0);
        ground[hazardous].hazards.pop();
        valued = Object.keys(ground).find((page) => Object.keys(ground[page].values).length > 0);
        name = Object.keys(ground[valued].values)[0];
        ground[valued].values[name] = "1 furlong";
      });
      return { hazardous, valued };
    }, role);
    await page.locator(".role-changes li").nth(1).waitFor();
    assert.match(await said(page, ".role-signed"), /^2 things that it stands on have changed since revision/);
    const texts = await page.locator(".role-changes a").allInnerTexts();
    assert.ok(texts.some((text) => /(DANGER|WARNING|CAUTION|NOTICE) /.test(text)), texts.join("\n"));
    assert.ok(texts.some((text) => text.includes("was 1 furlong, is ")), texts.join("\n"));
    const links = await page.locator(".role-changes a").evaluateAll((all) => all.map((one) => globalThis.gaugeleaf.people.place(one)));
    assert.deepEqual(new Set(links), new Set([told.hazardous, told.valued]));
  }, phone));

test("a sign-off ends with its time, and where something ends it, with the reason", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page);
    await page.locator(".role-end select").selectOption("incident");
    await page.locator(".role-end button").click();
    assert.match(await said(page, ".role-signed"), /^Ended on \d{4}-\d\d-\d\d: an incident or a near miss\.$/);
    await page.evaluate((role) => globalThis.gaugeleaf.people.change((held) => {
      delete held.signed[role].ended;
      held.signed[role].until = "2026-02-28";
    }), role);
    assert.equal(await said(page, ".role-signed"), "Ended on 2026-02-28: its time was up.");
  }, phone));

test("the register lists everybody's sign-offs with how they stand, and keeps them as a file that no spreadsheet runs", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page, { language: '=1+1 "x"' });
    await page.goto(page.url().replace(role, register));
    await page.locator(".register-table tbody tr").nth(1).waitFor();
    const lines = await page.locator(".register-table tbody tr").allInnerTexts();
    assert.ok(lines.some((line) => line.includes("Lance operator") && line.includes("counts") && line.includes("Mara Quist")), lines.join("\n"));
    const [file] = await Promise.all([page.waitForEvent("download"), page.locator(".register-csv").click()]);
    const csv = await readFile(await file.path(), "utf8");
    assert.match(csv, /^\ufeff"Name","Role","Signed","Until","Stands","Assessor"/);
    assert.ok(csv.includes(`"'=1+1 ""x"""`), csv);
    assert.equal(csv.trim().split("\r\n").length, lines.length + 1);
    assert.deepEqual(await violations(page), []);
    page.once("dialog", (dialog) => dialog.accept());
    await page.locator(".register-remove").click();
    assert.equal(await said(page, ".register-said"), "No sign-off is kept on this device.");
  }, phone));

test("each role has tests, tasks and what ends it; the lance operator runs strokes beside somebody", () => {
  assert.equal(roles.length, 6);
  for (const path of roles) {
    const html = read(path).toString();
    for (const kind of ["tests", "tasks"]) assert.ok(html.includes(`data-kind="${kind}"`) || html.includes(`data-kind=${kind}`), `${path} has no ${kind}`);
  }
  assert.match(read(role).toString(), /data-strokes="?[1-9]/);
});

test("marks and what is said are of the one in hand, whichever page chose them", () =>
  it.visit(task, async (page) => {
    await named(page);
    await watch(page);
    await page.evaluate((path) => globalThis.gaugeleaf.people.change((held) => { held.tasks[path][0].when = "2026-01-05"; }), task);
    await watch(page);
    assert.equal(await said(page, ".task-standing"), "Shown on two days.");
    await named(page, "Jon Vale");
    assert.equal(await said(page, ".task-standing"), "");
    await page.locator(".person-pick").selectOption({ label: "Mara Quist" });
    for (const line of await page.locator(".task-lines > li").all()) await line.locator('input[value="seen"]').click();
    // another window takes somebody else in hand
    await page.evaluate(() => {
      const { people, store } = globalThis.gaugeleaf;
      const other = Object.entries(people.all()).find(([, one]) => one.name === "Jon Vale")[0];
      store.set("person", other);
    });
    await page.locator(".task-by").fill("Ole Brandt");
    await page.locator(".task-keep").click();
    assert.match(await said(page, ".task-said"), /^Another record was chosen meanwhile\./);
    assert.equal(((await person(page)).tasks[task] ?? []).length, 0);
    assert.equal(await page.locator(".task-lines input:checked").count(), 0);
  }, phone));

test("a fail stays on record, and marks of another day are none of this", () =>
  it.visit(task, async (page) => {
    await named(page);
    await watch(page, () => "missed");
    assert.ok(!(await page.locator(".task-back").isVisible()));
    await page.locator('.task-lines > li:nth-child(2) input[value="seen"]').click();
    await page.evaluate(() => {
      for (const key of Object.keys(localStorage).filter((key) => key.includes(".task/"))) {
        localStorage.setItem(key, JSON.stringify({ ...JSON.parse(localStorage.getItem(key)), day: "2026-01-05" }));
      }
    });
    await page.reload();
    assert.equal(await page.locator(".task-lines input:checked").count(), 0);
  }, phone));

test("a sign-off that the device doesn't keep counts nowhere", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await page.evaluate(() => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; });
    assert.match(await sign(page), /keeps nothing/);
    assert.equal(await said(page, ".role-signed"), "");
    assert.equal((await person(page)).signed[role], undefined);
  }, phone));

test("where nothing is kept, the page says so", () =>
  it.visit(task, async (page) => {
    await page.evaluate(() => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; });
    await named(page);
    assert.match(await said(page, ".person-said"), /keeps nothing: write it on paper/);
  }, phone));
