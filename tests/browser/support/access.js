// What axe-core objects to on a page.
import axe from "axe-core";

const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

// of what axe fetches beforehand only one rule that is not asked reads the styles
/** What axe objects to on the page as it stands. @param {import("playwright-core").Page} page @returns {Promise<string[]>} */
export async function violations(page) {
  if (!(await page.evaluate(() => "axe" in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(async (tags) => {
    const found = await globalThis.axe.run({ runOnly: tags, resultTypes: ["violations"], preload: { assets: ["media"] } });
    return found.violations.flatMap((rule) =>
      rule.nodes.map((node) => `${rule.id}: ${node.target.join(" ")}: ${node.html.slice(0, 120)}`),
    );
  }, tags);
}
