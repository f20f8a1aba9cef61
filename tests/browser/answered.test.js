// Who answers for a stop stands under it, with scripts too, and under no other stop.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { publish } from "./support/own.js";

const wide = readFileSync(new URL("../../content/jobs/t3.md", import.meta.url), "utf8");
const given = wide.match(/^given = .*$/m)?.[0];
publish(
  {
    "handbook.toml": 'title = "Test yard"\nrevision = "A"\ncaution = "Local rules come first."\nemergency = [{ label = "Rescue", number = "112" }]\n',
    "content/index.md": "# Start\n\nRead [the job](wide.md) first.\n",
    "content/wide.md": `\`\`\`page\njob = "Wide"\nanswered = [{ check = "frame-reach.reach", because = "The frame is set twice.", by = "lead" }]\n${given}\n\`\`\`\n\n# Wide\n\n\`\`\`calculator frame-reach\n\`\`\`\n`,
  },
  ["content/equipment"],
);
const { reader } = await import("./support/browser.js");
const { Widget, plain } = await import("./support/widget.js");

const it = reader();

test("an answer stays under its stop, and goes with it", () =>
  it.visit("wide.html", async (page) => {
    const widget = await Widget.live(page, "frame-reach");
    const stop = widget.at.locator(".verdict[data-is=stop]");
    const answer = /The frame is set twice\.? .*lead|lead.*The frame is set twice/;
    assert.match(plain(await stop.innerText()), answer);
    await widget.type("bundle_diameter", "42");
    assert.deepEqual(await widget.verdicts(), ["stop"]);
    assert.doesNotMatch(plain(await stop.innerText()), /set twice/);
    await widget.at.locator("button.reset").click();
    assert.match(plain(await stop.innerText()), answer);
  }));
