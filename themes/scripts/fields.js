// Fields that a reader types in: of a widget, and of the form of a job.
"use strict";
(() => {
  /**
   * @param {HTMLElement} part
   * @returns {Field}
   */
  function fieldOf(part) {
    const name = part.dataset.input ?? "";
    const whose = /** @type {Whose} */ (part.dataset.example === undefined ? "graph" : "example");
    const entry = /** @type {HTMLInputElement | null} */ (part.querySelector(".entry"));
    if (!entry) {
      const radios = /** @type {HTMLInputElement[]} */ ([...part.querySelectorAll("input")]);
      return { kind: "choice", name, part, whose, radios, given: radios.find((radio) => radio.defaultChecked)?.value ?? "" };
    }
    const unit = /** @type {HTMLSelectElement | null} */ (part.querySelector("select.unit"));
    const own = [...(unit?.options ?? [])].find((option) => option.defaultSelected)?.value ?? "";
    const given = { text: entry.defaultValue, unit: own };
    return { kind: "number", name, part, whose, entry, unit, given, typed: { ...given }, confirmed: false };
  }

  /** @param {ChoiceField} field */
  const chosen = (field) => field.radios.find((radio) => radio.checked)?.value ?? "";

  /**
   * @param {ChoiceField} field
   * @param {string} value
   */
  function choose(field, value) {
    for (const radio of field.radios) radio.checked = radio.value === value;
  }

  /**
   * @param {NumberField} field
   * @param {string} text
   * @param {string} unit
   */
  function put(field, text, unit) {
    field.entry.value = text;
    if (field.unit) field.unit.value = unit;
    field.typed = { text, unit };
    field.confirmed = false;
  }

  /**
   * Gives the field another value to start from, and to go back to.
   * @param {Field} field
   * @param {string} value
   */
  function give(field, value) {
    if (field.kind === "choice") {
      field.given = value;
      choose(field, value);
    } else {
      field.given = { text: value, unit: field.given.unit };
      put(field, value, field.given.unit);
      // Whoever kept the job has confirmed what is unusual in it.
      field.confirmed = true;
    }
  }

  /** @param {Field[]} fields */
  function entries(fields) {
    /** @type {Record<string, Entry | string>} */
    const inputs = {};
    for (const field of fields) {
      if (field.kind === "choice") inputs[field.name] = chosen(field);
      else inputs[field.name] = { text: field.typed.text, unit: field.typed.unit || undefined, confirmed: field.confirmed };
    }
    return inputs;
  }

  /**
   * What a calculator is asked with: what comes along the graph is the engine's to bring, with what it stands on.
   * @param {Field[]} fields
   */
  function asked(fields) {
    /** @type {Record<string, Entry>} */
    const inputs = {};
    for (const field of fields) {
      const entry = field.kind === "choice"
        ? { text: chosen(field), confirmed: false }
        : { text: field.typed.text, unit: field.typed.unit || undefined, confirmed: field.confirmed };
      const blank = entry.text === "" && (field.kind === "choice" || field.given.text === "");
      if (field.whose === "graph" || blank) continue;
      inputs[field.name] = field.whose === "example" ? { ...entry, example: true } : entry;
    }
    return inputs;
  }

  // What helps to type is no use before somebody types, and the page is read first.
  if (document.querySelector(".keypad")) addEventListener("load", () => gaugeleaf.bring("scripts/typing.js").catch(() => {}));

  gaugeleaf.fields = { of: fieldOf, chosen, choose, put, give, entries, asked };
})();
