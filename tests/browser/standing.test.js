// What ends a sign-off, whichever page tells of it.
import assert from "node:assert/strict";
import { test } from "node:test";
import { reader } from "./support/browser.js";
import { alter, later, onDay, person, phone, ready, register, role, said, sign, today } from "./support/training.js";
import { plain } from "./support/widget.js";

const it = reader();

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
      held.incidents = [];
      held.signed[role][0].until = "2026-02-28";
    }), role);
    assert.equal(await said(page, ".role-signed"), "Ended on 2026-02-28: its time was up.");
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

test("an incident ends what was shown on the way to a role too, and is carried with the record", () =>
  it.visit(role, async (page) => {
    await ready(page);
    const [before, strokes] = [await said(page, ".role-left"), page.locator(".role-stroke-entry")];
    assert.equal(before, "Nothing is left: an assessor may sign.");
    const untold = await page.evaluate(() => JSON.stringify({ kind: "training-record", person: globalThis.gaugeleaf.people.person() }));
    const why = page.locator(".role-end select");
    // Nobody is signed off here: only an incident can be written.
    assert.deepEqual(await why.locator("option").evaluateAll((all) => all.filter((one) => !one.hidden).map((one) => one.value)), ["", "incident"]);
    await alter(page, (held) => { held.signed = {}; });
    page.on("dialog", (dialog) => dialog.accept());
    await why.selectOption("incident");
    await page.locator(".role-end button").click();
    const rows = await page.locator("tr[data-kind]").count();
    assert.equal(await said(page, ".role-left"), `${rows} to go before the sign-off.`);
    assert.ok(!(await strokes.isVisible()));
    assert.match(await said(page, ".role-incidents"), new RegExp(`^Ended on ${today()}: an incident or a near miss\\.$`));
    const told = await page.evaluate(() => JSON.stringify({ kind: "training-record", person: globalThis.gaugeleaf.people.person() }));
    // A device that holds the sign-offs learns of the incident, and one that doesn't know of it takes it in.
    await page.goto(page.url().replace(role, register));
    await page.locator(".register-as-of:not(:empty)").waitFor();
    for (const text of [untold, told, told]) {
      await page.locator(".carry-take").setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(text) });
      await page.locator(".carry-said:not(:empty)").waitFor();
      await page.locator(".carry-said").evaluate((line) => { line.textContent = ""; });
    }
    assert.equal((await person(page)).incidents.length, 1);
    const lines = await page.locator(".register-table tbody tr").allInnerTexts();
    assert.ok(lines.length > 0 && lines.every((line) => line.includes("an incident or a near miss")), lines.join("\n"));
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
