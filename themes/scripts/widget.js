// A calculator on the page: hands the fields to the engine, and its answer to show.js.
"use strict";
(() => {
  /** A hand that rests this long has finished a value, so that half of one isn't called wrong. */
  const REST = 450;
  /** One spoken summary a settled edit. */
  const SETTLED = 600;

  const { of: fieldOf, chosen, choose, put, asked: entries } = gaugeleaf.fields;

  /** @param {HTMLElement} widget */
  function live(widget) {
    const name = widget.dataset.calculator ?? "";
    const fields = [...widget.querySelectorAll(".field")].map((part) => fieldOf(/** @type {HTMLElement} */ (part)));
    const announcer = /** @type {HTMLElement} */ (widget.querySelector(".announce"));
    const said = /** @type {HTMLElement} */ (widget.querySelector(".share-said"));
    const ofJob = document.documentElement.classList.contains("of-job");
    /** @type {Engine | null} */
    let engine = null;
    let rest = 0;
    let settled = 0;
    let frame = 0;
    let late = 0;
    /** @type {Answer | null} */
    let last = null;

    /** What to say where the engine stops over an entry again and again: no number of an earlier one. @type {Answer} */
    const stopped = {
      calculator: name, inputs: {}, outputs: {}, verdicts: [], working: [], doubts: [], unset: [],
      problems: [{ input: "", message: worded("widget.stopped"), help: worded("widget.stopped_help"), doubtful: false }],
    };

    /** The answer to what the fields hold now, or null where the engine stops over it. @param {WantedPart[]} want @returns {Answer | null} */
    function asked(want = []) {
      try {
        return engine && engine({ do: "calculate", name, inputs: entries(fields), want: [...want, "bound"] });
      } catch {
        engine = null;
        return null;
      }
    }

    /** @param {string | null} quiet */
    async function calculate(quiet) {
      if (!engine) return;
      clearTimeout(rest);
      let answer = asked();
      if (!answer) {
        // What stands there answers an earlier entry; it shows again only as the answer to this one.
        widget.classList.add("is-waiting");
        await ready();
        answer = asked() ?? stopped;
      }
      show(answer, quiet);
      widget.classList.remove("is-waiting");
    }

    /**
     * The result is on the screen first; what explains it takes longer, and has a frame's time.
     * @param {Answer} answer
     */
    function draw(answer) {
      cancelAnimationFrame(frame);
      clearTimeout(late);
      const refused = answer.problems.length > 0;
      widget.classList.toggle("is-drawing", !refused);
      // Nothing of an earlier entry stays, not for a frame.
      if (refused) return gaugeleaf.show.drawn(widget, answer);
      frame = requestAnimationFrame(() => {
        late = setTimeout(() => {
          gaugeleaf.show.drawn(widget, asked(["figure", "working", "plot"]) ?? stopped);
          widget.classList.remove("is-drawing");
        });
      });
    }

    /** Within a procedure a phone shows the result, and its values on a tap. @param {boolean} isOpen */
    function unfold(isOpen) {
      widget.classList.toggle("is-unfolded", isOpen);
      fold?.setAttribute("aria-expanded", String(isOpen));
    }
    const fold = /** @type {HTMLButtonElement | null} */ (widget.querySelector(".widget-unfold"));
    fold?.addEventListener("click", () => unfold(!widget.classList.contains("is-unfolded")));

    /**
     * @param {Answer} answer
     * @param {string | null} quiet
     */
    function show(answer, quiet) {
      // What has to be settled, or is the reader's own, stands in sight.
      const stays = answer.problems.length > 0 || fields.some((field) => field.whose === "reader");
      if (stays) unfold(true);
      if (fold) fold.disabled = stays;
      gaugeleaf.show.answer(widget, fields, answer, quiet);
      draw(answer);
      // What was told of another entry is no result of a refused one.
      if (answer.problems.length > 0) announcer.textContent = "";
      for (const field of fields) howFar(field, answer.problems.length > 0);
      last = answer;
      gaugeleaf.typing?.answered(widget, fields, last, again, quiet);
      if (quiet) {
        rest = setTimeout(() => {
          gaugeleaf.show.answer(widget, fields, answer, null);
          gaugeleaf.typing?.rested();
        }, REST);
      }
      clearTimeout(settled);
      settled = setTimeout(() => { announcer.textContent = gaugeleaf.show.summary(answer); }, SETTLED);
    }

    /**
     * How far an input may go before a verdict changes; said only while the reader has it open.
     * @param {Field} field
     * @param {boolean} refused
     */
    function howFar(field, refused) {
      const place = /** @type {HTMLDetailsElement | null} */ (field.part.querySelector(".how-far"));
      if (!place) return;
      /** @type {LimitsAnswer | null} */
      let limits = null;
      if (place.open && !refused && engine) {
        try {
          limits = engine({ do: "limits", name, inputs: entries(fields), input: field.name, want: ["bound"] });
        } catch {
          engine = null;
          limits = { problems: stopped.problems };
        }
      }
      gaugeleaf.show.limits(field, limits);
    }

    /** What was put back into the fields counts. */
    const again = () => void changed(null);

    /** What the reader changed. */
    function remembered() {
      /** @type {[string, string][]} */
      const entries = [];
      for (const field of fields) {
        const mine = field.whose === "reader";
        if (field.kind === "choice") {
          if (mine || chosen(field) !== field.given) entries.push([field.name, chosen(field)]);
        } else if (mine || field.typed.text !== field.given.text || field.typed.unit !== field.given.unit) {
          entries.push([field.name, field.typed.text]);
          if (field.typed.unit !== field.given.unit) entries.push([`${field.name}.unit`, field.typed.unit]);
        }
        if (mine) entries.push([`${field.name}.here`, "1"]);
      }
      return entries;
    }

    const remember = () => gaugeleaf.address.write(widget.id, remembered());

    /**
     * What comes along the graph begins with the value of the job in hand.
     * @param {Engine} engine
     */
    function takeJob(engine) {
      if (!ofJob) return;
      // What the page gives itself stays, as an example that no verdict stands on.
      const supplied = fields.filter((field) => field.part.dataset.example === undefined);
      const fixed = entries(fields.filter((field) => !supplied.includes(field)));
      const { inputs } = engine({ do: "calculate", name, inputs: fixed, want: [] });
      for (const field of supplied) {
        const reading = inputs[field.name];
        gaugeleaf.fields.give(field, reading?.choice ?? reading?.text ?? "");
      }
      arrive();
      void calculate(null);
    }

    /** @returns {Promise<void>} */
    async function ready() {
      if (engine) return;
      const begun = widget.classList.contains("is-live");
      try {
        engine = await gaugeleaf.engine();
        // A new engine after a fault finds the fields as the reader left them.
        if (!begun) takeJob(engine);
        widget.classList.add("is-live");
        widget.classList.remove("is-failed", "is-blank");
        widget.querySelector(".widget-stopped")?.remove();
      } catch {
        engine = null;
        if (begun) return;
        // The given values and their results come back, for they belong together; never where others were asked for.
        const asked = ofJob || gaugeleaf.address.read(widget.id) !== null || remembered().length > 0;
        const line = widget.querySelector(".widget-stopped") ?? gaugeleaf.element("p", "widget-stopped");
        line.textContent = asked ? worded("widget.no_start_asked") : worded("widget.no_start");
        announcer.textContent = line.textContent;
        widget.querySelector(".widget-body")?.before(line);
        widget.classList.add("is-failed");
        widget.classList.toggle("is-blank", asked);
      }
    }

    /** @param {string | null} quiet */
    async function answered(quiet) {
      // A changed value has no result yet, and the old one is not it; hidden in place, so that nothing jumps.
      widget.classList.toggle("is-waiting", !engine);
      await ready();
      if (engine) await calculate(quiet);
      // One that had ended and can't start anew leaves nothing of an earlier entry.
      else if (widget.classList.contains("is-live")) show(stopped, quiet);
      widget.classList.remove("is-waiting");
    }

    /** @param {string | null} quiet */
    async function changed(quiet) {
      said.textContent = "";
      await answered(quiet);
      // The result first: the address may wait for the screen.
      setTimeout(remember);
    }

    /** @param {NumberField} field */
    function typed(field) {
      field.typed = { text: field.entry.value, unit: field.unit?.value ?? "" };
      field.confirmed = false;
      field.whose = "reader";
      void changed(field.name);
    }

    /**
     * The same quantity in another unit, always from what was typed, so that there and back is no change.
     * @param {NumberField} field
     */
    async function switched(field) {
      const to = field.unit?.value ?? "";
      const { text, unit } = field.typed;
      const answer = to === unit ? { text } : await gaugeleaf.ask({ do: "switch", name, input: field.name, text, from: unit, to }).catch(() => null);
      // Typed on, or switched again, while the answer was on its way.
      if (field.typed.text !== text || field.typed.unit !== unit || field.unit?.value !== to) return;
      // Nothing was converted, so the number keeps the unit that it was typed in.
      if (!answer && field.unit) field.unit.value = unit;
      else if (answer?.text !== undefined) field.entry.value = answer.text;
      else typed(field);
    }

    /** What stood there at first. @param {Field} field */
    function back(field) {
      field.whose = field.part.dataset.example === undefined ? "graph" : "example";
      if (field.kind === "choice") choose(field, field.given);
      else put(field, field.given.text, field.given.unit);
    }

    /** Takes the inputs from the address; unknown names are somebody else's. */
    function arrive() {
      const carried = gaugeleaf.address.read(widget.id);
      if (!carried) return;
      for (const field of fields) {
        const value = carried.get(field.name);
        if (value === null) {
          back(field);
          continue;
        }
        if (field.kind === "choice") choose(field, value);
        else put(field, value, carried.get(`${field.name}.unit`) ?? field.given.unit);
        // A link's own numbers are examples; what somebody typed says so.
        field.whose = carried.has(`${field.name}.here`) ? "reader" : "example";
      }
      void answered(null);
      widget.scrollIntoView();
    }

    async function share() {
      remember();
      try {
        await navigator.clipboard.writeText(location.href);
        said.textContent = worded("widget.copied");
      } catch {
        said.textContent = worded("widget.copy_this", { address: location.href });
      }
    }

    function reset() {
      fields.forEach(back);
      void changed(null);
    }

    for (const field of fields) {
      if (field.kind === "choice") {
        // A tap on the choice that stands there already takes it, too.
        for (const sort of ["click", "change"]) {
          field.part.addEventListener(sort, (event) => {
            if (!(event.target instanceof HTMLInputElement) || (sort === "click" && field.whose === "reader")) return;
            field.whose = "reader";
            void changed(null);
          });
        }
        continue;
      }
      field.entry.addEventListener("input", () => typed(field));
      field.entry.addEventListener("change", () => void calculate(null));
      field.unit?.addEventListener("change", () => switched(field));
      field.part.querySelector(".how-far")?.addEventListener("toggle", async () => {
        await ready();
        howFar(field, field.entry.hasAttribute("aria-invalid"));
      });
      field.part.querySelector(".confirm")?.addEventListener("click", () => {
        field.confirmed = true;
        field.entry.focus();
        void changed(null);
      });
    }
    // A browser may bring back what was in the fields; the widget starts from what it prints.
    fields.forEach(back);

    widget.addEventListener("focusin", () => ready());
    widget.addEventListener("typing", () => { if (last) gaugeleaf.typing?.answered(widget, fields, last, again, null); });
    widget.querySelector(".share")?.addEventListener("click", share);
    widget.querySelector(".reset")?.addEventListener("click", reset);
    addEventListener("hashchange", arrive);
    // With a job in hand the fields are filled first.
    if (ofJob) void ready();
    else arrive();
    return ready;
  }

  const starters = [...document.querySelectorAll("[data-widget]")].map((part) => live(/** @type {HTMLElement} */ (part)));
  // Typing must be answered at once, so the engine comes while the reader still reads.
  const idle = globalThis.requestIdleCallback ?? ((/** @type {() => void} */ work) => setTimeout(work, 300));
  addEventListener("load", () => idle(() => starters.forEach((ready) => ready())));
})();
