// Puts questions to the browser's engine in the runtime of a browser, and compares each answer
// with the native one by its fingerprint: node compare.js ENGINE.wasm.gz < QUESTIONS
"use strict";
const { createHash } = require("node:crypto");
const { readFileSync } = require("node:fs");
const { createInterface } = require("node:readline");
const { gunzipSync } = require("node:zlib");

async function main([enginePath]) {
  const { instance } = await WebAssembly.instantiate(gunzipSync(readFileSync(enginePath)));
  const engine = instance.exports;

  function put(bytes) {
    const at = engine.reserve(bytes.length);
    new Uint8Array(engine.memory.buffer, at, bytes.length).set(bytes);
    return at;
  }

  function answer(told) {
    const place = BigInt.asUintN(64, told);
    return Buffer.from(engine.memory.buffer, Number(place >> 32n), Number(place & 0xffffffffn));
  }

  function takeCatalog(hex) {
    const catalog = Buffer.from(hex, "hex");
    put(catalog);
    const taken = answer(engine.take_catalog(catalog.length)).toString();
    if (taken !== '{"ok":true}') throw new Error(taken);
  }

  const lines = createInterface({ input: process.stdin })[Symbol.asyncIterator]();
  takeCatalog((await lines.next()).value);

  let [passed, failed] = [0, 0];
  for await (const line of lines) {
    const request = Buffer.from(line.slice(17));
    const given = answer(engine.call(put(request), request.length));
    if (createHash("sha256").update(given).digest("hex").startsWith(line.slice(0, 16))) {
      passed += 1;
    } else {
      failed += 1;
      if (failed <= 5) console.error(`asked ${request}\nthe browser's engine answers ${given}`);
    }
  }
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = passed > 0 && failed === 0 ? 0 : 1;
}

main(process.argv.slice(2));
