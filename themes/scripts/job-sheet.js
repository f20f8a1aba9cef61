// The setup sheet for the job in hand: every value and verdict of it, what is open, and the worst; that alone on the front page.
"use strict";
(() => {
  const WORDS = { go: worded("verdict.go"), caution: worded("verdict.caution"), open: worded("verdict.open"), stop: worded("verdict.stop") };
  /** More are counted, and not named. */
  const MOST_NAMED = 8;
  const SVG = "http://www.w3.org/2000/svg";
  const { element } = gaugeleaf;

  /**
   * @param {HTMLElement} place
   * @param {Is} is
   */
  function say(place, is) {
    place.dataset.is = is;
    place.querySelector("use")?.setAttribute("href", `#mark-${is}`);
    place.querySelector(".verdict-word")?.replaceChildren(WORDS[is]);
  }

  /** @param {Is} is */
  function mark(is) {
    const drawn = document.createElementNS(SVG, "svg");
    drawn.setAttribute("class", "mark");
    drawn.setAttribute("aria-hidden", "true");
    const use = document.createElementNS(SVG, "use");
    use.setAttribute("href", `#mark-${is}`);
    drawn.append(use);
    return drawn;
  }

  /** @param {string} selector @param {ParentNode} within */
  const parts = (selector, within) => /** @type {HTMLElement[]} */ ([...within.querySelectorAll(selector)]);

  /** @param {Leaf[]} leaves @param {number} most */
  function listed(leaves, most) {
    const named = leaves.slice(0, most).map((leaf) => leaf.label.toLowerCase()).join(", ");
    const more = leaves.slice(most).length;
    return more === 0 ? worded("sheet.list", { named }) : worded("sheet.list_more", { named, more });
  }

  /**
   * What the open verdicts wait for, a head and a list in each line.
   * @param {JobJudged} judged
   * @param {number} [most]  more are counted, and not named
   * @returns {[string, string][]}
   */
  function waiting({ needs, verdicts, stuck }, most = MOST_NAMED) {
    const doubted = needs.filter((leaf) => leaf.ground === "doubted");
    const others = needs.filter((leaf) => leaf.ground !== "doubted");
    const { open } = verdicts;
    /** @type {[string, Leaf[]][]} */
    const lists = [
      [worded("sheet.measure", { open }), others.filter((leaf) => leaf.what === "measurement")],
      [worded("sheet.not_set"), others.filter((leaf) => leaf.what === "rating")],
      [worded("sheet.type"), others.filter((leaf) => leaf.what === "input")],
    ];
    /** @type {[string, string][]} */
    const lines = lists.filter(([, leaves]) => leaves.length > 0).map(([head, leaves]) => [head, listed(leaves, most)]);
    const measure = lists[0][1].length > 0;
    for (const leaf of doubted) lines.unshift([`${leaf.label}:`, leaf.from]);
    if (lines.length > 0 && !measure) lines.unshift([worded("sheet.open", { open }), ""]);
    if (stuck.length > 0) lines.unshift([worded("sheet.stuck"), `${stuck.join(", ")}.`]);
    return lines;
  }

  /** How many there are of each but the open ones, the worst first. @param {JobJudged} judged */
  const counted = ({ verdicts }) => worded("sheet.counted", { stop: verdicts.stop, caution: verdicts.caution, go: verdicts.go });

  /**
   * @param {HTMLElement} front
   * @param {JobJudged} judged
   */
  function lamp(front, judged) {
    if (!judged.worst) return;
    say(front, judged.worst);
    const lines = waiting(judged, 3).map(([head, list]) => element("span", "hand-line", element("b", "", head), ` ${list} `));
    const name = element("span", "hand-line", worded("sheet.worst", { job: gaugeleaf.store.kept()?.name ?? "" }));
    front.querySelector(".hand-says")?.replaceChildren(name, ...lines, element("span", "hand-line", counted(judged)), " ");
  }

  /**
   * A value as a sheet's cell shows it; nothing at all where there is none.
   * @param {Reading | undefined} reading
   */
  function cell(reading) {
    const made = element("td", "");
    if (!reading?.text || reading.why !== undefined || reading.value === null) return made;
    made.append(element("span", "value", reading.text));
    if (reading.also) made.append(" ", element("small", "", reading.also));
    if (reading.span?.text) made.append(" ", element("small", "", worded("sheet.inside", { span: reading.span.text })));
    return made;
  }

  /**
   * Measurements and ratings, each with where it comes from; without a value the place stays blank.
   * @param {Engine} engine
   * @param {HTMLElement} sheet
   */
  function named(engine, sheet) {
    const rows = parts("[data-named]", sheet);
    const answer = engine({ do: "measure", inputs: Object.fromEntries(rows.map((row) => [row.dataset.named ?? "", null])) });
    for (const row of rows) {
      const name = row.dataset.named ?? "";
      const reading = answer.inputs[name];
      const problem = answer.problems.find((one) => one.input === name);
      row.dataset.ground = reading?.ground ?? "none";
      row.querySelector("[data-origin]")?.replaceChildren(reading?.from ?? problem?.message ?? "", reading?.doubt ? worded("sheet.doubtful", { why: reading.doubt }) : "");
      row.querySelector("td")?.replaceWith(cell(reading));
    }
  }

  /** @param {Verdict} verdict */
  function verdictRow(verdict) {
    // What holds on every job is told without a verdict's signs, and not counted.
    const signs = verdict.standing
      ? [element("b", "standing", worded("verdict.always"))]
      : [mark(verdict.is), element("strong", "verdict-word", WORDS[verdict.is])];
    const place = element("td", "", ...signs, " ", element("span", "because", verdict.because));
    place.colSpan = 2;
    const row = element("tr", "setup-verdict", place);
    row.dataset.check = verdict.check;
    if (!verdict.standing) row.dataset.is = verdict.is;
    return row;
  }

  /** @param {Reading} output */
  function resultRow(output) {
    const head = element("th", "", output.label);
    head.scope = "row";
    // On an entry that was refused nothing stands before it is settled.
    const doubted = output.ground === "doubted";
    const assumed = output.ground === "assumed" ? worded("sheet.assumed") : "";
    for (const words of [output.rounded, assumed, output.why, doubted ? worded("sheet.not_settled") : ""]) if (words) head.append(" ", element("small", "", words));
    return element("tr", "", head, cell(doubted ? undefined : output));
  }

  /** @param {Problem} problem */
  function problemRow(problem) {
    const place = element("td", "", element("b", "", worded("sheet.no_result")), ` ${problem.message}`);
    place.colSpan = 2;
    return element("tr", "", place);
  }

  /**
   * @param {Engine} engine
   * @param {HTMLElement} sheet
   * @param {JobJudged} judged
   */
  function fill(engine, sheet, judged) {
    named(engine, sheet);
    /** @type {HTMLElement[][]} */
    const alarms = [[], []];
    for (const body of parts("[data-calculator]", sheet)) {
      const found = engine({ do: "calculate", name: body.dataset.calculator ?? "", inputs: {}, want: [] });
      const head = /** @type {HTMLElement} */ (body.querySelector(".setup-name"));
      body.replaceChildren(head, ...found.problems.map(problemRow), ...Object.values(found.outputs).map(resultRow), ...found.verdicts.map(verdictRow));
      for (const verdict of found.verdicts) {
        const place = ["stop", "caution"].indexOf(verdict.is);
        // What another calculator says of a measurement both read stands in the rows, and counts there.
        if (place < 0 || verdict.standing || verdict.of) continue;
        const link = element("a", "", head.textContent ?? "");
        link.href = `#${body.id}`;
        alarms[place].push(element("li", "", element("b", "", WORDS[verdict.is]), " ", link, element("br", ""), verdict.because));
      }
    }
    const lines = waiting(judged).map(([head, list]) => element("p", "", element("b", "", head), ` ${list}`));
    if (judged.measured.taken === judged.measured.of) lines.push(element("p", "", worded("sheet.all_measured")));
    const told = element("div", "setup-missing", ...lines);
    const worst = /** @type {HTMLElement | null} */ (sheet.querySelector(".setup-worst"));
    (sheet.querySelector(".setup-deferral") ?? worst)?.after(told);
    if (alarms.flat().length > 0) told.after(element("ul", "setup-alarms", ...alarms.flat()));
    if (!worst || !judged.worst) return;
    say(worst, judged.worst);
    for (const place of parts("[data-count]", worst)) {
      place.textContent = String(judged.verdicts[/** @type {Is} */ (place.dataset.count)]);
    }
  }

  gaugeleaf.jobSheet = (engine) => {
    const judged = engine({ do: "judge" });
    for (const front of parts("[data-worst]", document)) lamp(front, judged);
    for (const sheet of parts("[data-setup]", document)) {
      for (const own of parts("[data-own]", sheet)) own.remove();
      fill(engine, sheet, judged);
    }
  };
})();
