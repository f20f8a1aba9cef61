// Asks the preview which revision it shows, and loads the page again when that
// changes. A change of styles alone is put in without loading, and findings are
// laid over the page until they are mended.
"use strict";
(() => {
  const every = 250;
  /** @type {{styles: string, rest: string} | null} */
  let known = null;
  /** @type {HTMLElement | null} */
  let sheet = null;

  /** @param {string} text */
  const tell = (text) => {
    if (text === "") {
      if (sheet) sheet.remove();
      sheet = null;
      return;
    }
    if (!sheet) {
      sheet = document.createElement("pre");
      sheet.tabIndex = 0;
      sheet.setAttribute("role", "alert");
      sheet.className = "preview-findings";
      const look = {
        position: "fixed", inset: "auto 0 0 0", margin: "0", padding: "12px", zIndex: "1000",
        maxHeight: "50vh", overflow: "auto", background: "#fff", color: "#000",
        borderTop: "4px solid #a00", font: "14px/1.4 monospace", whiteSpace: "pre",
      };
      Object.assign(sheet.style, look);
      document.body.append(sheet);
    }
    if (sheet.textContent !== text) sheet.textContent = text;
  };

  /** @param {string} revision */
  const restyle = (revision) => {
    for (const link of document.querySelectorAll("link[rel=stylesheet]")) {
      const fresh = /** @type {HTMLLinkElement} */ (link.cloneNode());
      fresh.href = `${fresh.href.split("?")[0]}?${revision.slice(0, 12)}`;
      fresh.addEventListener("load", () => link.remove());
      link.after(fresh);
    }
  };

  const look = async () => {
    try {
      const answer = await fetch("/.preview/revision", { cache: "no-store" });
      const now = await answer.json();
      if (known && known.rest !== now.rest) {
        location.reload();
        return;
      }
      if (known && known.styles !== now.styles) restyle(now.styles);
      known = now;
      tell(now.findings);
    } catch {
      // the preview is away; it may come back
    }
    setTimeout(look, every);
  };
  look();
})();
