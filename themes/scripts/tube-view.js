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

    /** Brings these to the middle. @param {Element[]} parts */
    function show(parts) {
      const boxes = parts.map((part) => part.getBoundingClientRect());
      if (boxes.length === 0) return;
      const window = sheet.getBoundingClientRect();
      const mean = (/** @type {number} */ low, /** @type {number} */ high) => (low + high) / 2;
      const x = mean(Math.min(...boxes.map((box) => box.left)), Math.max(...boxes.map((box) => box.right)));
      const y = mean(Math.min(...boxes.map((box) => box.top)), Math.max(...boxes.map((box) => box.bottom)));
      sheet.scrollBy(x - mean(window.left, window.right), y - mean(window.top, window.bottom));
    }

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
