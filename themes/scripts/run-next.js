// Which stroke of a run is next, what is to be known before it, and its light on the map.
"use strict";
(() => {
  const SVG = "http://www.w3.org/2000/svg";
  /** How far a light stands out over a tube's middle, in units of the map: a tube's radius is 8. */
  const [ROW, LIT] = [10.5, 11];

  /** @param {string} name @param {Record<string, string | number>} attributes */
  function drawn(name, attributes) {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
    return made;
  }

  /** @param {HTMLElement} map @param {TubeBoard} board @returns {RunNext} */
  gaugeleaf.runNext = (map, board) => {
    const { named } = board;
    /** @type {Element[]} */
    let lights = [];
    /** The strokes as the drive goes, for the sheet that they were put in order for. */
    let way = { of: board.strokes, straight: false, order: /** @type {TubeStroke[]} */ ([]), lances: 0 };

    /** Every other row is run back, where the crew runs so. @param {TubeStroke} stroke */
    const isBack = (stroke) => !board.kept.run.straight && stroke.nth % 2 === 1;

    function order() {
      const { straight } = board.kept.run;
      if (way.of !== board.strokes || way.straight !== straight || way.order.length === 0) {
        const order = [...board.strokes.values()].sort((one, other) =>
          one.nth - other.nth || (isBack(one) ? other.stroke - one.stroke : one.stroke - other.stroke));
        way = { of: board.strokes, straight, order, lances: Math.max(...order.map(({ tubes }) => tubes.length)) };
      }
      return way.order;
    }

    /** The idle lance gets its dummy nozzle in the run alone where that was decided; else such strokes are done apart, at the end. @param {TubeStroke} stroke */
    const isApart = (stroke) => stroke.open < way.lances && map.dataset.method !== "dummy";

    /** The first stroke with a tube to do, from the last one on; what was left for later, and what is done apart, comes at the end. */
    function next() {
      const all = order();
      const { log } = board.kept.run;
      let last = log.length - 1;
      while (last >= 0 && log[last].stroke === undefined) last -= 1;
      const at = last < 0 ? -1 : all.findIndex(({ stroke }) => stroke === log[last].stroke);
      const from = last >= 0 && log[last].is === "take" ? at : at + 1;
      const ahead = all.map((_, nth) => all[(Math.max(from, 0) + nth) % all.length]).filter((stroke) => stroke.open > 0);
      // One that the crew took in hand is theirs.
      if (last >= 0 && log[last].is === "take" && ahead[0]?.stroke === log[last].stroke) return ahead[0];
      return ahead.find((stroke) => !isApart(stroke)) ?? ahead[0];
    }

    /** A tube by its side first: the map numbers strokes. @param {TubeStroke} stroke @param {string} tube */
    function side({ tubes }, tube) {
      const at = tubes.indexOf(tube);
      if (tubes.length < 2) return worded("run.this_one", { tube });
      if (at === 0) return worded("run.left_one", { tube });
      if (at === tubes.length - 1) return worded("run.right_one", { tube });
      return tubes.length === 3 ? worded("run.middle_one", { tube }) : worded("run.this_one", { tube });
    }
    /** @param {TubeStroke} stroke @param {string[]} tubes */
    const sides = (stroke, tubes) => tubes.map((tube) => side(stroke, tube)).join("; ");

    /** @param {TubeStroke} stroke */
    const open = (stroke) => stroke.tubes.filter((tube) => !board.kept.marks[tube]);

    /** Why a lance of this stroke has no tube, and what that means. @param {TubeStroke} stroke */
    function warning(stroke) {
      order();
      const own = open(stroke);
      if (own.length === way.lances) return "";
      const shut = stroke.tubes.filter((tube) => board.kept.marks[tube]).map((tube) => {
        const is = board.kept.marks[tube];
        const which = side(stroke, tube);
        if (is === "plugged") return worded("run.plugged", { tube: which });
        if (is === "blocked") return worded("run.blocked", { tube: which });
        return worded("run.is_marked", { tube: which, mark: named(is) });
      });
      const tube = sides(stroke, own);
      const { method } = map.dataset;
      return [...shut, method === "dummy" ? worded("run.short", { tube }) : method === "single" ? worded("run.short_single", { tube }) : worded("run.short_open", { tube })].join(" ");
    }

    /** A capsule round tubes that lie side by side, else a ring round each and a bar between. @param {TubeStroke} stroke @param {SVGElement[]} circles */
    function capsule(stroke, circles) {
      const places = circles.map((circle) => Number(circle.getAttribute("cx")));
      const [low, high] = [Math.min(...places), Math.max(...places)];
      const first = Number(stroke.tubes[0]);
      const isBeside = Number(stroke.tubes[stroke.tubes.length - 1]) - first === stroke.tubes.length - 1 && circles.length === stroke.tubes.length;
      if (isBeside) return [drawn("rect", { class: "tube-lit", x: low - LIT, y: -LIT, width: high - low + 2 * LIT, height: 2 * LIT, rx: LIT })];
      const bar = drawn("rect", { class: "tube-lit", x: low, y: -2.5, width: high - low, height: 5 });
      return [bar, ...places.map((x) => drawn("circle", { class: "tube-lit", cx: x, r: LIT }))];
    }

    /** Lights a stroke and its row; gives its middle. @param {TubeStroke | undefined} stroke */
    function light(stroke) {
      for (const one of lights) one.remove();
      lights = [];
      if (!stroke) return undefined;
      const circles = open(stroke).map((tube) => board.tubes.get(tube)?.circle).filter((one) => one !== undefined);
      const group = circles[0]?.parentElement;
      const svg = group?.closest("svg");
      if (!group || !svg) return undefined;
      const wide = svg.viewBox.baseVal.width;
      const row = drawn("rect", { class: "tube-row", transform: group.getAttribute("transform") ?? "", x: -wide, y: -ROW, width: 2 * wide, height: 2 * ROW });
      const lit = capsule(stroke, circles);
      // Under every tube, of neighbouring rows too.
      svg.insertBefore(row, svg.querySelector("[data-row]"));
      group.prepend(...lit);
      lights = [row, ...lit];
      const places = circles.map((circle) => Number(circle.getAttribute("cx")));
      const { e = 0, f = 0 } = /** @type {SVGGElement} */ (/** @type {unknown} */ (group)).transform.baseVal.consolidate()?.matrix ?? {};
      return { x: e + (Math.min(...places) + Math.max(...places)) / 2, y: f };
    }

    return { next, open, isBack, side, sides, warning, light };
  };
})();
