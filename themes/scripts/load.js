// What every script of a page asks for: the engine's parts and the handbook's data, fetched on first need, and elements.
"use strict";
(() => {
  const root = document.documentElement.dataset.root ?? "";

  /** What did not come. @type {Set<string>} */
  const missing = new Set();

  /**
   * A script or stylesheet by an element and not a fetch: a page opened as a file may not fetch.
   * @param {string} path
   * @returns {Promise<void>}
   */
  function load(path) {
    return new Promise((resolve, reject) => {
      const script = path.startsWith("styles")
        ? Object.assign(document.createElement("link"), { rel: "stylesheet", href: root + path })
        : Object.assign(document.createElement("script"), { src: root + path });
      const fail = () => reject(new Error(`${path} did not load`));
      script.onload = () => {
        missing.delete(path);
        gaugeleafCopy.tell(missing.size > 0);
        if (gaugeleafCopy.isOf(script)) return resolve();
        gaugeleafCopy.half();
        fail();
      };
      // It may come yet, where a connection is back.
      script.onerror = () => {
        missing.add(path);
        gaugeleafCopy.tell(true);
        fail();
      };
      document.head.append(script);
    });
  }

  /**
   * Begins once, and anew after a failure or a fault, as the connection or the memory may be back.
   * @template T
   * @param {(drop: () => void) => Promise<T>} begin
   */
  function once(begin) {
    /** @type {Promise<T> | null} */
    let begun = null;
    const drop = () => { begun = null; };
    return () => {
      if (!begun) {
        begun = begin(drop);
        begun.catch(drop);
      }
      return begun;
    };
  }

  const { edition } = document.documentElement.dataset;
  /** A script of the site, by the mark that it has to say: what changes with every text says its own. @param {string} path */
  async function bring(path) {
    if (edition === undefined) return load(path);
    const [, name = ""] = /scripts\/([\w-]+)/.exec(path) ?? [];
    return load(`${path}?v=${/^(cards|catalog|drawings|grounds|meanings|sheets|search-(index|texts))$/.test(name) ? (await marks())[name] : edition}`);
  }
  /** Told on sight, too, where nothing is asked for. */
  const marks = once(async () => {
    await gaugeleaf.bring("scripts/start.js");
    return gaugeleaf.marks();
  });
  if (edition !== undefined) addEventListener("load", () => marks().catch(() => {}));

  /**
   * Whose values hold on this page: those of the job in hand and no others, but on a prepared job's page that
   * job's; with no job in hand the page's. What was refused goes along, so that nothing stands on it.
   * @returns {RequestOf<"job">}
   */
  function whose() {
    const { job, given } = document.documentElement.dataset;
    const hand = job === undefined ? gaugeleaf.store.kept() : undefined;
    if (!hand) return { do: "job", ...JSON.parse(given || "{}") };
    /** @type {Record<string, Taken>} */
    const taken = { ...hand.given };
    for (const [name, one] of Object.entries(hand.refused)) taken[name] = { ...(taken[name] ?? { text: "", when: "" }), refused: gaugeleaf.store.typed(one) || "?" };
    return { do: "job", whose: "hand", name: hand.name, kit: hand.kit, given: taken };
  }

  /** @type {Record<string, Promise<void>>} */
  const brought = {};

  /** A part of the engine starts by a script of its own: most pages are read before they are asked anything. @param {Starting} of */
  async function start(of) {
    await gaugeleaf.bring("scripts/start.js");
    return gaugeleaf.start(of);
  }

  const engine = once((drop) => start({ half: "engine", data: "catalog", take: "take_catalog", drop }));
  /** Excerpts were handed to a finder that has stopped. */
  let forget = () => {};
  const finder = once((drop) => start({ half: "search-engine", data: "search-index", take: "take_index", drop: () => { drop(); forget(); } }));
  /** What excerpts are cut from: more than the index, so that hits don't wait for it. */
  const excerpts = once(async (drop) => {
    forget = drop;
    const found = await finder();
    const texts = await gaugeleaf.carried("search-texts");
    found.hand(texts, "take_texts");
  });

  /** @param {object} request */
  async function ask(request) {
    const put = async () => /** @type {(request: object) => unknown} */ (await engine())(request);
    return put().catch(put);
  }

  Object.assign(gaugeleaf, {
    load,
    marked: marks,
    /**
     * @param {string} tag
     * @param {string} className
     * @param {(string | Node)[]} parts
     */
    element(tag, className, ...parts) {
      const made = document.createElement(tag);
      made.className = className;
      made.append(...parts);
      return made;
    },
    /** @param {ParentNode} within @param {string} selector */
    all: (within, selector) => [...within.querySelectorAll(selector)],
    root,
    whose,
    /** Once, and anew after a failure. @param {string} path */
    bring: (path) => (brought[path] ??= bring(path).catch((fault) => {
      delete brought[path];
      throw fault;
    })),
    engine,
    /** One question, put once more to a new engine where the first one stopped over it. */
    ask,
    finder,
    excerpts,
    sharer: once((drop) => start({ half: "share-engine", drop })),
  });

  // The search comes with the first wish for it, or for what was asked before somebody went on; its field takes letters at once.
  const door = /** @type {HTMLAnchorElement | null} */ (document.querySelector(".bar-search"));
  const sheet = /** @type {HTMLDialogElement | null} */ (document.querySelector(".search-sheet"));
  const field = /** @type {HTMLInputElement | null} */ (document.querySelector("#search-words"));
  function search() {
    // Phones of before 2022 know no dialogs: the search has a page.
    if (door && sheet && !sheet.showModal) return location.assign(door.href);
    if (sheet && !sheet.open) sheet.showModal();
    field?.focus();
    field?.select();
    if (sheet) gaugeleaf.bring("styles/search.css").catch(() => {});
    gaugeleaf.bring("scripts/search.js").catch(() => { if (door) location.href = door.href; });
  }
  function again() {
    const asked = history.state?.search;
    if (!field || !asked) return;
    field.value = asked;
    if (sheet?.showModal) search();
    field.dispatchEvent(new Event("input"));
  }
  for (const way of document.querySelectorAll(".bar-search, .first-ask")) {
    way.addEventListener("click", (event) => {
      event.preventDefault();
      search();
    });
  }
  addEventListener("keydown", (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    const typing = target.matches?.("input:not([type=radio]), select, textarea");
    if (event.key !== "/" || typing || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    search();
  });
  addEventListener("popstate", again);
  again();
})();
