// The way to a sign-off: what is left, who may sign, what stands and what changed.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./support/access.js";
import { reader } from "./support/browser.js";
import { letters, printed } from "./support/paper.js";
import { read } from "./support/site.js";
import { known, named, person, phone, ready, role, roles, said, sign, task, today } from "./support/training.js";
import { plain } from "./support/widget.js";

const it = reader();

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
      [{ reasons: false }, "Ask why, for three critical answers, and hear it in own words. After one wrong why there is no sign-off today."],
      [{ language: " " }, "Write the language in which it was understood."],
      [{ teacher: "" }, "Write who taught the candidate."],
      [{ assessor: "" }, "Write the assessor's name."],
      [{ assessor: "." }, "Write the assessor's name."],
      [{ teacher: "-" }, "Write who taught the candidate."],
      [{ teacher: "Quist, Mara" }, "Nobody teaches themselves: write who did."],
      [{ assessor: "MARA QUIST" }, "Nobody signs themselves off."],
      [{ assessor: "ida  moss" }, "The assessor may not be the one who taught."],
      [{ teacher: "Ole Brandt", assessor: "Ida Moss" }, "Ole Brandt taught the candidate, and saw a task or read a test aloud: somebody else has to."],
      [{ sheets: false }, "See the signed sheets of those who are not signed off on this device."],
    ])) {
      assert.equal(await sign(page, but), told);
      assert.deepEqual((await person(page)).signed[role], undefined);
    }
    // whoever went through it after two fails did not teach
    await page.evaluate(() => globalThis.gaugeleaf.people.change((held) => { held.tasks["tasks/plug.html"].unshift({ when: "2026-11-01", by: "ida moss", passed: false, remedy: true }); }));
    assert.match(await sign(page), /^Ida Moss went through it after two fails, and so may not have taught: Task: /);
    await page.evaluate(() => globalThis.gaugeleaf.people.change((held) => { held.tasks["tasks/plug.html"].shift(); }));
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
    for (const part of ["Candidate: Mara Quist", "Ole Brandt", "Ida Moss", "English", "Counts until", "three reasons in own words", "Signatures", "after an incident or near miss", "Local codes"]) {
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

test("each role has tests, tasks and what ends it; the lance operator runs strokes beside somebody", () => {
  assert.equal(roles.length, 6);
  for (const path of roles) {
    const html = read(path).toString();
    for (const kind of ["tests", "tasks"]) assert.ok(html.includes(`data-kind="${kind}"`) || html.includes(`data-kind=${kind}`), `${path} has no ${kind}`);
  }
  assert.match(read(role).toString(), /data-kind="?strokes/);
});

test("a sign-off that the device doesn't keep counts nowhere", () =>
  it.visit(role, async (page) => {
    await ready(page);
    await page.evaluate(() => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; });
    assert.match(await sign(page), /keeps nothing/);
    assert.equal(await said(page, ".role-signed"), "Not signed.");
    assert.equal((await person(page)).signed[role], undefined);
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

test("who assesses or stands beside needs no sheet where this device holds their sign-off for that, and loses that with it", () =>
  it.visit("training/lead.html", async (page) => {
    await ready(page);
    await sign(page);
    await page.goto(page.url().replace("training/lead.html", role));
    await known(page);
    await named(page, "Jon Vale");
    await page.evaluate((lead) => {
      const { people } = globalThis.gaugeleaf;
      const [, mara] = people.named("Mara Quist");
      people.change((held) => {
        Object.assign(held, { ...mara, name: "Jon Vale" });
        for (const kept of [held.tasks, held.strokes]) for (const all of Object.values(kept)) for (const one of all) one.by = "Mara Quist";
        for (const role of [lead, document.documentElement.dataset.page]) delete held.signed[role];
      });
      // Mara was signed off before any of it, not today.
      const own = people.inHand();
      people.choose(people.named("Mara Quist")[0]);
      people.change(({ signed, tests, tasks, strokes }) => {
        for (const kept of [signed, tests, tasks, strokes]) for (const all of Object.values(kept)) for (const one of all) one.when = people.later(one.when, -3);
      });
      people.choose(own);
    }, "training/lead.html");
    const strokes = (await person(page)).strokes[role][0].when;
    const assessor = page.locator(".role-sign [name=assessor]");
    await assessor.fill("Mara Quist");
    assert.ok(!(await page.locator(".role-sheets").isVisible()));
    await assessor.fill("Nils Ost");
    assert.equal(await said(page, ".role-unknown"), `Nils Ost as Lance operator on ${today()}`);
    // Whoever may hold handle and pedal may assess that, but beside the strokes stands a lead.
    const leads = (does) => page.evaluate(([does, lead]) => {
      const { people } = globalThis.gaugeleaf;
      const own = people.inHand();
      people.choose(people.named("Mara Quist")[0]);
      people.change(({ signed }) => { signed[lead][0].ended = does ? undefined : { when: people.today(), why: "new equipment" }; });
      people.choose(own);
    }, [does, "training/lead.html"]);
    await leads(false);
    await assessor.fill("Mara Quist");
    assert.equal(await said(page, ".role-unknown"), `Mara Quist as Lead on ${strokes}`);
    await leads(true);
    // Whoever was signed off only since may have been watched by the candidate before.
    await page.evaluate((role) => {
      const { people } = globalThis.gaugeleaf;
      const own = people.inHand();
      people.choose(people.named("Mara Quist")[0]);
      people.change(({ signed }) => { for (const [, all] of Object.entries(signed)) for (const one of all) one.was = one.when, one.when = people.today(); });
      people.choose(own);
    }, role);
    await assessor.fill("Mara Quist");
    assert.match(await said(page, ".role-unknown"), /^(Mara Quist as Lance operator on \d{4}-\d\d-\d\d, )+Mara Quist as Lead on /);
    await page.locator(".role-sheets input").check();
    await assessor.fill("Nils Ost");
    assert.ok(!(await page.locator(".role-sheets input").isChecked()), "the sheets of others were seen");
    await page.evaluate(() => {
      const { people } = globalThis.gaugeleaf;
      const own = people.inHand();
      people.choose(people.named("Mara Quist")[0]);
      people.change(({ signed }) => { for (const all of Object.values(signed)) for (const one of all) one.when = one.was; });
      people.choose(own);
    });
    await sign(page, { assessor: "Mara Quist" });
    assert.equal((await person(page)).signed[role][0].sheets, false);
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

test("two windows on two roles leave each other be", () =>
  it.visit(role, async (page) => {
    await known(page);
    await named(page);
    const other = await page.context().newPage();
    await other.goto(page.url().replace(role, "training/lead.html"));
    await known(other);
    // A write in one window is told to the other, which must not answer with one of its own.
    const told = await page.evaluate(() => new Promise((resolve) => {
      let count = 0;
      addEventListener("storage", () => { count += 1; });
      setTimeout(() => resolve(count), 1000);
    }));
    await other.close();
    assert.ok(told < 3, `${told} writes in a second`);
  }, phone));
