// Starts the engine from the bytes that stand before this text in engine.js.
"use strict";
(() => {
  const written = new TextEncoder();
  const read = new TextDecoder();

  /**
   * @param {Handbook} handbook
   * @returns {Promise<Engine>}
   */
  gaugeleaf.start = async (handbook) => {
    const bytes = Uint8Array.from(atob(gaugeleafEngineBytes), (letter) => letter.charCodeAt(0));
    const { instance } = await WebAssembly.instantiate(bytes);
    const { memory, reserve, call } =
      /** @type {{memory: WebAssembly.Memory, reserve(length: number): number, call(at: number, length: number): bigint}} */ (
        /** @type {unknown} */ (instance.exports));

    /** @param {object} request */
    const ask = (request) => {
      const question = written.encode(JSON.stringify(request));
      const at = reserve(question.length);
      new Uint8Array(memory.buffer, at, question.length).set(question);
      const place = BigInt.asUintN(64, call(at, question.length));
      // The memory may have grown during the call, so it is looked up again.
      const answer = new Uint8Array(memory.buffer, Number(place >> 32n), Number(place & 0xffffffffn));
      return JSON.parse(read.decode(answer));
    };

    const opened = ask({ do: "open", ...handbook });
    if (opened.error) throw new Error(opened.error);
    return /** @type {Engine} */ (ask);
  };
})();
