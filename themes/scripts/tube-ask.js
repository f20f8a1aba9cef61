// Questions over a tube map: they stand over the whole of it, since it is marked in gloves.
"use strict";
(() => {
  /** So long a question takes no answer: a double tap in gloves is over by then. */
  const DEAD = 600;
  let asked = 0;

  /**
   * @param {string} text
   * @param {() => void} act
   * @param {string} [name] its class
   */
  function key(text, act, name = "") {
    const made = document.createElement("button");
    made.type = "button";
    made.className = name;
    made.textContent = text;
    made.addEventListener("click", act);
    return made;
  }

  /** The way to the emergency page, where the handbook has one. */
  function help() {
    const found = /** @type {HTMLAnchorElement | null} */ (document.querySelector(".bar-emergency"));
    if (!found) return [];
    const link = document.createElement("a");
    link.className = "run-emergency";
    link.textContent = found.textContent?.trim() ?? "";
    link.href = found.href;
    return [link];
  }

  /**
   * Asks, and the second half of a double tap answers nothing.
   * @param {HTMLElement} map
   * @param {string} question
   * @param {[string, () => void][]} ways
   * @param {HTMLElement[]} [more] what stands between the question and the ways
   * @param {number} [leaves] which way leaves all as it is
   */
  async function ask(map, question, ways, more = [], leaves = 0) {
    const dialog = document.createElement("dialog");
    dialog.className = "asks tube-ask";
    const words = document.createElement("p");
    asked += 1;
    words.id = `${map.id}-ask-${asked}`;
    words.textContent = question;
    dialog.setAttribute("aria-labelledby", words.id);
    const keys = ways.map(([text, act]) => key(text, () => {
      dialog.close();
      act();
    }));
    const all = document.createElement("div");
    all.className = "ask-ways";
    all.append(...keys);
    // A question lies over the run's own way to help.
    dialog.append(...(document.querySelector(".run") ? help() : []), words, ...more, all);
    if (more.length > 0) dialog.classList.add("is-form");
    dialog.addEventListener("close", () => dialog.remove());
    // Escape answers the question alone, and doesn't leave what lies under it.
    dialog.addEventListener("keydown", (event) => event.stopPropagation());
    (document.querySelector(".run") ?? map).append(dialog);
    if (!dialog.showModal) {
      await gaugeleaf.bring("scripts/dialog.js");
      gaugeleaf.dialog(dialog);
    }
    dialog.showModal();
    (/** @type {HTMLElement | null} */ (dialog.querySelector("input, textarea")) ?? keys[leaves < 0 ? keys.length + leaves : leaves])?.focus();
    setTimeout(() => dialog.classList.add("is-ready"), DEAD);
  }

  gaugeleaf.tubeAsk = Object.assign(ask, { key, help, DEAD });
})();
