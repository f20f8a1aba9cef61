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

const today = () => new Date().toLocaleDateString("sv");
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
    await page.evaluate((path) => globalThis.gaugeleaf.people.change((held) => { Object.assign(held.tasks[path][0], { when: "2026-01-05", at: undefined }); }), task);
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
    // It stays on record, so that no file brings it back.
    assert.deepEqual((await person(page)).tasks[task].map(({ taken }) => taken), [true]);
    assert.equal(await page.locator(".task-occasions li").count(), 0);
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

/** Until the page knows what the role wants. */
const known = (page) => page.locator(".role-left:not(:empty)").waitFor();

test("the sheet of every task prints on two sides at most, signatures and all", { timeout: 240_000 }, () =>
  it.visit(task, async (page) => {
    for (const path of tasks) {
      await page.goto(page.url().replace(/tasks\/[^/]*$/, path));
      const bytes = await page.pdf({ format: "A4" });
      const sides = bytes.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      assert.ok(sides >= 1 && sides <= 2, `${path}: ${sides} sides`);
    }
  }, phone));

/** A record of somebody who has everything behind them that the role wants, but for what `but` takes back. */
async function ready(page, but = "") {
  await known(page);
  await named(page);
  await page.evaluate((but) => {
    const { people, stands, evidence } = globalThis.gaugeleaf;
    const role = document.documentElement.dataset.page;
    const days = [people.later(people.today(), -2), people.later(people.today(), -1)];
    const links = (kind) => [...document.querySelectorAll(`tr[data-kind=${kind}] a`)].map((link) => people.place(link));
    const signed = (page) => {
      const places = evidence.places(stands.role(page));
      return { role: "before", places, when: days[0], until: people.later(days[0], 12), assessor: "Ole Brandt", teacher: "Ida Moss", language: "English", revision: "1", ground: stands.of(places), sheets: false, through: false };
    };
    const before = (page) => [page, ...stands.role(page).first.flatMap(before)];
    people.change((held) => {
      for (const page of links("first").flatMap(before)) held.signed[page] = [signed(page)];
      for (const one of before(role)) {
        const { tests, tasks, among } = stands.role(one);
        for (const page of tests) held.tests[page] = [{ ...people.now(page), when: days[0], by: "", passed: true, right: 9, of: 10, set: "A", try: 1 }];
        for (const page of [...tasks, ...among]) held.tasks[page] = days.map((when) => ({ ...people.now(page), at: undefined, when, by: "Ole Brandt", passed: true }));
        held.strokes[one] = [{ when: days[1], count: 190, by: "Ole Brandt" }];
      }
      if (but === "test") held.tests[links("tests")[0]].push({ when: days[1], by: "", passed: false, right: 1, of: 10, set: "A", try: 2 });
      if (but === "day") for (const one of held.tasks["tasks/plug.html"]) one.when = days[0];
      if (but === "old test") held.tests[links("tests")[0]] = [{ when: "2021-02-09", by: "", passed: true, right: 9, of: 10, set: "A", try: 2 }];
      if (but === "old task") held.tasks["tasks/plug.html"][0].when = "2021-02-09";
      if (but === "strokes") held.strokes[role][0].count = 1;
      if (but === "old strokes") held.strokes[role][0].when = "2021-02-09";
      if (but === "first") for (const page of links("first")) held.signed[page][0].until = "2026-02-01";
      if (but === "first ended") for (const page of links("first")) held.signed[page][0].ended = { when: days[1], why: "an incident" };
      if (but === "first changed") for (const page of links("first")) held.signed[page][0].ground = {};
      if (but === "first of first") for (const page of links("first").flatMap((one) => stands.role(one).first)) held.signed[page] = [];
      if (but === "ahead") held.tests[links("tests")[0]][0].when = "2099-01-01";
    });
  }, but);
}

/** Fills in the sign-off, but for what `but` writes otherwise. @param {Record<string, string | boolean>} [but] */
async function sign(page, but = {}) {
  const given = { identity: true, fit: true, reasons: true, through: true, language: "English", teacher: "Ida Moss", assessor: "Ole Brandt", sheets: true, ...but };
  for (const [name, value] of Object.entries(given)) {
    // asked only where somebody isn't signed off here, or something has changed
    if (["through", "sheets"].includes(name) && !(await page.locator(`.role-${name}`).isVisible())) continue;
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
    const rows = await page.locator("tr[data-kind]").count();
    await known(page);
    await named(page);
    assert.equal(await said(page, ".role-left"), `${rows} to go before the sign-off.`);
    assert.ok(!(await page.locator(".role-sign").isVisible()));
    assert.equal(await said(page, ".role-next"), "Next, for Observer: Test: Rules and first minute");
    for (const but of ["test", "day", "strokes", "old strokes", "first", "first ended", "first changed", "first of first", "old test", "old task", "ahead"]) {
      await page.evaluate(() => localStorage.clear());
      await page.reload();
      await ready(page, but);
      // A test of the helper's too takes the helper's sign-off with it.
      assert.equal(await said(page, ".role-left"), `${["test", "old test", "ahead"].includes(but) ? 2 : 1} to go before the sign-off.`, but);
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
      [{ reasons: false }, "Ask why, for three critical answers, and hear it in own words."],
      [{ language: " " }, "Write the language in which it was understood."],
      [{ teacher: "" }, "Write who taught the candidate."],
      [{ assessor: "" }, "Write the assessor's name."],
      [{ assessor: "MARA QUIST" }, "Nobody signs themselves off."],
      [{ assessor: "ida  moss" }, "The assessor may not be the one who taught."],
      [{ teacher: "Ole Brandt", assessor: "Ida Moss" }, "Ole Brandt taught the candidate and assessed a task: somebody else has to see that task."],
      [{ sheets: false }, "See the signed sheets of those who are not signed off on this device."],
    ])) {
      assert.equal(await sign(page, but), told);
      assert.deepEqual((await person(page)).signed[role], undefined);
    }
    assert.equal(await sign(page), "Signed. Print the sheet: paper and this device are the record.");
    const { signed } = await person(page);
    const [one] = signed[role];
    assert.equal(one.when, today());
    // It counts no longer than the oldest thing that it stands on: tests and a role of two days ago.
    const twelve = await page.evaluate(() => globalThis.gaugeleaf.people.later(globalThis.gaugeleaf.people.later(globalThis.gaugeleaf.people.today(), -2), 12));
    assert.equal(one.until, twelve);
    assert.equal(await said(page, ".role-signed"), `Counts until ${one.until}.`);
    assert.ok(one.sheets && !one.through);
    assert.ok(!(await page.locator(".role-sign").isVisible()), "it asks to sign what is signed");
    assert.deepEqual(await page.locator(".role-changes li").count(), 0);
  }, phone));

test("a signed sheet prints on two sides at most, with who, when, until when and what ends it", { timeout: 120_000 }, () =>
  it.visit(role, async (page) => {
    for (const path of ["training/lead.html", role]) {
      await page.goto(page.url().replace(/training\/[^/]*$/, path));
      await page.evaluate(() => localStorage.clear());
      await page.reload();
      await ready(page);
      await sign(page);
      await page.evaluate(() => document.documentElement.classList.add("sheet-alone"));
      const bytes = await page.pdf({ format: "A4" });
      const sides = bytes.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      assert.ok(sides >= 1 && sides <= 2, `${path}: ${sides} sides`);
    }
    const paper = letters(await printed(page));
    for (const part of ["Mara Quist", "Ole Brandt", "Ida Moss", "English", "Counts until", "three reasons in own words", "Signatures", "after an incident or near miss", "Local codes"]) {
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
        const { ground } = held.signed[role][0];
        hazardous = Object.keys(ground).find((page) => ground[page].hazards.length > 0);
        ground[hazardous].hazards.pop();
        valued = Object.keys(ground).find((page) => Object.keys(ground[page].values).length > 0);
        name = Object.keys(ground[valued].values)[0];
        ground[valued].values[name] = "1 furlong";
      });
      return { hazardous, valued };
    }, role);
    await page.locator(".role-changes li").nth(1).waitFor();
    assert.match(await said(page, ".role-signed"), /^Changed since revision \S+, of what it stands on: 2\./);
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
    page.once("dialog", (dialog) => dialog.accept());
    await page.locator(".role-end button").click();
    assert.match(await said(page, ".role-signed"), /^Ended on \d{4}-\d\d-\d\d: an incident or a near miss\.$/);
    // What was shown before counts no more.
    assert.match(await said(page, ".role-left"), /^\d+ to go before the sign-off\.$/);
    assert.ok(!(await page.locator(".role-sign").isVisible()), "the same evidence signs again at once");
    const ends = await page.locator(".sheet-until").textContent();
    assert.match(ends, /^Ended on/);
    await page.evaluate((role) => globalThis.gaugeleaf.people.change((held) => {
      delete held.signed[role][0].ended;
      held.signed[role][0].until = "2026-02-28";
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

test("each role has tests, tasks and what ends it; the lance operator runs strokes beside somebody", () => {
  assert.equal(roles.length, 6);
  for (const path of roles) {
    const html = read(path).toString();
    for (const kind of ["tests", "tasks"]) assert.ok(html.includes(`data-kind="${kind}"`) || html.includes(`data-kind=${kind}`), `${path} has no ${kind}`);
  }
  assert.match(read(role).toString(), /data-kind="?strokes/);
});

test("marks and what is said are of the one in hand, whichever page chose them", () =>
  it.visit(task, async (page) => {
    await named(page);
    await watch(page);
    await page.evaluate((path) => globalThis.gaugeleaf.people.change((held) => { Object.assign(held.tasks[path][0], { when: "2026-01-05", at: undefined }); }), task);
    await watch(page);
    assert.equal(await said(page, ".task-standing"), `Shown on two days: 2026-01-05 and ${today()}.`);
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
    assert.equal(await said(page, ".role-signed"), "Not signed.");
    assert.equal((await person(page)).signed[role], undefined);
  }, phone));

test("where nothing is kept, the page says so", () =>
  it.visit(task, async (page) => {
    await page.evaluate(() => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; });
    await named(page);
    assert.match(await said(page, ".person-said"), /keeps nothing: write it on paper/);
  }, phone));

test("a later fail, and a role before it that ended, end a sign-off in its page and in the register", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page);
    const states = async () => {
      const [own, there] = [await said(page, ".role-signed"), await page.context().newPage()];
      await there.goto(page.url().replace(role, register));
      await there.locator(".register-table tbody tr").first().waitFor();
      const lines = await there.locator(".register-table tbody tr").allInnerTexts();
      await there.close();
      return [own, lines.find((line) => line.includes("Lance operator")) ?? ""];
    };
    for (const [act, told] of /** @type {const} */ ([
      ["fail", /Counts no more: Task: .* has to be shown again\./],
      ["first", /Counts no more: the role before it, Helper, doesn't count today\./],
      ["ahead", /dated 2099-01-01, a day that is not here yet/],
    ])) {
      await page.evaluate(([role, act]) => globalThis.gaugeleaf.people.change((held) => {
        const { now } = globalThis.gaugeleaf.people;
        if (act === "fail") held.tasks["tasks/plug.html"].push({ ...now(""), by: "Ole Brandt", passed: false });
        if (act === "first") { held.tasks["tasks/plug.html"].pop(); held.signed["training/helper.html"][0].ended = { when: "2026-03-03", why: "taken back" }; }
        if (act === "ahead") { delete held.signed["training/helper.html"][0].ended; held.signed[role][0].when = "2099-01-01"; }
      }), [role, act]);
      const [own, line] = await states();
      assert.match(own, told);
      assert.match(plain(line), told);
    }
  }, phone));

test("what was shown before a sign-off ended counts no more: each test, and each task once more", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page);
    const left = () => said(page, ".role-left");
    await page.evaluate((role) => globalThis.gaugeleaf.people.change((held) => {
      const { people } = globalThis.gaugeleaf;
      const yesterday = people.later(people.today(), -1);
      Object.assign(held.signed[role][0], { when: yesterday, ended: { when: yesterday, why: "an incident" } });
    }), role);
    const rows = await page.locator("tr[data-kind]:not([data-kind=first])").count();
    assert.equal(await left(), `${rows} to go before the sign-off.`);
    await page.evaluate((role) => globalThis.gaugeleaf.people.change((held) => {
      const { now } = globalThis.gaugeleaf.people;
      for (const [page, tries] of Object.entries(held.tests)) tries.push({ ...now(page), by: "", passed: true, right: 9, of: 10 });
      for (const [page, tries] of Object.entries(held.tasks)) tries.push({ ...now(page), by: "Ole Brandt", passed: true });
      held.strokes[role].push({ ...now(role), count: 40, by: "Ole Brandt" });
    }), role);
    assert.equal(await left(), "Nothing is left: an assessor may sign.");
    await sign(page);
    // The ended one stays in the register.
    await page.goto(page.url().replace(role, register));
    await page.locator(".register-table tbody tr").first().waitFor();
    const lines = (await page.locator(".register-table tbody tr").allInnerTexts()).filter((line) => line.includes("Lance operator"));
    assert.equal(lines.length, 2);
    assert.ok(lines.some((line) => line.includes("an incident")) && lines.some((line) => line.includes("counts")), lines.join("\n"));
  }, phone));

test("a third occasion on the second day takes nothing away", () =>
  it.visit(task, async (page) => {
    await named(page);
    await watch(page);
    await page.evaluate((path) => globalThis.gaugeleaf.people.change((held) => { Object.assign(held.tasks[path][0], { when: "2026-01-05", at: undefined }); }), task);
    await watch(page);
    await watch(page);
    assert.equal(await said(page, ".task-standing"), `Shown on two days: 2026-01-05 and ${today()}.`);
    assert.match(await said(page, ".task-bar .task-who"), /^Candidate: Mara Quist\. 0 of \d+ lines marked\.$/);
    // Whoever watched the last one is there for the next.
    await named(page, "Jon Vale");
    assert.equal(await page.locator(".task-by").inputValue(), "Ole Brandt");
    await named(page, "Ole Brandt");
    assert.equal(await page.locator(".task-by").inputValue(), "");
  }, phone));

test("supervised strokes begin when all above them is done, and a slip of today is taken back", () =>
  it.visit(role, async (page) => {
    await ready(page, "test");
    assert.ok(!(await page.locator(".role-stroke-entry").isVisible()));
    assert.ok(await page.locator(".role-strokes-first").isVisible());
    await page.evaluate(() => localStorage.clear());
    await page.reload();
    await ready(page, "strokes");
    const add = async (count, by) => {
      await page.locator(".role-strokes [name=count]").fill(count);
      await page.locator(".role-strokes [name=by]").fill(by);
      await page.locator(".role-stroke-entry button").click();
    };
    for (const [count, by, told] of [["0", "Ole Brandt", "Write how many, in digits."], ["400", "Ole Brandt", "Nobody runs more than 200 strokes a day under supervision. Count again."], ["40", "mara quist", "Write who stood beside: somebody else than the candidate."]]) {
      await add(count, by);
      assert.equal(await said(page, ".role-strokes-said"), told);
    }
    await add("40", "Ole Brandt");
    assert.equal(await said(page, ".role-left"), "Nothing is left: an assessor may sign.");
    await page.locator(".role-strokes-back").click();
    assert.equal(await said(page, ".role-left"), "1 to go before the sign-off.");
    assert.deepEqual((await person(page)).strokes[role].map(({ taken }) => taken), [undefined, true]);
    assert.ok(!(await page.locator(".role-strokes-back").isVisible()), "what is older than today is taken back");
  }, phone));

test("what was shown in another revision is told, and gone through before somebody signs", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await page.evaluate(() => globalThis.gaugeleaf.people.change((held) => { held.tests["training/fit.html"][0].mark = "00000000"; }));
    assert.match(plain(await page.locator("tr.is-done:has(a[href$='fit.html']) .role-state").first().innerText()), /9 of 10; the handbook has changed since$/);
    assert.equal(await sign(page, { through: false }), "Go through what has changed with the candidate first.");
    await sign(page);
    assert.equal((await person(page)).signed[role][0].through, true);
  }, phone));

test("an assessor who is signed off on this device needs no sheet, and loses that with the sign-off", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page);
    await named(page, "Jon Vale");
    await page.evaluate(() => {
      const { people } = globalThis.gaugeleaf;
      const [mara] = Object.values(people.all()).filter(({ name }) => name === "Mara Quist");
      people.change((held) => {
        Object.assign(held, { ...mara, name: "Jon Vale" });
        for (const tries of Object.values(held.tasks)) for (const one of tries) one.by = "Mara Quist";
        for (const strokes of Object.values(held.strokes)) for (const one of strokes) one.by = "Mara Quist";
      });
      people.change((held) => { delete held.signed[document.documentElement.dataset.page]; });
    });
    await page.locator(".role-sign [name=assessor]").fill("Mara Quist");
    assert.ok(!(await page.locator(".role-sheets").isVisible()));
    await page.locator(".role-sign [name=assessor]").fill("Nils Ost");
    assert.equal(await said(page, ".role-unknown"), "Nils Ost");
    await sign(page, { assessor: "Mara Quist" });
    assert.equal((await person(page)).signed[role][0].sheets, false);
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

/** The device's own day from now on. */
const onDay = (page, day) => page.evaluate((day) => { globalThis.gaugeleaf.people.today = () => day; }, day);
const later = (page, days) => page.evaluate((days) => {
  const then = new Date();
  then.setDate(then.getDate() + days);
  return then.toLocaleDateString("sv");
}, days);
const alter = (page, act) => page.evaluate(`(() => { const { people, evidence } = globalThis.gaugeleaf; const role = document.documentElement.dataset.page; people.change((held) => { (${act})(held, role, people, evidence); }); })()`);

test("a page that was left open signs nothing that has lapsed meanwhile, and prints how things stand that day", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await alter(page, (held, role, people) => { held.tests["training/fit.html"][0].when = people.later(people.today(), -12); });
    assert.equal(await said(page, ".role-left"), "Nothing is left: an assessor may sign.");
    await onDay(page, await later(page, 4));
    await page.locator(".role-sign").evaluate((form) => form.requestSubmit());
    assert.deepEqual((await person(page)).signed[role] ?? [], []);
    await onDay(page, today());
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    await sign(page);
    assert.equal(await said(page, ".role-signed"), `Counts until ${today()}.`);
    const next = await later(page, 1);
    await onDay(page, next);
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    assert.match(await said(page, ".role-signed"), /its time was up/);
    assert.equal(await page.locator(".sheet-today").textContent(), next);
  }, phone));

test("a sign-off counts only while all that it stands on is there", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await sign(page);
    const standing = () => said(page, ".role-signed");
    for (const act of [
      // failed, and shown once the same day: two days again
      (held, role, people) => held.tasks["tasks/isolation.html"].push({ ...people.now(""), by: "Ole Brandt", passed: false }, { ...people.now(""), by: "Ole Brandt", passed: true }),
      (held) => { held.tasks["tasks/isolation.html"][0].taken = true; held.tasks["tasks/isolation.html"].length = 2; },
    ]) {
      await alter(page, act);
      assert.match(await standing(), /^Counts no more: (Task: )?.* has to be shown again\.$|^Counts no more: the role before it/);
    }
    await alter(page, (held) => { delete held.tasks["tasks/isolation.html"][0].taken; });
    assert.match(await standing(), /^Counts until/);
    await alter(page, (held, role) => { held.strokes[role] = []; });
    assert.equal(await standing(), "Counts no more: strokes under supervision has to be shown again.");
  }, phone));

test("an incident ends every role, any other end those that build on it, and a clock in the past opens nothing", () =>
  it.visit("training/helper.html", async (page) => {
    await ready(page);
    await sign(page);
    page.on("dialog", (dialog) => dialog.accept());
    const end = async (why) => {
      await page.locator(".role-end select").selectOption(why);
      await page.locator(".role-end button").click();
    };
    const ends = async () => Object.fromEntries(Object.entries((await person(page)).signed).map(([page, [one]]) => [page, one.ended !== undefined]));
    await alter(page, (held, role) => { held.signed["training/lance-operator.html"] = [{ ...held.signed[role][0], role: "Lance operator" }]; });
    await end("equipment");
    assert.deepEqual(await ends(), { "training/observer.html": false, "training/helper.html": true, "training/lance-operator.html": true });
    await alter(page, (held) => { for (const [one] of Object.values(held.signed)) delete one.ended; });
    const past = await later(page, -300);
    await onDay(page, past);
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    await end("incident");
    assert.deepEqual(Object.values(await ends()), [true, true, true]);
    await onDay(page, today());
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    assert.ok(!(await page.locator(".role-sign").isVisible()));
    assert.equal((await person(page)).signed["training/helper.html"][0].ended.when, today());
  }, phone));

test("two occasions of one night are one day, and yesterday's marks are none of today's", () =>
  it.visit(task, async (page) => {
    await named(page);
    await watch(page);
    await alter(page, (held) => { for (const [one] of Object.values(held.tasks)) Object.assign(one, { when: "2026-01-05", at: Date.now() - 3_600_000 }); });
    await watch(page);
    assert.equal(await said(page, ".task-standing"), "");
    await alter(page, (held) => { for (const [one] of Object.values(held.tasks)) one.at = Date.now() - 36_100_000; });
    assert.match(await said(page, ".task-standing"), /^Shown on two days/);
    const before = (await person(page)).tasks[task].length;
    for (const line of await page.locator(".task-lines > li").all()) await line.locator('input[value="seen"]').click();
    await onDay(page, await later(page, 2));
    await page.locator(".task-keep").click();
    assert.equal(await said(page, ".task-said"), "A new day has begun: what was marked yesterday is cleared.");
    assert.equal((await person(page)).tasks[task].length, before);
    assert.equal(await page.locator(".task-lines input:checked").count(), 0);
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
      return JSON.stringify({ kind: "training-record", person: one });
    });
    page.on("dialog", (dialog) => dialog.accept());
    await page.goto(page.url().replace(role, register));
    await page.locator(".register-table tbody tr").first().waitFor();
    await page.locator(".carry-take").setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(other) });
    await page.locator(".carry-said:not(:empty)").waitFor();
    const tries = (await person(page)).tests["training/fit.html"];
    assert.deepEqual(tries.map(({ passed }) => passed), [true, true, false]);
    const lines = await page.locator(".register-table tbody tr").allInnerTexts();
    assert.ok(lines.filter((line) => /Helper|Lance/.test(line)).every((line) => /Counts no more|Ended on/.test(line)), lines.join("\n"));
    assert.equal(await said(page, ".register-as-of"), `As of ${today()}`);
  }, phone));

test("names are compared as they are spoken, and a namesake is asked about", () =>
  it.visit(task, async (page) => {
    const same = (one, other) => page.evaluate(([one, other]) => globalThis.gaugeleaf.people.same(one, other), [one, other]);
    assert.ok(await same("Ana López", "ana  LOPEZ"));
    assert.ok(!(await same("रीना", "रानी")));
    await named(page, "John Smith");
    await named(page, "Mara Quist");
    page.once("dialog", (dialog) => dialog.dismiss());
    await named(page, "john smith");
    assert.equal(await said(page, ".person-said"), "Write the year of birth behind the name, so that the two are told apart.");
    assert.equal((await person(page)).name, "Mara Quist");
    page.once("dialog", (dialog) => dialog.accept());
    await page.locator(".person-add").click();
    assert.equal((await person(page)).name, "John Smith");
  }, phone));

test("from a test or a task the way leads back to the role", () =>
  it.visit(role, async (page) => {
    await known(page);
    await named(page);
    await page.goto(page.url().replace(role, task));
    assert.equal(await said(page, ".person-way"), "What is left for the role: Lance operator");
    await page.locator(".person-way a").click();
    await known(page);
    assert.ok(page.url().includes(role));
  }, phone));
