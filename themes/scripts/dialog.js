// Dialogs for phones of before 2022, whose browsers know none: over the page, with the keys of one.
"use strict";
gaugeleaf.dialog = (dialog) => {
  const before = /** @type {HTMLElement | null} */ (document.activeElement);
  dialog.close = () => {
    if (!dialog.hasAttribute("open")) return;
    dialog.removeAttribute("open");
    dialog.style.display = "none";
    removeEventListener("keydown", key, true);
    before?.focus();
    dialog.dispatchEvent(new Event("close"));
  };
  /** What lies under it is out of reach: by keys too. @param {KeyboardEvent} event */
  function key(event) {
    if (event.key === "Escape") return dialog.close();
    if (event.key !== "Tab") return;
    const stops = /** @type {HTMLElement[]} */ ([...dialog.querySelectorAll("button, a[href], input, select, [tabindex]")]);
    const at = stops.indexOf(/** @type {HTMLElement} */ (document.activeElement));
    event.preventDefault();
    stops[(at + (event.shiftKey ? stops.length - 1 : 1) + (at < 0 && event.shiftKey ? 1 : 0)) % stops.length]?.focus();
  }
  dialog.showModal = () => {
    dialog.setAttribute("open", "");
    dialog.setAttribute("role", "dialog");
    dialog.setAttribute("aria-modal", "true");
    Object.assign(dialog.style, {
      display: "block", position: "fixed", zIndex: "9", top: "5%", left: "0", right: "0", margin: "0 auto",
      maxHeight: "90%", overflow: "auto", boxShadow: "0 0 0 100vmax #0009",
    });
    addEventListener("keydown", key, true);
    /** @type {HTMLElement | null} */ (dialog.querySelector("button"))?.focus();
  };
};
