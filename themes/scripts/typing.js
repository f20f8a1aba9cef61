// What helps whoever types into fields: a tap selects the value, Enter goes on to the next, what was refused can be given up.
"use strict";
(() => {
  const { element, all } = gaugeleaf;
  /** Whatever holds the fields of one widget, or of one form. */
  const FORM = ".widget, [data-job-form]";

  /** @param {EventTarget | null} target */
  const entryOf = (target) => (target instanceof HTMLInputElement && target.matches(".entry") && target.closest(FORM) ? target : null);

  /** A field that has just been entered is selected whole, so that the first digit replaces it; another tap places the caret. */
  /** @type {HTMLInputElement | null} */
  let entered = null;
  /** What stood in it when it was entered, or when Enter was last pressed. */
  let stood = "";
  addEventListener("focusin", ({ target }) => {
    entered = entryOf(target);
    entered?.select();
    stood = entered?.value ?? "";
  });
  addEventListener("click", ({ target }) => {
    if (target !== entered || !entered) return;
    // Whoever dragged over some digits wants these.
    if (entered.selectionStart === entered.selectionEnd) entered.select();
    entered = null;
  });

  /** What lies in a closed fold has a place, and can't be come to. @param {HTMLElement} one */
  const stands = (one) => one.getClientRects().length > 0 && !one.closest("details:not([open])");

  /** The first of what can be typed or chosen in a field that stands there. @param {HTMLElement} part */
  const door = (part) => ["input:checked", "input", "button"].flatMap((one) => all(part, one)).find(stands);

  /** To the next field; from the last to what it all comes to. @param {HTMLInputElement} entry */
  function next(entry) {
    const form = /** @type {HTMLElement} */ (entry.closest(FORM));
    const parts = all(form, ".field").filter(stands);
    const at = parts.findIndex((part) => part.contains(entry));
    const to = parts[at + 1];
    if (to) {
      door(to)?.focus({ preventScroll: true });
      to.scrollIntoView({ block: "nearest" });
      return;
    }
    const end = /** @type {HTMLElement | null} */ (form.querySelector(".widget-results, .job-count"));
    if (!end) return entry.blur();
    end.tabIndex = -1;
    end.focus({ preventScroll: true });
    end.scrollIntoView({ block: "start" });
  }

  addEventListener("keydown", (event) => {
    const entry = entryOf(event.target);
    if (!entry || event.key !== "Enter" || event.isComposing) return;
    event.preventDefault();
    // Leaving it by script is leaving it all the same; what nobody typed is no entry.
    if (entry.value !== stood) entry.dispatchEvent(new Event("change", { bubbles: true }));
    stood = entry.value;
    next(entry);
  });

  /** What a field held when it was last understood, with its words. @type {WeakMap<Field, Understood>} */
  const understood = new WeakMap();

  /** @param {NumberField} field @param {Understood} held @param {() => void} again */
  function keep(field, held, again) {
    gaugeleaf.fields.put(field, held.text, held.unit);
    field.confirmed = held.confirmed;
    field.whose = held.whose;
    again();
    field.entry.focus();
    field.entry.select();
  }

  /**
   * @param {Field} field @param {Answer} answer @param {() => void} again
   * @param {string | null} quiet  the field still being typed in: half of a number is none that somebody meant
   */
  function refused(field, answer, again, quiet) {
    if (field.kind === "choice") return;
    const problem = answer.problems.find((one) => one.input === field.name);
    const reading = answer.inputs[field.name];
    field.part.classList.toggle("is-struck", problem !== undefined && !problem.doubtful);
    if (!problem && reading && quiet !== field.name) understood.set(field, { ...field.typed, confirmed: field.confirmed, whose: field.whose, words: reading.text });
    const held = understood.get(field);
    const box = field.part.querySelector(".problem");
    const made = box?.querySelector(".keep");
    const words = problem && held ? worded("widget.keep", { held: held.words }) : "";
    // A key that is being pressed stays the key that it was.
    if ((made?.textContent ?? "") === words) return;
    made?.remove();
    if (!held || words === "") return;
    const key = element("button", "keep", words);
    key.type = "button";
    key.addEventListener("click", () => keep(field, held, again));
    box?.append(key);
  }

  /** Whether what touches this device is mostly a finger. */
  const fingers = matchMedia("(pointer: coarse)").matches;

  gaugeleaf.typing = {
    fingers,
    next,
    rested() {},
    answered(widget, fields, answer, again, quiet) {
      for (const field of fields) refused(field, answer, again, quiet);
      gaugeleaf.pinned?.(widget);
    },
  };

  for (const part of ["styles/typing.css", "scripts/pinned.js", "scripts/formulas.js", ...(fingers ? ["scripts/pad.js"] : [])]) gaugeleaf.bring(part).catch(() => {});
  // Widgets that had their first answer before this came say it once more.
  for (const widget of all(document, ".widget")) widget.dispatchEvent(new Event("typing"));
})();
