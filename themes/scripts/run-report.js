// The report of a run: what was cleaned, row by row, when and by whom; on paper, and as files.
"use strict";
(() => {
  const { element, runTime } = gaugeleaf;
  /** What a line of the table of tubes holds, by the names that its file has at its head. */
  const COLUMNS = ["job", "revision", "row", "tube", "stroke", "mark", "times_run", "last_run", "plan", "marked_on"];
  /** So many rows stand in one column of paper. */
  const ROWS = 30;

  /** Quoted where a table needs it, and never a formula. @param {string | number} value */
  const cell = (value) => {
    const text = String(value);
    return `"${(/^[=+\-@\t\r]/.test(text) ? `'${text}` : text).replaceAll('"', '""')}"`;
  };
  /** @param {number | undefined} at */
  const iso = (at) => (at === undefined ? "" : new Date(at * 1000).toISOString());

  /** @param {string} name @param {string} type @param {string} text */
  function file(name, type, text) {
    const link = element("a", "");
    link.href = URL.createObjectURL(new Blob([text], { type }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 0);
  }

  /** What the handbook and the job say of themselves. */
  function whose() {
    return {
      job: gaugeleaf.tubeJob(),
      handbook: document.querySelector(".imprint a")?.textContent ?? "",
      revision: document.querySelector(".job-bar")?.getAttribute("data-revision") ?? "",
      fingerprint: document.querySelector("[data-stamp]")?.getAttribute("data-stamp") ?? "",
    };
  }

  /** Which tubes an event took: of a stroke with a plugged or blocked tube the others. @param {TubeBoard} board @param {RunEvent} event */
  function took(board, { is, stroke, tubes, took: own }) {
    if ((is !== "done" && is !== "blocked") || stroke === undefined) return [];
    if (own) return own;
    const all = board.strokes.get(stroke)?.tubes ?? [];
    // Editions before kept no more than how many.
    const some = is === "done" && tubes !== undefined && tubes < all.length ? all.filter((tube) => board.kept.marks[tube] === "cleaned") : all;
    return some.map(Number);
  }

  /** How often each tube was run to its end, and when last; and each stroke. @param {TubeBoard} board */
  function ran(board) {
    /** @type {Map<number, { times: number, last: number }>} */
    const tubes = new Map();
    /** @type {Map<number, number>} */
    const strokes = new Map();
    for (const event of board.kept.run.log) {
      if (event.is !== "done" || event.stroke === undefined) continue;
      strokes.set(event.stroke, (strokes.get(event.stroke) ?? 0) + 1);
      for (const tube of took(board, event)) tubes.set(tube, { times: (tubes.get(tube)?.times ?? 0) + 1, last: event.at });
    }
    return { tubes, strokes };
  }

  /** The rows with what stands in each. @param {TubeBoard} board */
  function rowsOf(board) {
    const { strokes } = ran(board);
    /** @type {Map<string, ReportRow>} */
    const rows = new Map();
    for (const { stroke, row, tubes } of board.strokes.values()) {
      const one = rows.get(row) ?? { row, cleaned: [], blocked: [], plugged: [], todo: [], strokes_run: 0 };
      for (const tube of tubes) one[/** @type {"cleaned"} */ (board.kept.marks[tube] ?? "todo")]?.push(Number(tube));
      one.strokes_run += strokes.get(stroke) ?? 0;
      rows.set(row, one);
    }
    return [...rows.values()];
  }

  /** One line a tube. @param {TubeBoard} board */
  function tubesOf(board) {
    const { tubes } = ran(board);
    const { job, revision } = whose();
    return [...board.tubes].map(([tube, { stroke: { stroke, row } }]) => {
      const run = tubes.get(Number(tube));
      return { job, revision, row: Number(row), tube: Number(tube), stroke, mark: board.kept.marks[tube] ?? "", times_run: run?.times ?? 0, last_run: iso(run?.last), plan: board.plan, marked_on: board.kept.plan };
    });
  }

  /** @param {TubeBoard} board */
  function csv(board) {
    const lines = tubesOf(board).map((line) => COLUMNS.map((column) => cell(line[/** @type {keyof typeof line} */ (column)])));
    // The mark at the start tells a spreadsheet that names are in UTF-8.
    return `\ufeff${[COLUMNS, ...lines].map((line) => line.join(",")).join("\r\n")}\r\n`;
  }

  /** @param {TubeBoard} board @param {string} passes */
  function json(board, passes) {
    const { run } = board.kept;
    const times = runTime.of(run.log);
    let hand = 0;
    return JSON.stringify({
      format: "run-report", version: 1, ...whose(), made: iso(runTime.now()), sheet: board.plan, marked_on: board.kept.plan, who: run.who, passes,
      started: iso(times.started), ended: iso(times.ended),
      breaks: times.breaks.map(({ from, to }) => ({ from: iso(from), to: iso(to) })),
      gaps: times.gaps.map(({ from, to }) => ({ from: iso(from), to: iso(to) })),
      clock_put_back: times.back.map(({ before, after }) => ({ before: iso(before), after: iso(after) })),
      hand_overs: run.log.filter(({ is }) => is === "hand").map(({ at }) => ({ at: iso(at), ...run.hands[hand++] })),
      rows: rowsOf(board).map((one) => ({ ...one, row: Number(one.row) })),
      tubes: tubesOf(board).map(({ job: _, revision: __, plan: ___, marked_on: ____, ...tube }) => tube),
      events: run.log.map((event) => ({ ...event, at: iso(event.at), took: took(board, event) })),
    }, null, 1);
  }

  /** Tubes by their numbers; the columns beside are counts. @param {number[]} tubes */
  const named = (tubes) => (tubes.length === 0 ? "–" : worded("report.tube", { tubes: tubes.join(", ") }));

  /** The rows as a table. @param {ReportRow[]} rows */
  function table(rows) {
    const head = element("tr", "", ...[worded("report.row"), worded("tube_map.cleaned"), worded("tube_map.blocked"), worded("tube_map.plugged"), worded("tube_map.to_do"), worded("report.strokes")].map((name) => element("th", "", name)));
    const lines = rows.map(({ row, cleaned, blocked, plugged, todo, strokes_run: strokes }) =>
      element("tr", "", ...[row, String(cleaned.length), named(blocked), named(plugged), String(todo.length), String(strokes)].map((text) => element("td", "", text))));
    return element("table", "", element("thead", "", head), element("tbody", "", ...lines));
  }

  /** When it was run, as the phone's clock says it. @param {TubeBoard} board */
  function told(board) {
    const { run } = board.kept;
    const times = runTime.of(run.log);
    const clock = (/** @type {number | undefined} */ at) => (at === undefined ? "–" : runTime.clock(at, true));
    /** @param {{ from: number, to: number | undefined }} span */
    const span = ({ from, to }) => worded("report.span", { from: runTime.clock(from, true), to: to === undefined ? worded("report.still") : runTime.clock(to).slice(-5) });
    return {
      started: clock(times.started),
      ended: clock(times.ended),
      breaks: times.breaks.map(span).join("; ") || "–",
      gaps: times.gaps.map(span).join("; "),
      back: times.back.map(({ before, after }) => worded("report.back", { before: runTime.clock(before, true), after: runTime.clock(after, true) })),
    };
  }

  /** How many passes the job plans, as the calculator has it. @param {string} name */
  async function planned(name) {
    const { inputs } = await gaugeleaf.ask({ do: "calculate", name, inputs: { strokes: { text: "1", confirmed: true } }, want: [] });
    return inputs?.passes?.text ?? "";
  }

  /** @param {HTMLElement} map @param {TubeBoard} board */
  gaugeleaf.runReport = (map, board) => {
    const part = /** @type {HTMLDetailsElement} */ (map.querySelector(".run-report"));
    const body = /** @type {HTMLElement} */ (part.querySelector(".report-body"));
    const who = /** @type {HTMLInputElement} */ (part.querySelector(".report-who"));
    let passes = "";
    let isAsked = false;

    /** @param {string} name @param {string} text */
    const fact = (name, text) => element("div", "", element("dt", "", name), element("dd", "", text));

    function show() {
      if (!part.open) return;
      if (!isAsked) {
        isAsked = true;
        void planned(map.dataset.time ?? "").then((text) => { passes = text; show(); }, () => { isAsked = false; });
      }
      const { run } = board.kept;
      if (document.activeElement !== who) who.value = run.who;
      const when = told(board);
      const { job, revision, fingerprint } = whose();
      const rows = rowsOf(board);
      const half = rows.length > ROWS ? Math.ceil(rows.length / 2) : rows.length;
      let hand = 0;
      body.replaceChildren(
        element("h2", "report-title", worded("report.title")),
        element("dl", "report-facts",
          fact(worded("report.job"), job), fact(worded("report.revision"), `${revision} ${fingerprint}`.trim()),
          fact(worded("report.who"), run.who || "______________"), fact(worded("report.made"), runTime.clock(runTime.now(), true)),
          fact(worded("report.started"), when.started), fact(worded("report.ended"), when.ended),
          fact(worded("report.breaks"), when.breaks), fact(worded("report.passes"), passes || "–"),
          ...["cleaned", "blocked", "plugged", ""].map((is) => fact(is === "" ? worded("tube_map.to_do") : board.named(is), String(board.count(is))))),
        ...(board.kept.plan !== board.plan ? [element("p", "report-told", worded("tube_map.changed"))] : []),
        ...when.back.map((text) => element("p", "report-told", text)),
        ...(when.gaps === "" ? [] : [element("p", "report-told", worded("report.gaps", { gaps: when.gaps }))]),
        ...run.log.filter(({ is }) => is === "hand").map(({ at }) => {
          const { from = "", to = "", open = "" } = run.hands[hand++] ?? {};
          const [giver, taker] = [from, to].map((name) => name || worded("run.nobody"));
          return element("p", "report-hand", worded("report.hand", { time: runTime.clock(at, true), from: giver, to: taker, open }));
        }),
        element("div", "report-rows", table(rows.slice(0, half)), ...(half < rows.length ? [table(rows.slice(half))] : [])),
      );
    }

    const name = () => `run-${whose().job.replace(/[^\p{L}\p{N}]+/gu, "-")}-${new Date().toLocaleDateString("sv")}`;
    part.addEventListener("toggle", show);
    who.addEventListener("change", () => {
      board.settle((kept) => ({ ...kept, run: { ...kept.run, who: who.value.trim() } }));
    });
    part.querySelector(".report-csv")?.addEventListener("click", () => file(`${name()}.csv`, "text/csv", csv(board)));
    part.querySelector(".report-json")?.addEventListener("click", () => file(`${name()}.json`, "application/json", json(board, passes)));
    part.querySelector(".report-print")?.addEventListener("click", () => {
      document.documentElement.classList.add("prints-report");
      print();
    });
    addEventListener("beforeprint", show);
    addEventListener("afterprint", () => document.documentElement.classList.remove("prints-report"));

    return {
      show,
      open() {
        part.open = true;
        show();
        /** @type {HTMLElement} */ (part.querySelector("summary")).focus();
        part.scrollIntoView();
      },
    };
  };
})();
