// Tasks that an assessor watches: kept on the device, and on paper.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { letters, printed } from "./support/paper.js";
import { read } from "./support/site.js";
import { alter, later, named, onDay, person, phone, ready, role, said, task, tasks, today, watch } from "./support/training.js";

const it = reader();

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
    assert.equal(await said(page, ".remedy-said"), "Somebody who did not teach the candidate goes through it.");
    assert.ok(await page.locator(".task-keep").isDisabled());
    await page.locator(".remedy-apart").check();
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

test("the sheet of every task prints on two sides at most, signatures and all", { timeout: 240_000 }, () =>
  it.visit(task, async (page) => {
    for (const path of tasks) {
      await page.goto(page.url().replace(/tasks\/[^/]*$/, path));
      const bytes = await page.pdf({ format: "A4" });
      const sides = bytes.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      assert.ok(sides >= 1 && sides <= 2, `${path}: ${sides} sides`);
    }
  }, phone));

test("each sheet prints on two sides with two occasions on it, and says whose it is", { timeout: 240_000 }, () =>
  it.visit(task, async (page) => {
    await named(page);
    for (const path of tasks) {
      await page.goto(page.url().replace(/tasks\/[^/]*$/, path));
      await page.locator(".task-count:not(:empty)").waitFor();
      await alter(page, (held) => {
        const [page, day] = [document.documentElement.dataset.page, { by: "Ole Brandt", passed: true, prompted: 3 }];
        held.tasks[page] = [{ ...day, when: "2026-11-02" }, { ...day, when: "2026-11-03" }];
      });
      assert.equal(await said(page, ".task-standing"), "Shown on two days: 2026-11-02 and 2026-11-03.");
      const bytes = await page.pdf({ format: "A4" });
      const sides = bytes.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      assert.ok(sides >= 1 && sides <= 2, `${path}: ${sides} sides`);
    }
    const paper = letters(await printed(page));
    for (const part of ["Candidate: Mara Quist", "2026-11-02: shown, seen by Ole Brandt"]) assert.ok(paper.includes(letters(part)), part);
  }, phone));

test("what is run under pressure is shown after all that comes before the strokes; a fail of it counts whenever", () =>
  it.visit("tasks/run-a-row.html", async (page) => {
    await named(page);
    await watch(page);
    assert.match(await said(page, ".task-said"), /^This task is shown under pressure, among the supervised strokes: first comes all/);
    assert.deepEqual((await person(page)).tasks, {});
    await watch(page, () => "missed");
    assert.match(await said(page, ".task-said"), /^Kept: not shown/);
    await page.goto(page.url().replace("tasks/run-a-row.html", role));
    await page.evaluate(() => localStorage.clear());
    await page.reload();
    await ready(page);
    await alter(page, (held) => { held.tasks["tasks/run-a-row.html"] = []; });
    await page.goto(page.url().replace(role, "tasks/run-a-row.html"));
    await watch(page);
    assert.equal(await said(page, ".task-said"), "Kept: shown on this day.");
  }, phone));

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

test("where nothing is kept, the page says so", () =>
  it.visit(task, async (page) => {
    await page.evaluate(() => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; });
    await named(page);
    assert.match(await said(page, ".person-said"), /^Not kept: this device keeps nothing, and may go on showing what was before\. Write it on paper/);
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

test("two occasions of one night are one day, and yesterday's marks are none of today's", () =>
  it.visit(task, async (page) => {
    await named(page);
    await watch(page);
    await alter(page, (held) => { for (const [one] of Object.values(held.tasks)) Object.assign(one, { when: "2026-01-05", at: Date.now() - 3_600_000 }); });
    await watch(page);
    const next = await page.evaluate(() => globalThis.gaugeleaf.people.again(globalThis.gaugeleaf.people.person().tasks[document.documentElement.dataset.page]).getTime());
    assert.ok(Math.abs(next - Date.now() - 9 * 3_600_000) < 60_000);
    assert.match(await said(page, ".task-standing"), /^Shown once\. Another occasion counts from \w{3} \w{3} \d\d \d{4}, \d\d:\d\d: another day/);
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

test("names are compared as they are spoken, and a namesake is asked about", () =>
  it.visit(task, async (page) => {
    const same = (one, other) => page.evaluate(([one, other]) => globalThis.gaugeleaf.names.same(one, other), [one, other]);
    assert.ok(await same("Ana López", "ana  LOPEZ"));
    assert.ok(await same("Quist, Mara", "Mara Quist"));
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

test("an assessor nearly of the candidate's name is asked about", () =>
  it.visit(task, async (page) => {
    await named(page);
    const asked = [];
    let answer = false;
    page.on("dialog", async (dialog) => {
      asked.push(dialog.message());
      await (answer ? dialog.accept() : dialog.dismiss());
    });
    for (const near of ["M. Quist", "Mara Qvist", "Mara", "Quist M", "Mara Anna Quist"]) {
      await watch(page, undefined, near);
      assert.equal(await said(page, ".task-said"), "Nobody assesses themselves.", near);
    }
    assert.equal(asked.length, 5);
    assert.equal(asked[0], "M. Quist and Mara Quist are nearly the same name. Are they two people?");
    answer = true;
    await watch(page, undefined, "Maria Quist");
    assert.equal(await said(page, ".task-said"), "Kept: shown on this day.");
    await watch(page, undefined, "Ole Quist");
    await watch(page, undefined, "Nils Ost");
    assert.equal(asked.length, 6, "names that are far from each other are asked about");
  }, phone));

test("after an incident a task that was shown says so", () =>
  it.visit(task, async (page) => {
    await named(page);
    await alter(page, (held) => {
      const [page, day] = [document.documentElement.dataset.page, { by: "Ole Brandt", passed: true }];
      held.tasks[page] = [{ ...day, when: "2026-11-02" }, { ...day, when: "2026-11-03" }];
      held.incidents = [{ when: "2026-11-03", why: "a near miss" }];
    });
    assert.equal(await said(page, ".task-standing"), "Ended on 2026-11-03: a near miss.");
    assert.equal(await page.locator(".task").getAttribute("data-is"), "");
    await alter(page, (held) => { held.incidents[0].when = "2026-11-01"; });
    assert.equal(await page.locator(".task").getAttribute("data-is"), "shown");
  }, phone));

test("a clock put back or ahead hides no fail", () =>
  it.visit(task, async (page) => {
    await named(page);
    await watch(page, () => "missed");
    await watch(page, () => "missed");
    await onDay(page, await later(page, -11));
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    assert.ok(await page.locator(".task-keep").isDisabled(), "two fails are gone with the clock");
    assert.ok(await page.locator(".remedy").isVisible());
    assert.equal(await page.locator(".task-occasions li").count(), 2);
  }, phone));
