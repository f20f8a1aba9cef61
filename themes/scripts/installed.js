// Has the whole handbook held on this phone, says on the front page how that stands, and offers a newer revision. Nothing changes before a tap.
"use strict";
(() => {
  const { element, root, store } = gaugeleaf;
  const { serviceWorker: workers, storage } = navigator;
  const { edition } = document.documentElement.dataset;
  const revision = document.querySelector(".job-bar")?.getAttribute("data-revision") ?? "";
  const place = /** @type {HTMLElement | null} */ (document.querySelector(".held"));
  /** What the phone once held: without it, the browser threw it away. */
  const KEY = "held";
  /** When the server was last asked for a newer edition. */
  const LOOKED = "looked";
  /** What is lost with the handbook, and no crew's: the phone is not told full for it. @param {string} key */
  const kept = (key) => { try { return localStorage.getItem(store.own(key)); } catch { return null; } };
  /** @param {string} key @param {string} text */
  const keep = (key, text) => { try { localStorage.setItem(store.own(key), text); } catch { /* it is told less well */ } };
  /** @type {ServiceWorkerRegistration | undefined} */
  let registration;
  /** What is wrong, until something comes. @type {Extract<HeldNews, { news: "failed" }> | undefined} */
  let failed;
  let isFilling = false;

  const dress = () => void gaugeleaf.bring("styles/installed.css").catch(() => {});

  /** @param {string} text @param {() => unknown} act */
  function key(text, act) {
    const made = element("button", "held-key", text);
    made.setAttribute("type", "button");
    made.addEventListener("click", act);
    return made;
  }

  /** On the front page alone; the first words count the most. @param {(string | Node)[]} parts */
  function say(...parts) {
    if (!place) return;
    dress();
    const [head = "", ...rest] = parts.filter((part) => typeof part === "string" && part !== "");
    const words = [head, ...rest].join("");
    const keys = parts.filter((part) => typeof part !== "string");
    // What stands there already isn't read out again, nor each file that comes.
    if (keys.length === 0 && place.childElementCount === 1 && place.textContent === words) return;
    place.setAttribute("aria-busy", String(keys.length === 0 && !kept(KEY)));
    place.replaceChildren(element("p", "", element("b", "", head), ...rest), ...keys);
  }

  /** @param {string} what @returns {Promise<HeldTold | boolean | undefined>} */
  const ask = (what) => new Promise((told) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => told(data);
    registration?.active?.postMessage({ ask: what }, [port2]);
  });

  /** What keeps the handbook off this phone. @param {HeldFault} why @param {string} file */
  const because = (why, file) => ({
    missing: worded("installed.missing", { file }),
    other: worded("installed.other", { file }),
    network: worded("installed.network"),
    full: worded("installed.full"),
    refused: worded("installed.refused"),
  })[why];

  const again = () => key(worded("installed.again"), () => {
    failed = undefined;
    void begin();
  });

  /** @param {HeldTold} told */
  function offer({ now, next, isOld }) {
    const old = document.querySelector(".held-offer");
    const newer = isOld ? now : next;
    if (!newer) {
      old?.remove();
      return [];
    }
    const [of, isSame] = [isOld ? revision : now?.revision ?? revision, newer.revision === revision];
    const words = isSame
      ? worded("installed.newer_same", { revision, newer: newer.mark, mark: now?.mark ?? "" })
      : worded("installed.newer", { newer: newer.revision, revision: of });
    const change = key(isSame ? worded("installed.change_same", { newer: newer.mark }) : worded("installed.change", { newer: newer.revision }), async () => {
      change.textContent = worded("installed.changing");
      // Another page may have taken it by now; what can't be taken is told by the page that comes.
      await ask("take");
      location.reload();
    });
    if (place) return [words, change];
    // What is offered already stays as it is, with the focus on it.
    if (old?.firstElementChild?.textContent === words) return [];
    old?.remove();
    dress();
    // At the end of the page, where it moves nothing.
    const line = element("div", "held-offer", element("p", "", words), change);
    line.setAttribute("role", "status");
    document.querySelector(".card-foot")?.prepend(line);
    return [];
  }

  /** Whether the browser promised to keep it; asked once it is whole. */
  const lasts = async () => (await storage?.persisted?.().catch(() => false)) || (await storage?.persist?.().catch(() => false)) || false;

  /** @param {HeldTold} told */
  async function tell(told) {
    const newer = offer(told);
    const { now } = told;
    if (!place || !now) return;
    if (newer.length > 0) return say(...newer);
    const day = kept(LOOKED);
    const { mark, size } = now;
    const ready = [
      worded("installed.ready", { revision: now.revision }),
      day ? worded("installed.looked", { mark, size, day }) : worded("installed.content", { mark, size }),
    ];
    if (failed) return say(...ready, ` ${worded("installed.newer_failed")}${because(failed.why, failed.file)} ${worded("installed.still")}`, again());
    say(...ready);
    // What is on the home screen a browser keeps.
    const isApp = matchMedia("(display-mode: standalone)").matches;
    if (!(await lasts()) && !isApp) say(...ready, worded("installed.may_drop"));
  }

  /** Says how it stands, by what the worker says of it. */
  async function look() {
    const told = registration?.active ? /** @type {HeldTold | undefined} */ (await ask("tell")) : undefined;
    const isThere = told?.now && told.isWhole;
    if (isThere && told.now) {
      keep(KEY, told.now.mark);
      await tell(told);
      // A newer one that the browser threw away in part.
      if (!told.isNewest && !registration?.installing) await fill();
      return;
    }
    const dropped = kept(KEY) !== null ? worded("installed.dropped") : "";
    if (failed) return say(worded("installed.not_ready"), dropped, because(failed.why, failed.file), again());
    say(dropped, worded("installed.getting"));
    if (told && !registration?.installing) await fill();
  }

  /** Has what is lacking fetched; once, as whoever is told of a failure may try again. */
  async function fill() {
    if (isFilling || failed) return;
    isFilling = true;
    await ask("fill");
    isFilling = false;
  }

  /** @param {HeldNews} news */
  function hear(news) {
    if (news.news === "getting") {
      failed = undefined;
      // A newer one comes without a word until it is there.
      if (kept(KEY) === null || isFilling) say(worded("installed.getting_of", { done: news.done, of: news.of }));
      return;
    }
    failed = news.news === "failed" ? news : undefined;
    void look();
  }

  /** Asks for the worker, and through it for all that isn't here yet. */
  async function begin() {
    try {
      registration = await workers.register(`${root}worker.js`, { updateViaCache: "none" });
      if (!registration) return say(worded("installed.unable"));
    } catch (fault) {
      const why = /** @type {Error} */ (fault).name === "SecurityError" ? "refused" : "network";
      registration = await workers.getRegistration().catch(() => undefined);
      if (!registration?.active) failed = { news: "failed", why, file: "" };
    }
    await look();
    if (!registration?.active) return;
    // Asked for by every page that is opened; the front page tells when that last came through.
    await registration.update().then(() => keep(LOOKED, new Intl.DateTimeFormat([], { dateStyle: "medium" }).format()), () => {});
    if (place) void look();
  }

  // A preview's pages come one after the other.
  if (edition === undefined) return;
  if (location.protocol === "file:") return say(worded("installed.folder", { revision }));
  if (!globalThis.isSecureContext) return say(worded("installed.insecure"));
  if (!workers) return say(worded("installed.unable"));
  if (place) document.head.append(Object.assign(document.createElement("link"), { rel: "manifest", href: "handbook.webmanifest" }));
  workers.addEventListener("message", ({ data }) => hear(data));
  addEventListener("online", () => void begin());
  // What was open for days asks, too, and so does a page that comes back from behind another.
  document.addEventListener("visibilitychange", () => { if (!document.hidden) void begin(); });
  void begin();
})();
