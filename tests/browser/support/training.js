// Records of people as tests of tasks, roles and the register make them.
import { pages, read } from "./site.js";
import { plain } from "./widget.js";

export const phone = { viewport: { width: 360, height: 740 }, hasTouch: true };
const holds = (path, part) => read(path).includes(part);
export const tasks = pages.filter((path) => holds(path, 'class="task"'));
export const roles = pages.filter((path) => holds(path, 'class="role"'));
export const task = tasks[0] ?? "";
export const role = "training/lance-operator.html";
export const register = pages.find((path) => holds(path, 'class="register"')) ?? "";

export async function named(page, name = "Mara Quist") {
  const more = page.locator(".person-more");
  if (!(await more.evaluate((one) => one.open))) await more.locator("summary").click();
  await page.locator(".person-name").fill(name);
  await page.locator(".person-add").click();
}

/** Marks every line, each as `mark` says. */
export async function watch(page, mark = (critical) => "seen", by = "Ole Brandt") {
  for (const line of await page.locator(".task-lines > li").all()) {
    const critical = (await line.getAttribute("data-critical")) !== null;
    await line.locator(`input[value="${mark(critical)}"]`).click();
  }
  await page.locator(".task-by").fill(by);
  await page.locator(".task-keep").click();
}

export const today = () => new Date().toLocaleDateString("sv");
export const said = async (page, selector) => plain(await page.locator(selector).innerText());
export const person = (page) => page.evaluate(() => globalThis.gaugeleaf.people.person());

/** Until the page knows what the role wants. */
export const known = (page) => page.locator(".role-left:not(:empty)").waitFor();

/** A record of somebody who has everything behind them that the role wants, but for what `but` takes back. */
export async function ready(page, but = "") {
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
export async function sign(page, but = {}) {
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

/** The device's own day from now on. */
export const onDay = (page, day) => page.evaluate((day) => { globalThis.gaugeleaf.people.today = () => day; }, day);
export const later = (page, days) => page.evaluate((days) => {
  const then = new Date();
  then.setDate(then.getDate() + days);
  return then.toLocaleDateString("sv");
}, days);
export const alter = (page, act) => page.evaluate(`(() => { const { people, evidence } = globalThis.gaugeleaf; const role = document.documentElement.dataset.page; people.change((held) => { (${act})(held, role, people, evidence); }); })()`);
