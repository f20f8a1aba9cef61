// What every script of a page asks for: the engine's parts and the handbook's data, fetched on first need, and elements.
"use strict";
(() => {
  const root = document.documentElement.dataset.root ?? "";
  const written = new TextEncoder();
  const read = new TextDecoder();

  /**
   * A script element and not a fetch: a page opened as a file may not fetch.
   * @param {string} path
   * @returns {Promise<void>}
   */
  function bring(path) {
    return new Promise((resolve, reject) => {
      const script = document.createElement("script");
      script.src = root + path;
      script.onload = () => resolve();
      script.onerror = () => reject(new Error(`${path} did not load`));
      document.head.append(script);
    });
  }

  /**
   * What base64 letters stand for. By the browser where it can: letter by letter takes a slow phone a tenth of a second.
   * @param {string} text
   * @returns {Uint8Array<ArrayBuffer>}
   */
  function bytes(text) {
    const { fromBase64 } = /** @type {{ fromBase64?: (text: string) => Uint8Array<ArrayBuffer> }} */ (/** @type {unknown} */ (Uint8Array));
    if (fromBase64) return fromBase64(text);
    const letters = atob(text);
    const read = new Uint8Array(letters.length);
    for (let at = 0; at < letters.length; at += 1) read[at] = letters.charCodeAt(at);
    return read;
  }

  /**
   * Bytes travel gzipped, as letters in a script; a second start finds them on the page.
   * @param {string} name
   * @returns {Promise<ArrayBuffer>}
   */
  async function carried(name) {
    if (globalThis.gaugeleafCarried?.[name] === undefined) await bring(`scripts/${name}.js`);
    const packed = bytes(gaugeleafCarried[name] ?? "");
    if (!globalThis.DecompressionStream) {
      await gaugeleaf.bring("scripts/inflate.js");
      return gaugeleaf.inflate(packed);
    }
    return new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
  }

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
    const taken = {};
    for (const [name, one] of Object.entries(hand.given)) {
      const refused = hand.refused[name];
      taken[name] = refused ? { ...one, refused: gaugeleaf.store.typed(refused) } : one;
    }
    return { do: "job", whose: "hand", name: hand.name, kit: hand.kit, given: taken };
  }

  /**
   * Starts a part of the engine. A trap, no memory or an error ends it: its memory may hold anything then,
   * so it is never asked again, and `drop` makes room for a new one.
   * @param {{ half: string, data?: string, take?: Taking, drop: () => void }} of
   * @returns {Promise<Engine>}
   */
  async function start({ half, data, take, drop }) {
    const [code, held] = await Promise.all([carried(half), data === undefined ? null : carried(data)]);
    const { instance } = await WebAssembly.instantiate(code);
    const engine = /** @type {EngineExports} */ (/** @type {unknown} */ (instance.exports));
    let ended = false;

    /** @param {Uint8Array} bytes */
    const put = (bytes) => {
      const at = engine.reserve(bytes.length);
      if (at === 0) throw new RangeError("no memory");
      new Uint8Array(engine.memory.buffer, at, bytes.length).set(bytes);
      return at;
    };

    /**
     * @param {Uint8Array} bytes
     * @param {(at: number) => bigint} call
     */
    const answer = (bytes, call) => {
      if (ended) throw new Error("stopped");
      try {
        const place = BigInt.asUintN(64, call(put(bytes)));
        // The memory may have grown during the call, so it is looked up again.
        const text = new Uint8Array(engine.memory.buffer, Number(place >> 32n), Number(place & 0xffffffffn));
        const json = JSON.parse(read.decode(text));
        if (json.error !== undefined) throw new Error(json.error);
        return json;
      } catch (fault) {
        ended = true;
        drop();
        throw fault;
      }
    };

    /**
     * @param {ArrayBuffer} bytes
     * @param {Taking} take
     */
    const hand = (bytes, take) => { answer(new Uint8Array(bytes), () => engine[take](bytes.byteLength)); };
    if (held && take) hand(held, take);
    /** @param {object} request */
    const ask = (request) => {
      const question = written.encode(JSON.stringify(request));
      return answer(question, (at) => engine.call(at, question.length));
    };
    if (take === "take_catalog") ask(whose());
    return /** @type {Engine} */ (Object.assign(ask, { hand }));
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

  /** @type {Record<string, Promise<void>>} */
  const brought = {};

  const engine = once((drop) => start({ half: "engine", data: "catalog", take: "take_catalog", drop }));
  /** Excerpts were handed to a finder that has stopped. */
  let forget = () => {};
  const finder = once((drop) => start({ half: "search-engine", data: "search-index", take: "take_index", drop: () => { drop(); forget(); } }));
  /** What excerpts are cut from: more than the index, so that hits don't wait for it. */
  const excerpts = once(async (drop) => {
    forget = drop;
    const [found, texts] = await Promise.all([finder(), carried("search-texts")]);
    found.hand(texts, "take_texts");
  });

  /** @param {object} request */
  async function ask(request) {
    const put = async () => /** @type {(request: object) => unknown} */ (await engine())(request);
    return put().catch(put);
  }

  Object.assign(gaugeleaf, {
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
    if (sheet && !sheet.open) sheet.showModal();
    field?.focus();
    field?.select();
    gaugeleaf.bring("scripts/search.js").catch(() => { if (door) location.href = door.href; });
  }
  function again() {
    const asked = history.state?.search;
    if (!field || !asked) return;
    field.value = asked;
    if (sheet) search();
    field.dispatchEvent(new Event("input"));
  }
  door?.addEventListener("click", (event) => {
    event.preventDefault();
    search();
  });
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
