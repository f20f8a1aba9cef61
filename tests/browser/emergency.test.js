// The emergency page of a handbook for work: keys to dial by, and one side of paper with the numbers on it.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { publish } from "./support/own.js";

const head = readFileSync(new URL("../../handbook.toml", import.meta.url), "utf8");
const numbers = [
  ["Site rescue", "+1 (555) 010-0123", "or radio channel 1: say the unit and the column"],
  ["Ambulance and fire brigade", "911", ""],
  ["Site control room", "+1 555 010 0199", "opens gate 4 for the rescue"],
  ["County hospital, hand surgery", "+1 555 010 0177", "say: a high-pressure water injection is on its way"],
  ["Poison line", "+1 555 010 0122", ""],
];
const listed = numbers.map(
  ([label, number, note]) => `\n[[emergency]]\nlabel = "${label}"\nnumber = "${number}"\nnote = "${note}"\n`,
);
publish({ "handbook.toml": head + listed.join("") }, ["content"]);
const { reader } = await import("./support/browser.js");

const it = reader();

test("five numbers with their notes leave the first minute on one side of either paper", () =>
  it.visit("emergency.html", async (page) => {
    for (const format of ["A4", "Letter"]) {
      const pdf = (await page.pdf({ format })).toString("latin1");
      assert.equal(pdf.match(/\/Type\s*\/Page\b/g)?.length, 1, format);
    }
  }));

test("each number is a key for a thumb in a glove, without scripts too", () =>
  it.visit(
    "emergency.html",
    async (page) => {
      const keys = await page
        .locator('.emergency a[href^="tel:"]')
        .evaluateAll((links) => links.map((link) => link.getBoundingClientRect().height));
      assert.equal(keys.length, numbers.length);
      assert.ok(Math.min(...keys) >= 64, keys.join(" "));
      // a note stands close under its number: the first step is not pushed out of sight
      const list = await page.locator(".emergency").evaluate((list) => list.getBoundingClientRect().height);
      assert.ok(list <= 600, `${list} px`);
    },
    { javaScriptEnabled: false, viewport: { width: 390, height: 844 } },
  ));
