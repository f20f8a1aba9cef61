// A phone's storage, filled to the last letter and freed again.
/** @typedef {import("playwright-core").Page} Page */

/** Something else takes all the room, to the last letter. @param {Page} page */
export const fill = (page) =>
  page.evaluate(() => {
    localStorage.setItem("other.0", "x");
    let [size, nth] = [1 << 22, 1];
    while (size >= 1) {
      try {
        localStorage.setItem(`other.${nth}`, "x".repeat(size));
        nth += 1;
      } catch {
        size = Math.floor(size / 2);
      }
    }
    try {
      for (;;) localStorage.setItem("other.0", `${localStorage.getItem("other.0")}x`);
    } catch { /* not a letter more */ }
  });

/** And goes again; this page hears of it as it would of another's doing. @param {Page} page */
export const free = (page) =>
  page.evaluate(() => {
    for (const key of Object.keys(localStorage)) if (key.startsWith("other.")) localStorage.removeItem(key);
    dispatchEvent(new StorageEvent("storage", { key: "other.0" }));
  });
