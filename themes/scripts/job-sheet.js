// The setup sheet for the job in hand: every value and verdict of it, what is open, and the worst; that alone on the front page.
"use strict";
(() => {
  const WORDS = { go: worded("verdict.go"), caution: worded("verdict.caution"), open: worded("verdict.open"), stop: worded("verdict.stop") };
  /** More are counted, and not named: on the sheet's first side, and on the front page. */
  const MOST_NAMED = 8;
  const MOST_ON_FRONT = 3;
  /** @type {[Is, string][]} */
  const COUNTED = [["open", worded("sheet.count_open")], ["stop", worded("sheet.count_stop")], ["caution", worded("sheet.count_caution")], ["go", worded("sheet.count_go")]];
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

  /** @param {Leaf[]} leaves */
  function listed(leaves) {
    const named = leaves.slice(0, MOST_ON_FRONT).map((leaf) => leaf.label.toLowerCase()).join(", ");
    const more = leaves.slice(MOST_ON_FRONT).length;
    return more === 0 ? worded("sheet.list", { named }) : worded("sheet.list_more", { named, more });
  }

  /** On the first side each has a line to fill, and what has none is named. @param {Leaf[]} leaves @param {boolean} measured */
  const listedOnSide = (leaves, measured) => measured && leaves.length > MOST_NAMED
    ? worded("sheet.blank_lines", { blank: leaves.length })
    : worded("sheet.list", { named: leaves.map((leaf) => leaf.label.toLowerCase()).join(", ") });

  /**
   * What the open verdicts wait for, a head and a list in each line.
   * @param {JobJudged} judged
   * @param {(leaves: Leaf[], measured: boolean) => string} listed
   * @returns {[string, string][]}
   */
  function waiting({ needs, verdicts, stuck }, listed) {
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
    const lines = lists.filter(([, leaves]) => leaves.length > 0).map(([head, leaves]) => [head, listed(leaves, leaves === lists[0][1])]);
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
    const lines = waiting(judged, listed).map(([head, list]) => element("span", "hand-line", element("b", "", head), ` ${list} `));
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
   * Where a value comes from: who took it and what was noted beside it, where another phone says so.
   * @param {string} name
   * @param {Reading | undefined} reading
   */
  function origin(name, reading) {
    const { who, note } = /** @type {{ who?: unknown, note?: unknown }} */ (gaugeleaf.store.kept()?.given[name] ?? {});
    let from = reading?.from ?? "";
    if (from && typeof who === "string" && who) from = worded("sheet.by", { from, who });
    return { from, note: typeof note === "string" ? note : "" };
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
      const ground = reading?.ground ?? "none";
      row.dataset.ground = ground;
      const { from, note } = origin(name, reading);
      const doubt = reading?.doubt ? worded("sheet.doubtful", { why: reading.doubt }) : "";
      const says = element("small", "", `${from || (problem?.message ?? "")}${doubt}`);
      says.dataset.origin = "";
      if (ground === "measured" && !doubt) says.dataset.from = from;
      const head = /** @type {HTMLElement} */ (row.querySelector("th"));
      for (const before of parts("small", head)) before.remove();
      head.append(" ", says);
      if (note) head.append(" ", element("small", "", note));
      const place = /** @type {HTMLElement} */ (row.querySelector("td"));
      // The first side has room for one unit, and leaves blank what nobody took on this job.
      const side = row.closest("[data-round]") !== null;
      if (!side) place.replaceChildren(...cell(reading).childNodes);
      else if (ground === "measured" || ground === "doubted") place.replaceChildren(...[...cell(reading).childNodes].slice(0, 1));
      else place.replaceChildren();
    }
    for (const round of parts("[data-round]", sheet)) headed(round);
  }

  /** A round's head says once what holds for all that was measured in it. @param {HTMLElement} round */
  function headed(round) {
    const taken = parts("[data-ground=measured]", round);
    const origins = new Set(parts("[data-from]", round).map((one) => one.dataset.from ?? ""));
    const of = parts("[data-named]", round).length;
    const [from = ""] = origins.size === 1 ? origins : [];
    round.querySelector("[data-taken]")?.replaceChildren(from
      ? worded("sheet.taken_from", { taken: taken.length, of, from })
      : worded("sheet.taken", { taken: taken.length, of }));
    if (from) for (const one of parts("[data-from]", round)) one.remove();
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
   * A verdict among those that are told first.
   * @param {HTMLElement} body the calculator's
   * @param {Verdict} verdict
   */
  function alarm(body, verdict) {
    const link = element("a", "", body.querySelector(".setup-name")?.textContent ?? "");
    link.href = `#${body.id}`;
    return element("li", "", element("b", "", WORDS[verdict.is]), " ", link, " ", element("br", ""), verdict.because);
  }

  /**
   * Every result and verdict of the annex; gives what is told of them on the first side.
   * @param {Engine} engine
   * @param {HTMLElement} sheet
   */
  function results(engine, sheet) {
    /** @type {Record<Is, HTMLElement[]>} */
    const alarms = { stop: [], open: [], caution: [], go: [] };
    /** @type {string[]} */
    const waiting = [];
    for (const body of parts("[data-calculator]", sheet)) {
      const found = engine({ do: "calculate", name: body.dataset.calculator ?? "", inputs: {}, want: [] });
      const head = /** @type {HTMLElement} */ (body.querySelector(".setup-name"));
      body.replaceChildren(head, ...found.problems.map(problemRow), ...Object.values(found.outputs).map(resultRow), ...found.verdicts.map(verdictRow));
      // What another calculator says of a measurement both read stands in the rows, and counts there.
      const own = found.verdicts.filter((verdict) => !verdict.standing && !verdict.of);
      for (const verdict of own) {
        if (verdict.is !== "open" || verdict.needs.length === 0) alarms[verdict.is].push(alarm(body, verdict));
      }
      const open = own.filter((verdict) => verdict.is === "open" && verdict.needs.length > 0).length;
      const title = head.textContent ?? "";
      if (open > 0) waiting.push(open > 1 ? worded("sheet.times", { title, open }) : title);
    }
    return { alarms, waiting };
  }

  /** @param {HTMLElement[]} items */
  const list = (items) => items.length > 0 ? [element("ul", "setup-alarms", ...items)] : [];

  /**
   * What the first side tells before all else, the worst first: nothing that stops or is open is left to the annex.
   * @param {JobJudged} judged
   * @param {ReturnType<typeof results>} found
   */
  function told(judged, { alarms, waiting: titles }) {
    const lines = waiting(judged, listedOnSide).map(([head, list]) => element("p", "", element("b", "", head), ` ${list}`));
    if (titles.length > 0) lines.push(element("p", "", element("b", "", worded("sheet.waiting")), ` ${titles.join(", ")}.`));
    if (judged.measured.taken === judged.measured.of) lines.push(element("p", "", worded("sheet.all_measured")));
    const missing = element("div", "setup-missing", ...lines, ...list(alarms.open));
    const all = element("div", "setup-told", ...list(alarms.stop), missing, ...list(alarms.caution));
    all.dataset.own = "";
    return all;
  }

  /**
   * Whose sheet it is: the job, and the kit that it says.
   * @param {HTMLElement} sheet
   */
  function titled(sheet) {
    const job = gaugeleaf.store.kept();
    sheet.querySelector("[data-sheet-job]")?.replaceChildren(job?.name ?? "");
    sheet.setAttribute("aria-label", worded("sheet.of", { job: job?.name ?? "" }));
    const kit = job?.kit && gaugeleafKits.find((kit) => kit.name === job.kit);
    if (kit) sheet.querySelector("[data-sheet-kit]")?.replaceChildren(kit.title);
  }

  /**
   * The job's code, so that the paper brings it back to a phone; where it can't be drawn the place stays empty.
   * @param {HTMLElement} sheet
   */
  async function coded(sheet) {
    const [place, job] = [sheet.querySelector("[data-sheet-code]"), gaugeleaf.store.kept()];
    if (!place || !job) return;
    await gaugeleaf.bring("scripts/share.js");
    const { svg } = (await gaugeleaf.sharer())({ do: "qr", text: gaugeleaf.carriedBy(job).words });
    if (svg) place.innerHTML = svg;
  }

  /**
   * @param {Engine} engine
   * @param {HTMLElement} sheet
   * @param {JobJudged} judged
   */
  function fill(engine, sheet, judged) {
    titled(sheet);
    named(engine, sheet);
    const worst = /** @type {HTMLElement | null} */ (sheet.querySelector(".setup-worst"));
    (sheet.querySelector(".setup-deferral") ?? worst)?.after(told(judged, results(engine, sheet)));
    if (!worst || !judged.worst) return;
    say(worst, judged.worst);
    const because = /** @type {HTMLElement} */ (worst.querySelector(".because"));
    because.replaceChildren(worded("sheet.worst_for", { job: gaugeleaf.store.kept()?.name ?? "" }), ...COUNTED.flatMap(([is, words]) => {
      const count = element("b", "", String(judged.verdicts[is]));
      count.dataset.count = is;
      return [" ", count, ` ${words}`];
    }));
  }

  /**
   * What is dialled in, drawn anew: where it can't be, no drawing of another job is left.
   * @param {Engine} engine
   */
  async function drawn(engine) {
    const places = parts("[data-drawing]", document);
    if (places.length === 0) return;
    engine.hand(await gaugeleaf.carried("drawings"), "take_drawings");
    const { drawings } = engine({ do: "draw" });
    for (const place of places) place.innerHTML = drawings[place.dataset.drawing ?? ""] ?? "";
  }

  gaugeleaf.jobSheet = async (engine) => {
    const judged = engine({ do: "judge" });
    for (const front of parts("[data-worst]", document)) lamp(front, judged);
    await drawn(engine);
    for (const sheet of parts("[data-setup]", document)) {
      for (const own of parts("[data-own]", sheet)) own.remove();
      fill(engine, sheet, judged);
      coded(sheet).catch(() => { /* the paper has no code, and everything else */ });
    }
  };
})();
