// What axe-core objects to on a page.
import axe from "axe-core";

const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/**
 * What axe objects to on the page as it stands.
 * @param {import("playwright-core").Page} page
 * @param {{ colours?: boolean }} options whether the contrast of texts is looked at too, which takes most of the time
 * @returns {Promise<string[]>}
 */
export async function violations(page, { colours = true } = {}) {
  if (!(await page.evaluate(() => "axe" in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(async ({ tags, colours }) => {
    const rules = { "color-contrast": { enabled: colours } };
    const found = await globalThis.axe.run({ runOnly: tags, resultTypes: ["violations"], rules });
    return found.violations.flatMap((rule) =>
      rule.nodes.map((node) => `${rule.id}: ${node.target.join(" ")}: ${node.html.slice(0, 120)}`),
    );
  }, { tags, colours });
}
