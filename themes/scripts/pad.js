// Keys of our own for fingers, at the foot of the window: digits, the tape's fractions, the unit, the next field.
"use strict";
(() => {
  const { element, all } = gaugeleaf;
  const page = document.documentElement;
  /** Whether somebody called the phone's own keyboard; told to no other page's data, as it is no job's. */
  const KEY = "gaugeleaf.keyboard";
  const said = element("p", "visually-hidden", "");
  said.setAttribute("role", "status");

  let phones = false;
  try { phones = localStorage.getItem(KEY) !== null; } catch { /* it lasts for this page */ }

  const entries = /** @type {HTMLInputElement[]} */ (all(document, ".entry").filter((entry) => entry.closest(".widget, [data-job-form]")));

  /** The most height that this width has had: a phone's own keyboard takes some of it away. */
  let tall = 0;
  let across = 0;

  /** Whether our keys would leave no room for the field that they write into, as where the text is large. */
  function isCramped() {
    if (across !== innerWidth) [across, tall] = [innerWidth, 0];
    tall = Math.max(tall, innerHeight);
    const isWide = matchMedia("(max-height: 30rem) and (min-width: 34rem)").matches;
    return tall / Number(getComputedStyle(page).fontSize.slice(0, -2)) < (isWide ? 18 : 26);
  }

  /** The phone's own keyboard comes where it was called, or ours has no room, and nowhere else. */
  const modes = () => {
    const mode = phones || isCramped() ? "text" : "none";
    for (const entry of entries) if (entry.inputMode !== mode) entry.inputMode = mode;
  };

  /** @param {HTMLInputElement} entry */
  const isWhole = (entry) => entry.value !== "" && entry.selectionStart === 0 && entry.selectionEnd === entry.value.length;

  /** @param {HTMLInputElement} entry */
  function told(entry) {
    entry.dispatchEvent(new Event("input", { bubbles: true }));
    edited = true;
  }

  /** Leaving a field is no change to a browser where a script wrote into it. */
  let edited = false;
  /** The unit from which the one of this field was turned, as long as nothing is typed in another. */
  let turned = "";

  /** What stood before the caret as a fraction was last typed digit by digit: it alone goes on with the next digit. */
  let slashed = "";

  /** A number begins behind a unit, and behind a fraction: 14 5/8 and 4 is no 5/84. @param {string} before @param {string} text */
  function begins(before, text) {
    if (/\d/.test(text) && /[a-z]$/i.test(before)) return true;
    return /[\d.]/.test(text) && slashed !== before && /\d\/(2|4|8|16|32|64)$/.test(before);
  }

  /**
   * @param {HTMLInputElement} entry
   * @param {string} text
   * @param {string} joins  what it is to a value that stands there: a "digit", "apart" from it by a space, or put "behind" it
   */
  function insert(entry, text, joins) {
    if (isWhole(entry)) {
      const [, whole] = /^(\d+)\s*[a-z]*$/i.exec(entry.value) ?? [];
      if (joins === "behind") entry.setSelectionRange(entry.value.length, entry.value.length);
      // A whole number waits for its fraction, before its unit.
      else if (joins === "apart" && whole) entry.setSelectionRange(whole.length, whole.length);
    }
    const start = entry.selectionStart ?? entry.value.length;
    const end = entry.selectionEnd ?? start;
    const before = entry.value.slice(0, start);
    const gap = joins === "digit" ? begins(before, text) : /\S$/.test(before);
    entry.setRangeText((gap ? " " : "") + text, start, end, "end");
    const goes = joins === "digit" && (text === "/" || (/\d/.test(text) && before !== "" && slashed === before));
    slashed = goes ? entry.value.slice(0, entry.selectionEnd ?? undefined) : "";
    told(entry);
  }

  /** @param {HTMLInputElement} entry */
  function erase(entry) {
    const end = entry.selectionEnd ?? entry.value.length;
    const start = entry.selectionStart ?? end;
    entry.setRangeText("", start === end ? Math.max(0, start - 1) : start, end, "end");
    told(entry);
  }

  /** The field's units, one after the other. @param {HTMLInputElement} entry */
  function turn(entry) {
    const unit = unitOf(entry);
    if (!unit) return;
    if (!turned) turned = unit.value;
    unit.selectedIndex = (unit.selectedIndex + 1) % unit.length;
    unit.dispatchEvent(new Event("change", { bubbles: true }));
  }

  /** @param {HTMLInputElement} entry */
  const unitOf = (entry) => /** @type {HTMLSelectElement | null} */ (entry.closest(".field")?.querySelector("select.unit") ?? null);

  /** @type {Record<string, (entry: HTMLInputElement, text: string) => void>} */
  const acts = {
    digit: (entry, text) => insert(entry, text, "digit"),
    apart: (entry, text) => insert(entry, text, "apart"),
    behind: (entry, text) => insert(entry, text, "behind"),
    erase,
    clear(entry) {
      entry.value = "";
      told(entry);
    },
    unit: turn,
    next(entry) {
      leave();
      gaugeleaf.typing?.next(entry);
    },
    fine() {
      keypad?.classList.toggle("fine");
    },
    phone(entry) {
      phones = !phones;
      try {
        if (phones) localStorage.setItem(KEY, "phone");
        else localStorage.removeItem(KEY);
      } catch { /* it lasts for this page */ }
      modes();
      // A keyboard comes and goes with the focus alone.
      const { selectionStart, selectionEnd } = entry;
      entry.blur();
      entry.focus();
      entry.setSelectionRange(selectionStart, selectionEnd);
      settle();
    },
  };

  /**
   * @param {string} area  its place in the grid
   * @param {string} act
   * @param {string} text
   * @param {{ parts?: (string | Node)[], called?: string, of?: string }} [more]
   */
  function key(area, act, text, { parts = [text], called, of = "" } = {}) {
    const made = element("button", `k-${act} ${of}`, ...parts);
    made.type = "button";
    made.tabIndex = -1;
    made.style.gridArea = area;
    if (called) made.setAttribute("aria-label", called);
    Object.assign(made.dataset, { act, text });
    return made;
  }

  /** With its tick of the tape, the longer the coarser. @param {string} text @param {string} area @param {string} of */
  function fraction(text, area, of) {
    const [above = "", below = ""] = text.split("/");
    const tick = element("i", `tick-${below}`);
    return key(area, "apart", text, { parts: [tick, element("sup", "", above), "/", element("sub", "", below)], called: text, of });
  }

  function keys() {
    const digits = [..."7894561230"].map((digit) => key(`k${digit}`, "digit", digit));
    const eighths = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"].map((text, at) => fraction(text, `f${at + 1}`, "is-coarse"));
    const sixteenths = ["1/16", "3/16", "5/16", "7/16", "9/16", "11/16", "13/16", "15/16"].map((text, at) => fraction(text, `f${at + 1}`, "is-fine"));
    return [
      ...digits,
      key("dot", "digit", ".", { called: worded("keypad.point"), of: "is-coarse k-dot" }),
      key("dot", "digit", " ", { parts: ["␣"], called: worded("keypad.space"), of: "is-fine" }),
      key("era", "erase", "", { parts: ["⌫"], called: worded("keypad.erase_one") }),
      ...eighths,
      key("f8", "fine", "", { parts: [element("i", "tick-16"), worded("keypad.sixteenths")], of: "is-coarse" }),
      ...sixteenths,
      key("tol", "behind", "± ", { parts: ["±"], called: worded("keypad.tolerance"), of: "is-coarse" }),
      key("tol", "digit", "/", { called: worded("keypad.slash"), of: "is-fine" }),
      key("uni", "unit", "", { of: "is-coarse" }),
      key("uni", "behind", "ft", { of: "is-fine" }),
      key("clr", "clear", "", { parts: [worded("keypad.clear")], of: "is-coarse" }),
      key("clr", "behind", "in", { of: "is-fine" }),
      key("neg", "digit", "-", { parts: ["−"], called: worded("keypad.minus"), of: "is-plain" }),
      key("abc", "phone", "", { parts: [worded("keypad.letters")], called: worded("keypad.phone"), of: "is-coarse" }),
      key("abc", "fine", "", { parts: [worded("keypad.eighths")], of: "is-fine" }),
      key("nxt", "next", "", { parts: [worded("keypad.next")] }),
      key("own", "phone", "", { parts: [worded("keypad.own")], of: "is-own" }),
    ];
  }

  /** The bar lies under the keys, and help stays in reach. */
  const help = document.querySelector(".bar-emergency");
  function toHelp() {
    const link = /** @type {HTMLElement} */ (help?.cloneNode(true));
    link.className = "k-help";
    link.tabIndex = -1;
    return link;
  }

  const pads = all(document, ".keypad");
  for (const pad of pads) pad.append(...keys(), ...(help ? [toHelp()] : []));
  /** The keys that stand there now, and whose they are. @type {HTMLElement | null} */
  let keypad = null;
  /** @type {HTMLInputElement | null} */
  let entry = null;
  /** What was put away by Escape stays away in this field. @type {HTMLInputElement | null} */
  let away = null;

  /** Once a hand leaves a field that these keys wrote into. */
  function leave() {
    const unit = entry && unitOf(entry);
    if (unit && turned !== "" && unit.value !== turned) {
      unit.value = turned;
      unit.dispatchEvent(new Event("change", { bubbles: true }));
    }
    turned = "";
    if (!edited || !entry) return;
    edited = false;
    entry.dispatchEvent(new Event("change", { bubbles: true }));
  }

  /** What the keys say of this field. @param {HTMLElement} pad @param {HTMLInputElement} here */
  function dress(pad, here) {
    const field = here.closest(".field");
    pad.classList.remove("fine");
    pad.classList.toggle("plain", !field?.hasAttribute("data-fractions"));
    pad.classList.toggle("phones", phones);
    const unit = unitOf(here);
    const turns = pad.querySelector(".k-unit");
    const options = [...(unit?.options ?? [])].map((option) => option.text);
    turns?.toggleAttribute("disabled", options.length < 2);
    const now = unit?.selectedIndex ?? 0;
    const to = options[(now + 1) % options.length] ?? "";
    turns?.replaceChildren(options[now] ?? field?.querySelector(".unit.one")?.textContent ?? "", ...(options.length > 1 ? [element("small", "", to)] : []));
    if (options.length > 1) turns?.setAttribute("aria-label", worded("keypad.to_unit", { unit: to }));
    // One stop of the Tab key: arrows go on from there.
    for (const one of all(pad, "button")) one.tabIndex = -1;
    const stop = /** @type {HTMLElement | null} */ (pad.querySelector(phones ? ".is-own" : ".k-phone"));
    if (stop) stop.tabIndex = 0;
  }

  /** Keeps a field clear of the keys and of the pinned result. @param {HTMLElement} pad @param {HTMLInputElement} here */
  function clear(pad, here) {
    const head = /** @type {HTMLElement | null} */ (document.querySelector(".head-line"));
    const sticks = head && getComputedStyle(head).position === "sticky" ? head.offsetHeight : 0;
    const top = Math.max(sticks, document.querySelector(".pinned:not([hidden])")?.getBoundingClientRect().bottom ?? 0);
    const bottom = phones ? innerHeight : pad.getBoundingClientRect().top;
    const part = /** @type {HTMLElement} */ (here.closest(".field")).getBoundingClientRect();
    const own = here.getBoundingClientRect();
    const keep = here.closest(".field")?.querySelector(".problem:not([hidden]) .keep")?.getBoundingClientRect().bottom;
    const most = keep ? keep + 8 : Math.min(part.bottom, own.bottom + 96);
    if (part.top >= top && most <= bottom) return;
    // The label first; the entry itself, and the way back, where there is little room.
    const by = most - part.top > bottom - top ? Math.min(most - bottom, own.top - top) : part.top - top - 8;
    scrollBy(0, by);
  }

  /** Puts the keys to the field that has the focus now, or away. */
  function settle() {
    const here = document.activeElement;
    // A field's unit is the field's own, too.
    if (keypad?.contains(here) || (entry && here !== entry && here?.closest(".field-row")?.contains(entry))) return;
    const at = here instanceof HTMLInputElement && entries.includes(here) && here !== away ? here : null;
    if (at !== away) away = null;
    modes();
    const pad = at && !isCramped() ? /** @type {HTMLElement | null} */ (at.closest(".widget, [data-job-form]")?.querySelector(".keypad") ?? null) : null;
    if (keypad && keypad !== pad) keypad.hidden = true;
    const isNew = at !== entry || pad?.hidden || pad?.classList.contains("phones") !== phones;
    [keypad, entry] = [pad, at];
    page.classList.toggle("with-pad", pad !== null && !phones);
    if (!pad || !at || !isNew) return;
    // Behind its field, so that whoever goes through the page part by part comes to it next.
    if (at.closest(".field-row")?.nextElementSibling !== pad) at.closest(".field-row")?.after(pad);
    dress(pad, at);
    pad.hidden = false;
    if (said.parentElement !== pad) pad.append(said);
    requestAnimationFrame(() => { if (entry === at && !pad.hidden) clear(pad, at); });
  }

  /** Arrows go from key to key. @param {KeyboardEvent} event */
  function roam(event) {
    const keys = all(/** @type {HTMLElement} */ (keypad), "button, a").filter((one) => one.getClientRects().length > 0);
    const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    const at = keys.indexOf(/** @type {HTMLElement} */ (event.target));
    if (by === undefined || at < 0) return;
    event.preventDefault();
    keys[(at + by + keys.length) % keys.length]?.focus();
  }

  let pressed = false;
  addEventListener("pointerdown", () => { pressed = true; }, { capture: true });
  for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => { pressed = false; }, { capture: true });
  // Never while a finger is down: what it is about to press must not move away under it.
  const later = () => {
    if (pressed) addEventListener("pointerup", () => setTimeout(settle), { once: true });
    else setTimeout(settle);
  };

  addEventListener("focusin", later);
  addEventListener("input", ({ target }) => { if (target === entry) turned = ""; });
  addEventListener("resize", () => {
    modes();
    later();
  });
  addEventListener("focusout", ({ target, relatedTarget }) => {
    if (target === entry && !keypad?.contains(/** @type {Node | null} */ (relatedTarget))) leave();
    later();
  });
  addEventListener("keydown", (event) => {
    if (!keypad || keypad.hidden) return;
    if (event.key === "Escape" && entry) {
      away = entry;
      away.focus();
      later();
    } else if (keypad.contains(/** @type {Node} */ (event.target))) roam(event);
  });
  for (const pad of pads) {
    // The field keeps the focus.
    for (const down of ["pointerdown", "mousedown"]) pad.addEventListener(down, (event) => event.preventDefault());
    pad.addEventListener("click", (event) => {
      const key = /** @type {HTMLElement} */ (event.target).closest("button");
      const here = entry;
      if (!key || !here) return;
      const { act = "", text = "" } = key.dataset;
      acts[act]?.(here, text);
      if (act === "apart") pad.classList.remove("fine");
      if (act === "unit") dress(pad, here);
      // Whoever came to a key by a key stays on it.
      if (act !== "next" && !pad.contains(document.activeElement)) here.focus();
      if (act !== "fine" && act !== "next") said.textContent = here.value;
    });
  }
  if (gaugeleaf.typing) {
    gaugeleaf.typing.rested = () => { if (keypad && entry && !keypad.hidden) clear(keypad, entry); };
  }
  modes();
  settle();
})();
