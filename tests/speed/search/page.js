// Runs inside the page: the engine and the library answer the same queries, one after the other.

export async function answers({ engine, index, texts, documents, asked }) {
  const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const { instance } = await WebAssembly.instantiate(bytes(engine));
  const wasm = instance.exports;
  const put = (data) => {
    const at = wasm.reserve(data.length);
    new Uint8Array(wasm.memory.buffer, at, data.length).set(data);
    return at;
  };
  const read = (told) => {
    const place = BigInt.asUintN(64, told);
    return JSON.parse(new TextDecoder().decode(new Uint8Array(wasm.memory.buffer, Number(place >> 32n), Number(place & 0xffffffffn))));
  };
  const take = (part, held) => {
    put(held);
    const start = performance.now();
    const taken = read(wasm[part](held.length));
    if (taken.error) throw new Error(taken.error);
    return performance.now() - start;
  };
  const opened = take("take_index", bytes(index));
  const ours = (query) => {
    const request = new TextEncoder().encode(JSON.stringify({ do: "search", query, limit: 12 }));
    return read(wasm.call(put(request), request.length)).hits.map((hit) => hit.title);
  };

  const start = performance.now();
  const other = new MiniSearch({ fields: ["title", "text"], storeFields: ["title"], searchOptions: { boost: { title: 4 }, fuzzy: 0.2, prefix: true } });
  other.addAll(documents);
  const built = performance.now() - start;
  const theirs = (query) => other.search(query).slice(0, 12).map((hit) => hit.title);

  const run = (search, kind) => {
    const ran = { first: 0, third: 0, nothing: 0, times: [] };
    for (const query of asked) {
      const start = performance.now();
      const found = search(query[kind]);
      ran.times.push(performance.now() - start);
      const place = found.indexOf(query.title);
      if (place === 0) ran.first += 1;
      if (place >= 0 && place < 3) ran.third += 1;
      if (found.length === 0) ran.nothing += 1;
    }
    return ran;
  };
  // the first queries of each pay for compiling, as a reader's first letters do
  for (const query of asked.slice(0, 20)) { ours(query.exact); theirs(query.exact); }
  // first as the library stands, with titles only, then with the texts that excerpts are cut from
  const both = () => ({ exact: run(ours, "exact"), slipped: run(ours, "slipped"), memory: wasm.memory.buffer.byteLength });
  const alone = both();
  const textsOpened = take("take_texts", bytes(texts));
  for (const query of asked.slice(0, 20)) ours(query.exact);
  return {
    opened,
    textsOpened,
    alone,
    whole: both(),
    other: { built, index: JSON.stringify(other), exact: run(theirs, "exact"), slipped: run(theirs, "slipped") },
  };
}
