// The keys that a phone's number pad lacks, under the field that has the focus.
"use strict";
(() => {
  /**
   * @param {HTMLInputElement} entry
   * @param {string} text
   * @param {boolean} apart  set off by a space from a digit before it
   */
  function insert(entry, text, apart) {
    const start = entry.selectionStart ?? entry.value.length;
    const end = entry.selectionEnd ?? start;
    const gap = apart && /[0-9]$/.test(entry.value.slice(0, start)) ? " " : "";
    entry.setRangeText(gap + text, start, end, "end");
    entry.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** @param {HTMLInputElement} entry */
  function erase(entry) {
    const end = entry.selectionEnd ?? entry.value.length;
    const start = entry.selectionStart ?? end;
    entry.setRangeText("", start === end ? Math.max(0, start - 1) : start, end, "end");
    entry.dispatchEvent(new Event("input", { bubbles: true }));
  }

  const SIGNS = [["ft"], ["in"], ["/", "/", worded("keypad.slash")], ["-", "-", worded("keypad.hyphen")], ["'", "′", worded("keypad.foot_mark")], ["\"", "″", worded("keypad.inch_mark")], [" ", worded("keypad.space")]];

  /**
   * Not in the tab order: a keyboard has these keys already.
   * @param {string} label
   * @param {Record<string, string>} does
   * @param {string} [called]
   */
  function key(label, does, called) {
    const made = gaugeleaf.element("button", "", label);
    made.type = "button";
    made.tabIndex = -1;
    if (called) made.setAttribute("aria-label", called);
    Object.assign(made.dataset, does);
    return made;
  }

  /** @param {string} text */
  const fraction = (text) => key(text, { insert: text, apart: "" });

  function keys() {
    const more = key("1/16 …", { more: "" });
    more.setAttribute("aria-expanded", "false");
    const fine = ["1/16", "3/16", "5/16", "7/16", "9/16", "11/16", "13/16", "15/16"].map(fraction);
    for (const one of fine) one.className = "fine";
    const signs = SIGNS.map(([insert = "", label = insert, called]) => (insert === label && !called ? fraction(insert) : key(label, { insert }, called)));
    return [...["1/2", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8"].map(fraction), more, ...fine, ...signs, key("⌫", { erase: "" }, worded("keypad.erase_one"))];
  }

  let pressed = false;
  addEventListener("pointerdown", () => { pressed = true; }, { capture: true });
  for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => { pressed = false; }, { capture: true });

  for (const part of document.querySelectorAll(".keypad")) {
    const keypad = /** @type {HTMLElement} */ (part);
    const form = /** @type {HTMLElement} */ (keypad.parentElement);
    keypad.append(...keys());
    /** @type {HTMLInputElement | null} */
    let entry = null;

    /** Puts the keys under the field that has the focus now, or away. */
    const settle = () => {
      const here = document.activeElement;
      if (keypad.contains(here)) return;
      const fits = here instanceof HTMLInputElement && form.contains(here) && here.matches("[data-fractions] .entry");
      keypad.hidden = !fits;
      if (!fits) return;
      entry = here;
      entry.closest(".field")?.querySelector(".kept")?.after(keypad);
    };
    // Never while a finger is down: what it is about to press must not move away under it.
    const later = () => {
      if (pressed) addEventListener("pointerup", () => setTimeout(settle), { once: true });
      else setTimeout(settle);
    };
    later();
    form.addEventListener("focusin", later);
    form.addEventListener("focusout", later);
    // The field keeps the focus, and the phone its number pad.
    keypad.addEventListener("pointerdown", (event) => event.preventDefault());
    keypad.addEventListener("mousedown", (event) => event.preventDefault());
    keypad.addEventListener("click", (event) => {
      const key = /** @type {HTMLElement} */ (event.target).closest("button");
      if (!key || !entry) return;
      const { insert: text, apart, erase: back, more } = key.dataset;
      if (text !== undefined) insert(entry, text, apart !== undefined);
      else if (back !== undefined) erase(entry);
      else if (more !== undefined) key.setAttribute("aria-expanded", String(keypad.classList.toggle("all")));
      entry.focus();
    });
  }
})();
