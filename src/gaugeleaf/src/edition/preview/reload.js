// Asks the preview what it shows of this page, waits until that is something else, shows
// that and loads the page again. A change of styles alone is put in without loading, and
// findings are laid over the page until they are mended.
"use strict";
(() => {
  /** Between two tries where nothing is waited for, or the preview is away. */
  const pause = 1000;
  /** A browser keeps six connections to one server: so many may wait, the rest is for files. */
  const places = 3;
  /** @type {{page: string, styles: string, rest: string, token: string} | null} */
  let known = null;
  let leaving = false;
  /** @type {HTMLElement | null} */
  let sheet = null;

  /** @param {string} text */
  const tell = (text) => {
    if (text === "") {
      if (sheet) sheet.remove();
      sheet = null;
      document.body.style.paddingBottom = "";
      return;
    }
    if (!sheet) {
      sheet = document.createElement("details");
      sheet.setAttribute("open", "");
      sheet.setAttribute("role", "alert");
      sheet.className = "preview-findings";
      const head = document.createElement("summary");
      head.textContent = "Findings";
      sheet.append(head, document.createElement("pre"));
      // no part of the page, and so on no card
      const { style } = sheet;
      addEventListener("beforeprint", () => { style.display = "none"; });
      addEventListener("afterprint", () => { style.display = ""; });
      const look = {
        position: "fixed", inset: "auto 0 0 0", margin: "0", padding: "12px", zIndex: "1000",
        maxHeight: "50vh", overflow: "auto", background: "#fff", color: "#000",
        borderTop: "4px solid #a00", font: "14px/1.4 monospace",
      };
      Object.assign(style, look);
      document.body.append(sheet);
      // the page's foot can be scrolled free of it
      new ResizeObserver(([entry]) => {
        document.body.style.paddingBottom = `${entry.target.clientHeight}px`;
      }).observe(sheet);
    }
    const words = /** @type {HTMLElement} */ (sheet.lastElementChild);
    if (words.textContent !== text) words.textContent = text;
  };

  /** @param {string} revision */
  const restyle = (revision) => {
    for (const link of document.querySelectorAll("link[rel=stylesheet]")) {
      const fresh = /** @type {HTMLLinkElement} */ (link.cloneNode());
      fresh.href = `${fresh.href.split("?")[0]}?${revision.slice(0, 12)}`;
      fresh.addEventListener("load", () => link.remove());
      link.after(fresh);
    }
  };

  /**
   * Makes a part of the page what a fresh one is, and leaves what is the same where it is: a long
   * page is not laid out anew for one number.
   * @param {ChildNode} own
   * @param {ChildNode} fresh
   */
  const renew = (own, fresh) => {
    if (own.isEqualNode(fresh)) return;
    const [parts, now] = [own, fresh].map((part) => [...part.childNodes]);
    const paired = parts.length > 0 && parts.length === now.length;
    if (paired && own.cloneNode().isEqualNode(fresh.cloneNode())) {
      parts.forEach((part, at) => renew(part, now[at]));
    } else {
      own.replaceWith(fresh);
    }
  };

  /**
   * Puts in what the page says now, before it is loaded: that takes as long again, and is for what
   * scripts do with it. Pictures of another revision are fetched anew.
   * @param {string} pictures the revision, where pictures may be others
   */
  const show = async (pictures) => {
    const answer = await fetch(location.href, { cache: "no-store" });
    const [own, fresh] = [document, new DOMParser().parseFromString(await answer.text(), "text/html")]
      .map((page) => page.querySelector("main"));
    if (!own || !fresh) return;
    const images = pictures === "" ? [] : [...fresh.querySelectorAll("img")];
    for (const image of images) image.src = `${image.getAttribute("src")}?${pictures}`;
    renew(own, fresh);
    await Promise.allSettled(images.map((image) => image.decode()));
    // seen first: in a hidden tab there are no frames
    if (!document.hidden) await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  };

  /** The hashes of when the page was loaded, which may be older than the first answer. */
  const loaded = () => {
    const [entry] = performance.getEntriesByType("navigation");
    const timing = /** @type {PerformanceNavigationTiming | undefined} */ (entry)?.serverTiming;
    return Object.fromEntries((timing ?? []).map((one) => [one.name, one.description]));
  };

  let shown = new AbortController();
  document.addEventListener("visibilitychange", () => {
    shown.abort();
    shown = new AbortController();
  });

  /** @param {AbortSignal} until a page that is shown or hidden starts anew */
  const sleep = (until) => new Promise((done) => {
    setTimeout(done, pause);
    until.addEventListener("abort", done);
  });

  /**
   * Calls `use` with a place among the waiting, if one is free and the page can be seen.
   * @param {(waits: boolean) => Promise<void>} use
   * @returns {Promise<void>}
   */
  const withPlace = async (use, place = 0) => {
    if (document.hidden || place === places || !navigator.locks) return use(false);
    return navigator.locks.request(`preview-${place}`, { ifAvailable: true }, (lock) =>
      lock ? use(true) : withPlace(use, place + 1));
  };

  /** @param {boolean} waits */
  const ask = async (waits) => {
    const { signal } = shown;
    const seen = waits && known ? `&seen=${known.token}` : "";
    const page = encodeURIComponent(location.pathname);
    try {
      const answer = await fetch(`/.preview/revision?page=${page}${seen}`, { cache: "no-store", signal });
      const now = await answer.json();
      const before = known ?? { ...now, ...loaded() };
      if (before.page !== now.page || before.rest !== now.rest) {
        leaving = true;
        await show(before.rest === now.rest ? "" : now.token).catch(() => {});
        location.reload();
        return;
      }
      if (before.styles !== now.styles) restyle(now.styles);
      known = now;
      tell(now.findings);
      if (!waits) await sleep(signal);
    } catch {
      // the preview is away, and may come back; or the page was shown or hidden
      if (!signal.aborted) await sleep(signal);
    }
  };

  const look = async () => {
    while (!leaving) await withPlace(ask);
  };
  look();
})();
