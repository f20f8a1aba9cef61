// Fetches the engine's parts and the handbook's data on first need, once a page.
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
   * Bytes travel gzipped, as letters in a script.
   * @param {string} name
   * @returns {Promise<ArrayBuffer>}
   */
  async function carried(name) {
    await bring(`scripts/${name}.js`);
    const packed = Uint8Array.from(atob(gaugeleafCarried[name] ?? ""), (letter) => letter.charCodeAt(0));
    const opened = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new Response(opened).arrayBuffer();
  }

  /** The values that hold on this page: the handbook's, under the page's, under those of the job in hand. */
  function given() {
    const { given: own, job } = document.documentElement.dataset;
    const page = JSON.parse(own ?? "{}");
    return { ...gaugeleafGiven, ...page, ...(job === undefined ? gaugeleaf.store.kept()?.given : {}) };
  }

  /**
   * @param {string} half
   * @param {string} [data]
   * @param {Taking} [take]
   * @returns {Promise<Engine>}
   */
  async function start(half, data, take) {
    const [code, held] = await Promise.all([carried(half), data === undefined ? null : carried(data)]);
    const { instance } = await WebAssembly.instantiate(code);
    const engine = /** @type {EngineExports} */ (/** @type {unknown} */ (instance.exports));

    /** @param {Uint8Array} bytes */
    const put = (bytes) => {
      const at = engine.reserve(bytes.length);
      new Uint8Array(engine.memory.buffer, at, bytes.length).set(bytes);
      return at;
    };

    /** @param {bigint} told */
    const answer = (told) => {
      const place = BigInt.asUintN(64, told);
      // The memory may have grown during the call, so it is looked up again.
      const text = new Uint8Array(engine.memory.buffer, Number(place >> 32n), Number(place & 0xffffffffn));
      const json = JSON.parse(read.decode(text));
      return json;
    };

    /**
     * @param {ArrayBuffer} bytes
     * @param {Taking} take
     */
    const hand = (bytes, take) => {
      put(new Uint8Array(bytes));
      const opened = answer(engine[take](bytes.byteLength));
      if (opened.error) throw new Error(opened.error);
    };
    if (held && take) hand(held, take);
    /** @param {object} request */
    const ask = (request) => {
      const question = written.encode(JSON.stringify(request));
      return answer(engine.call(put(question), question.length));
    };
    if (take === "take_catalog") ask({ do: "job", given: given() });
    return /** @type {Engine} */ (Object.assign(ask, { hand }));
  }

  /**
   * Starts once; a failed start may be tried again, as the connection may be back.
   * @template T
   * @param {() => Promise<T>} begin
   */
  function once(begin) {
    /** @type {Promise<T> | null} */
    let started = null;
    return () => {
      started ??= begin();
      started.catch(() => { started = null; });
      return started;
    };
  }

  /** @type {Record<string, Promise<void>>} */
  const brought = {};

  const finder = once(() => start("search-engine", "search-index", "take_index"));
  /** What excerpts are cut from: more than the index, so that hits don't wait for it. */
  const excerpts = once(async () => {
    const [found, texts] = await Promise.all([finder(), carried("search-texts")]);
    found.hand(texts, "take_texts");
  });

  Object.assign(gaugeleaf, {
    root,
    given,
    /** @param {string} path */
    bring: (path) => (brought[path] ??= bring(path)),
    engine: once(() => start("engine", "catalog", "take_catalog")),
    finder,
    excerpts,
    sharer: once(() => start("share-engine")),
  });
})();
