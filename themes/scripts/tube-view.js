// A tube sheet in its window: larger and smaller about one place, drawn along, brought to a stroke.
"use strict";
(() => {
  const MOST = 40;
  /** What moves less is a click. */
  const SLIP = 6;

  /** @param {HTMLElement} sheet @returns {TubeView} */
  gaugeleaf.tubeView = (sheet) => {
    let zoom = 1;
    let most = 16;
    const svg = () => sheet.querySelector("svg");
    const changed = () => sheet.dispatchEvent(new Event("zoomed"));

    /**
     * The place stays where it is in the window.
     * @param {number} to
     * @param {number} [x] of the window's width, from its left edge
     * @param {number} [y]
     */
    function set(to, x = sheet.clientWidth / 2, y = sheet.clientHeight / 2) {
      const next = Math.min(Math.max(to, 1), most);
      const grown = next / zoom;
      const [left, top] = [(sheet.scrollLeft + x) * grown - x, (sheet.scrollTop + y) * grown - y];
      zoom = next;
      const drawn = svg();
      if (drawn) drawn.style.width = zoom === 1 ? "" : `${100 * zoom}%`;
      sheet.scrollTo(left, top);
      changed();
    }

    /** So that a tube is so wide, in pixels. @param {number} wide @param {number} [limit] */
    function fit(wide, limit = MOST) {
      most = limit;
      const across = svg()?.viewBox.baseVal.width ?? 0;
      if (across > 0 && sheet.clientWidth > 0) set((wide / 16) * (across / sheet.clientWidth));
    }

    /** Brings a place to the middle, in the map's units; nothing is measured, which would lay the whole map out anew. @param {number} x @param {number} y */
    function show(x, y) {
      const box = svg()?.viewBox.baseVal;
      if (!box || box.width === 0) return;
      const scale = (sheet.clientWidth * zoom) / box.width;
      sheet.scrollTo((x - box.x) * scale - sheet.clientWidth / 2, (y - box.y) * scale - sheet.clientHeight / 2);
      near();
    }

    /** Rows by how far down they lie, in the map's units, while only those near the window are drawn. @type {{ group: SVGGElement, y: number, is: boolean }[] | null} */
    let rows = null;

    /** Draws the rows near the window alone: of two thousand tubes some hundred are in sight, and a mark waits for none of the others. */
    function near() {
      const drawn = svg();
      if (!rows || !drawn) return;
      const { y: top, width } = drawn.viewBox.baseVal;
      const scale = (sheet.clientWidth * zoom) / width;
      const [from, to] = [sheet.scrollTop - sheet.clientHeight / 2, sheet.scrollTop + 1.5 * sheet.clientHeight];
      for (const row of rows) {
        const at = (row.y - top) * scale;
        const is = at > from && at < to;
        if (is !== row.is) row.group.style.display = is ? "" : "none";
        row.is = is;
      }
    }

    /** @param {boolean} isOn */
    function cull(isOn) {
      for (const { group } of rows ?? []) group.style.display = "";
      rows = isOn ? [...sheet.querySelectorAll("[data-row]")].map((one) => {
        const group = /** @type {SVGGElement} */ (one);
        return { group, y: group.transform.baseVal.consolidate()?.matrix.f ?? 0, is: true };
      }) : null;
      near();
    }
    sheet.addEventListener("scroll", near, { passive: true });
    sheet.addEventListener("zoomed", near);

    pinched(sheet, () => zoom, set);
    dragged(sheet);
    sheet.addEventListener("wheel", (event) => {
      // What a touch pad's pinch comes as.
      if (!event.ctrlKey) return;
      event.preventDefault();
      const box = sheet.getBoundingClientRect();
      set(zoom * Math.exp(-event.deltaY / 200), event.clientX - box.left, event.clientY - box.top);
    }, { passive: false });
    sheet.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.key === "+" || event.key === "=") set(zoom * 2);
      else if (event.key === "-") set(zoom / 2);
    });

    return {
      set,
      fit,
      show,
      cull,
      get zoom() { return zoom; },
      get isLeast() { return zoom <= 1; },
      get isMost() { return zoom >= most; },
    };
  };

  /**
   * Two fingers: the sheet grows with their distance, about the place between them.
   * @param {HTMLElement} sheet
   * @param {() => number} zoom
   * @param {(to: number, x: number, y: number) => void} set
   */
  function pinched(sheet, zoom, set) {
    let [apart, from] = [0, 1];
    /** @param {TouchList} touches */
    const between = ([one, other]) => {
      const box = sheet.getBoundingClientRect();
      return {
        apart: Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY),
        x: (one.clientX + other.clientX) / 2 - box.left,
        y: (one.clientY + other.clientY) / 2 - box.top,
      };
    };
    sheet.addEventListener("touchstart", (event) => {
      if (event.touches.length === 2) [apart, from] = [between(event.touches).apart, zoom()];
    }, { passive: true });
    sheet.addEventListener("touchmove", (event) => {
      if (event.touches.length !== 2 || apart === 0) return;
      event.preventDefault();
      const now = between(event.touches);
      set(from * (now.apart / apart), now.x, now.y);
    }, { passive: false });
  }

  /** A mouse draws the sheet along, as a finger does by itself; what it let go over is no click. @param {HTMLElement} sheet */
  function dragged(sheet) {
    /** @type {{ x: number, y: number, left: number, top: number } | null} */
    let from = null;
    let hasMoved = false;
    sheet.addEventListener("pointerdown", (event) => {
      hasMoved = false;
      if (event.pointerType === "mouse" && event.button === 0) from = { x: event.clientX, y: event.clientY, left: sheet.scrollLeft, top: sheet.scrollTop };
    });
    addEventListener("pointermove", (event) => {
      if (!from) return;
      const [x, y] = [event.clientX - from.x, event.clientY - from.y];
      hasMoved = hasMoved || Math.hypot(x, y) > SLIP;
      if (hasMoved) sheet.scrollTo(from.left - x, from.top - y);
    });
    for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => { from = null; });
    sheet.addEventListener("click", (event) => {
      if (hasMoved) event.stopImmediatePropagation();
      hasMoved = false;
    }, true);
  }
})();
