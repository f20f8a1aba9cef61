// The tube map: marks on the sheet, kept for the job; what is left, and how long it takes.
"use strict";
(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const { store } = gaugeleaf;
  /** How wide the sheet stands in its window. */
  const ZOOMS = ["", "zoom-2", "zoom-4", "zoom-8", "zoom-16"];

  /** @param {HTMLElement} map */
  function live(map) {
    /** @param {string} name */
    const part = (name) => /** @type {HTMLElement} */ (map.querySelector(`.${name}`));
    const sheet = part("tube-sheet");
    const said = part("tube-said");
    const rows = /** @type {HTMLOListElement} */ (map.querySelector(".tube-rows ol"));
    const key = store.ofJob("tubes");
    /** Mark by tube. @type {Record<string, string>} */
    let marks = {};
    /** Which sheet they belong to. */
    let plan = part("tube-says").textContent ?? "";
    /** @type {Record<string, string> | null} */
    let cleared = null;
    /** @type {Map<string, SVGElement>} */
    const tubes = new Map();
    /** @type {Engine | null} */
    let engine = null;
    let zoom = 0;

    const mode = () => /** @type {HTMLInputElement | null} */ (map.querySelector(".tube-modes input:checked"))?.value ?? "";

    /** @param {string} tube */
    function paint(tube) {
      const circle = tubes.get(tube);
      if (!circle) return;
      circle.parentElement?.querySelector(`use[data-of="${tube}"]`)?.remove();
      const is = marks[tube];
      if (!is) return;
      const use = document.createElementNS(SVG, "use");
      use.setAttribute("class", "tube-mark");
      use.setAttribute("href", `#tube-${is}`);
      use.setAttribute("data-of", tube);
      use.setAttribute("x", circle.getAttribute("cx") ?? "");
      circle.after(use);
    }

    function tally() {
      for (const place of map.querySelectorAll(".tube-count")) {
        const wanted = /** @type {HTMLElement} */ (place).dataset.count ?? "";
        place.textContent = String([...tubes.keys()].filter((tube) => (marks[tube] ?? "") === wanted).length);
      }
      const left = new Set();
      for (const [tube, circle] of tubes) if (!marks[tube]) left.add(circle.dataset.stroke);
      part("tube-strokes").textContent = String(left.size);
      part("tube-time").textContent = left.size === 0 ? "none" : time(String(left.size));
    }

    /** @param {string} strokes */
    function time(strokes) {
      if (!engine) return "…";
      const inputs = { strokes: { text: strokes, confirmed: true } };
      const answer = engine({ do: "calculate", name: map.dataset.time ?? "", inputs, want: [] });
      const elapsed = answer.outputs.elapsed;
      return elapsed?.text ?? `not known: ${answer.problems[0]?.message ?? ""}`;
    }

    /** @param {string[]} changed */
    function settle(changed) {
      for (const tube of changed) paint(tube);
      const kept = store.set(key, Object.keys(marks).length === 0 ? null : { plan, marks });
      if (!kept) said.textContent = "This phone keeps nothing: the marks last for this page.";
      tally();
      label(changed);
    }

    /**
     * @param {string[]} which
     * @param {string} is
     */
    function mark(which, is) {
      for (const tube of which) {
        if (is === "") delete marks[tube];
        else marks[tube] = is;
      }
      cleared = null;
      part("tube-undo").hidden = true;
      settle(which);
    }

    /** What a tube's button says. @param {string} tube */
    const words = (tube) => `Tube ${tube}, stroke ${tubes.get(tube)?.dataset.stroke ?? ""}: ${marks[tube] ?? "to do"}`;

    /** @param {string[]} changed */
    function label(changed) {
      for (const tube of changed) {
        const button = rows.querySelector(`button[data-tube-of="${tube}"]`);
        if (button) button.textContent = words(tube);
      }
    }

    /**
     * @param {string} text
     * @param {() => void} act
     */
    function button(text, act) {
      const made = document.createElement("button");
      made.type = "button";
      made.textContent = text;
      made.addEventListener("click", act);
      return made;
    }

    /** The rows as words and buttons; a row's tubes come when it is opened. */
    function list() {
      rows.replaceChildren(...[...sheet.querySelectorAll("[data-row]")].map((group) => {
        const row = /** @type {SVGElement} */ (group).dataset.row ?? "";
        const own = [...group.querySelectorAll("[data-tube]")].map((one) => /** @type {SVGElement} */ (one).dataset.tube ?? "");
        const item = document.createElement("li");
        const more = document.createElement("details");
        const summary = document.createElement("summary");
        summary.textContent = `Tubes of row ${row}`;
        more.append(summary);
        const fill = () => {
          if (more.querySelector("button")) return;
          for (const tube of own) {
            const one = button(words(tube), () => mark([tube], mode()));
            one.dataset.tubeOf = tube;
            more.append(one);
          }
        };
        // opened by a key or a tap, it is full before the next key; by the browser's own search, soon after
        summary.addEventListener("click", fill);
        more.addEventListener("toggle", fill);
        const all = button(`Mark row ${row}`, () => {
          mark(own, mode());
          said.textContent = `Row ${row}: ${mode() || "not marked"}.`;
        });
        item.append(all, more);
        return item;
      }));
    }

    /** Reads the sheet that stands on the page now, and the marks that belong to it. */
    function begin() {
      tubes.clear();
      for (const one of sheet.querySelectorAll("[data-tube]")) {
        const circle = /** @type {SVGElement} */ (one);
        tubes.set(circle.dataset.tube ?? "", circle);
      }
      const kept = /** @type {{ plan?: string, marks?: Record<string, string> } | null} */ (store.get(key));
      marks = { ...kept?.marks };
      if (kept && kept.plan !== plan) {
        said.textContent = "The sheet's measurements have changed since it was marked: tubes and strokes may have other numbers. Compare with the exchanger, or clear the marks.";
      }
      for (const tube of tubes.keys()) paint(tube);
      list();
      tally();
    }

    /** @param {Engine} engine */
    function redraw(engine) {
      /** @type {Record<string, Entry>} */
      const inputs = {};
      for (const [input, text] of Object.entries(JSON.parse(map.dataset.fixed ?? "{}"))) inputs[input] = { text, confirmed: true };
      const answer = engine({ do: "calculate", name: map.dataset.calculator ?? "", inputs, want: ["map"] });
      const problem = part("tube-problem");
      const stop = answer.verdicts.find((verdict) => verdict.is === "stop");
      problem.textContent = stop ? `STOP ${stop.because}` : "";
      problem.hidden = !stop && answer.map !== undefined;
      if (answer.map === undefined) {
        sheet.replaceChildren();
        problem.textContent = `No map for this job: ${answer.problems[0]?.message ?? "the sheet has too many tubes to draw"}`;
        plan = "";
      } else {
        sheet.innerHTML = answer.map;
        plan = Object.values(answer.outputs).map((one) => `${one.label} ${one.text}`).join(", ") + ".";
      }
      part("tube-says").textContent = plan;
    }

    /** @param {number} to */
    function size(to) {
      zoom = Math.min(Math.max(to, 0), ZOOMS.length - 1);
      const svg = sheet.querySelector("svg");
      for (const name of ZOOMS) if (name) svg?.classList.remove(name);
      if (ZOOMS[zoom]) svg?.classList.add(ZOOMS[zoom]);
      /** @type {HTMLButtonElement} */ (part("tube-smaller")).disabled = zoom === 0;
      /** @type {HTMLButtonElement} */ (part("tube-larger")).disabled = zoom === ZOOMS.length - 1;
    }

    sheet.addEventListener("click", (event) => {
      const tube = /** @type {Element} */ (event.target).getAttribute("data-tube");
      if (tube) mark([tube], marks[tube] === mode() ? "" : mode());
    });
    part("tube-larger").addEventListener("click", () => size(zoom + 1));
    part("tube-smaller").addEventListener("click", () => size(zoom - 1));
    part("tube-clear").addEventListener("click", () => {
      const before = marks;
      marks = {};
      settle(Object.keys(before));
      cleared = before;
      said.textContent = "Every mark is cleared.";
      part("tube-undo").hidden = false;
    });
    part("tube-undo").addEventListener("click", () => {
      if (!cleared) return;
      marks = cleared;
      cleared = null;
      said.textContent = "The marks are back.";
      part("tube-undo").hidden = true;
      settle(Object.keys(marks));
    });

    const ofJob = document.documentElement.classList.contains("of-job");
    if (!ofJob) begin();
    gaugeleaf.engine().then((found) => {
      engine = found;
      if (ofJob) {
        redraw(found);
        begin();
      } else tally();
      map.classList.add("is-live");
    }, () => {
      said.textContent = "The calculator could not start: the time that is left is not known.";
      if (ofJob) part("tube-problem").textContent = "No map for this job: the calculator could not start.";
      part("tube-problem").hidden = !ofJob;
    });
  }

  for (const map of document.querySelectorAll("[data-tube-map]")) live(/** @type {HTMLElement} */ (map));
})();
