// Starts a part of the engine: its code and the data that it opens, unpacked on the page.
"use strict";
(() => {
  const written = new TextEncoder();
  const read = new TextDecoder();

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
    if (globalThis.gaugeleafCarried?.[name] === undefined) await gaugeleaf.bring(`scripts/${name}.js`);
    const packed = bytes(gaugeleafCarried[name] ?? "");
    if (!globalThis.DecompressionStream) {
      await gaugeleaf.bring("scripts/inflate.js");
      return gaugeleaf.inflate(packed);
    }
    return new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
  }

  /**
   * Starts a part of the engine. A trap, no memory or an error ends it: its memory may hold anything then,
   * so it is never asked again, and `drop` makes room for a new one.
   * @param {Starting} of
   * @returns {Promise<Engine>}
   */
  async function start({ half, data, take, drop }) {
    await gaugeleafCopy.whole;
    if (document.documentElement.dataset.edition !== undefined) await gaugeleaf.marked();
    if (document.documentElement.classList.contains("is-half")) throw new Error("half updated");
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
    if (take === "take_catalog") ask(gaugeleaf.whose());
    return /** @type {Engine} */ (Object.assign(ask, { hand }));
  }

  /** What each script of the data has to say; asked for anew by each page's day, so that no browser brings an old one. */
  async function marks() {
    await gaugeleaf.load(`scripts/edition.js?${Number(new Date(document.lastModified))}`);
    const own = document.querySelector("[data-stamp]")?.getAttribute("data-stamp") ?? document.documentElement.dataset.mark;
    if (own && !gaugeleafEdition.pages.includes(own)) gaugeleafCopy.half();
    return gaugeleafEdition.data;
  }

  const hold = () => void gaugeleaf.bring("scripts/installed.js").catch(() => {});

  Object.assign(gaugeleaf, { start, carried, marks });
  // Once the page is there: what holds the handbook on this phone.
  if (document.readyState === "complete") hold();
  else addEventListener("load", hold);
})();
