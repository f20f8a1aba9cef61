// Contrast as WCAG defines it, measured on the colours a page really has.

/**
 * Text elements matching `selector` with a contrast under `least`, or smaller than `size` pixels.
 * @param {import("playwright-core").Page} page
 * @param {string} selector
 * @param {number} least
 * @param {number} size
 * @returns {Promise<string[]>}
 */
export function faint(page, selector, least, size = 0) {
  return page.evaluate(
    ({ selector, least, size }) => {
      const canvas = document.createElement("canvas");
      canvas.width = canvas.height = 1;
      const paint = canvas.getContext("2d", { willReadFrequently: true });
      const known = new Map();
      /** Any CSS colour as red, green, blue and opacity. */
      const parse = (colour) => {
        if (!known.has(colour)) known.set(colour, painted(colour));
        return known.get(colour);
      };
      const painted = (colour) => {
        paint.clearRect(0, 0, 1, 1);
        paint.fillStyle = colour;
        paint.fillRect(0, 0, 1, 1);
        const [red, green, blue, alpha] = paint.getImageData(0, 0, 1, 1).data;
        return { rgb: [red, green, blue], alpha: alpha / 255 };
      };
      const over = (front, back) =>
        front.rgb.map((part, at) => part * front.alpha + back[at] * (1 - front.alpha));
      const grounds = new Map();
      const ground = (element) => {
        if (!grounds.has(element)) grounds.set(element, element === null ? [255, 255, 255] : beneath(element));
        return grounds.get(element);
      };
      const beneath = (element) => {
        const own = parse(getComputedStyle(element).backgroundColor);
        return own.alpha === 1 ? own.rgb : over(own, ground(element.parentElement));
      };
      const luminance = (rgb) => {
        const [red, green, blue] = rgb.map((part) => {
          const share = part / 255;
          return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
        });
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
      };
      const ratio = (element) => {
        const back = ground(element);
        const front = over(parse(getComputedStyle(element).color), back);
        const [dark, light] = [luminance(front), luminance(back)].sort((a, b) => a - b);
        return (light + 0.05) / (dark + 0.05);
      };
      const hasText = (element) =>
        element.matches("input, select, textarea") ||
        [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim() !== "");
      return [...document.querySelectorAll(selector)]
        .filter((element) => hasText(element) && element.checkVisibility({ visibilityProperty: true }))
        .map((element) => ({
          told: (element.textContent ?? "").trim().slice(0, 40),
          name: `${element.localName}.${element.className}`,
          contrast: ratio(element),
          pixels: Number.parseFloat(getComputedStyle(element).fontSize),
        }))
        .filter(({ contrast, pixels }) => contrast < least || pixels < size)
        .map(({ told, name, contrast, pixels }) => `${name} ${contrast.toFixed(2)}:1 ${pixels}px "${told}"`);
    },
    { selector, least, size },
  );
}
