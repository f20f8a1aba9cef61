// Holds the whole handbook on a phone. Pages come from the edition in use; a newer one is fetched beside it, and waits until somebody takes it.
"use strict";
(() => {
  const worker = /** @type {HandbookWorker} */ (/** @type {unknown} */ (self));
  const { id, revision, mark, size, files } = gaugeleafHeld;
  const { scope } = worker.registration;
  /** Other handbooks of this host have other scopes. */
  const FAMILY = `gaugeleaf ${scope} `;
  const OWN = FAMILY + mark;
  const STANDING = `${FAMILY}standing`;
  /** The header by which a file that is held says which it is. */
  const MARK = "x-gaugeleaf-mark";
  const AT_ONCE = 6;
  /** @type {HeldEdition} */
  const about = { name: OWN, revision, mark: mark.slice(0, 8), size, count: Object.keys(files).length };

  /** A file's whole address. @param {string} path */
  const address = (path) => scope + path.split("/").map(encodeURIComponent).join("/");

  /** XXH32 without a seed, as the list has it. @param {ArrayBuffer} bytes */
  function sum(bytes) {
    const [one, two, three, four, five] = [0x9e3779b1, 0x85ebca77, 0xc2b2ae3d, 0x27d4eb2f, 0x165667b1];
    const { imul } = Math;
    const view = new DataView(bytes);
    const length = bytes.byteLength;
    const turned = (/** @type {number} */ word, /** @type {number} */ by) => (word << by) | (word >>> (32 - by));
    const round = (/** @type {number} */ lane, /** @type {number} */ at) => imul(turned(lane + imul(view.getUint32(at, true), two), 13), one);
    let at = 0;
    let hash = five;
    if (length >= 16) {
      let [a, b, c, d] = [(one + two) | 0, two, 0, -one];
      for (; at <= length - 16; at += 16) {
        a = round(a, at);
        b = round(b, at + 4);
        c = round(c, at + 8);
        d = round(d, at + 12);
      }
      hash = turned(a, 1) + turned(b, 7) + turned(c, 12) + turned(d, 18);
    }
    hash = (hash + length) | 0;
    for (; at + 4 <= length; at += 4) hash = imul(turned(hash + imul(view.getUint32(at, true), three), 17), four);
    for (; at < length; at += 1) hash = imul(turned(hash + imul(view.getUint8(at), five), 11), one);
    hash = imul(hash ^ (hash >>> 15), two);
    hash = imul(hash ^ (hash >>> 13), three);
    return ((hash ^ (hash >>> 16)) >>> 0).toString(16).padStart(8, "0");
  }

  /** Tells every open page. @param {HeldNews} news */
  async function tell(news) {
    for (const page of await worker.clients.matchAll({ includeUncontrolled: true })) page.postMessage(news);
  }

  /** What keeps the handbook from being held. */
  class Fault extends Error {
    /** @param {HeldFault} why @param {string} file */
    constructor(why, file) {
      super(`${file}: ${why}`);
      this.why = why;
      this.file = file;
    }
  }

  /** Keeps a file; what came before, in this edition or another, isn't fetched again. @param {Cache} cache @param {string[]} others @param {string} path */
  async function hold(cache, others, path) {
    const at = address(path);
    for (const name of [OWN, ...others]) {
      const known = await caches.match(at, { cacheName: name });
      if (known?.headers.get(MARK) !== files[path]) continue;
      return name === OWN ? undefined : cache.put(at, known);
    }
    const answer = await fetch(at, { cache: "reload" }).catch(() => { throw new Fault("network", path); });
    if (!answer.ok) throw new Fault("missing", path);
    const bytes = await answer.arrayBuffer().catch(() => { throw new Fault("network", path); });
    // A server in the middle of a change, or one that puts things of its own into pages, must not make a mixture.
    if (`${sum(bytes)}.${bytes.byteLength}` !== files[path]) throw new Fault("other", path);
    const headers = { "content-type": answer.headers.get("content-type") ?? "", [MARK]: files[path] };
    // A new answer: one that was led on from another address would be refused as a page.
    return cache.put(at, new Response(bytes, { headers }));
  }

  /** Fetches all of this edition or fails; what has come stays for the next try, and nobody is shown it. */
  async function holdAll() {
    const cache = await caches.open(OWN);
    const others = (await names()).filter((name) => name !== OWN && name !== STANDING);
    const left = Object.keys(files);
    let done = 0;
    let isOver = false;
    const some = async () => {
      for (let path = left.pop(); path !== undefined; path = left.pop()) {
        await hold(cache, others, path);
        if (isOver) return;
        done += 1;
        if (done % 8 === 0) void tell({ news: "getting", done, of: about.count });
      }
    };
    try {
      await Promise.all(Array.from({ length: AT_ONCE }, some));
    } catch (fault) {
      isOver = true;
      throw fault;
    }
  }

  /** @template T @param {() => Promise<T>} act */
  async function telling(act) {
    try {
      return await act();
    } catch (fault) {
      const quota = /** @type {Error} */ (fault).name === "QuotaExceededError";
      const known = fault instanceof Fault ? fault : { why: quota ? /** @type {const} */ ("full") : /** @type {const} */ ("refused"), file: "" };
      await tell({ news: "failed", why: known.why, file: known.file });
      throw fault;
    }
  }

  const names = async () => (await caches.keys()).filter((name) => name.startsWith(FAMILY));

  /** @returns {Promise<HeldStanding>} */
  async function read() {
    const kept = await caches.match(scope, { cacheName: STANDING });
    return { pins: {}, left: [], ...(kept ? await kept.json() : {}) };
  }
  /** Which edition is in use, which waits, and which page stays with another; read once. @type {Promise<HeldStanding> | undefined} */
  let known;
  const standing = () => (known ??= read().catch(() => {
    known = undefined;
    return /** @type {HeldStanding} */ ({ pins: {}, left: [] });
  }));

  /** Changes that, one after the other. @param {(stands: HeldStanding) => unknown} act @returns {Promise<HeldStanding>} */
  function change(act) {
    const before = known;
    known = (async () => {
      await before?.catch(() => {});
      const stands = await read();
      await act(stands);
      await (await caches.open(STANDING)).put(scope, new Response(JSON.stringify(stands)));
      return stands;
    })();
    known.catch(() => { known = undefined; });
    return known;
  }

  /** Whether every file of an edition is there still. @param {HeldEdition | undefined} edition */
  async function whole(edition) {
    if (!edition || !(await caches.has(edition.name))) return false;
    return (await (await caches.open(edition.name)).keys()).length === edition.count;
  }

  /** From which cache each page came that this worker answered; what it forgets when it is ended is long open by then. @type {Map<string, string>} */
  const answered = new Map();
  /** Those that asked for nothing yet: the browser doesn't list them. @type {Set<string>} */
  const coming = new Set();

  /** Forgets pages that are closed, and editions that no page needs. A newer one may be on its way: only a worker that has just come knows that there is none. @param {boolean} isNew */
  async function tidy(isNew) {
    const open = new Set((await worker.clients.matchAll({ includeUncontrolled: true })).map((page) => page.id));
    for (const page of answered.keys()) if (!open.has(page) && !coming.has(page)) answered.delete(page);
    const { pins } = await standing();
    const closed = Object.keys(pins).filter((page) => !open.has(page));
    const stands = await (closed.length === 0 ? standing() : change(({ pins }) => {
      for (const page of closed) delete pins[page];
    }));
    const used = [STANDING, OWN, stands.now?.name, stands.next?.name, ...Object.values(stands.pins), ...answered.values()];
    for (const name of isNew ? await names() : stands.left) if (!used.includes(name)) await caches.delete(name);
  }

  /** Puts this edition into use where there is no other, and else beside it. */
  async function ready() {
    const stands = await change(async (stands) => {
      if (!(await whole(about))) return;
      const inUse = await whole(stands.now);
      if (!inUse) stands.now = about;
      if (stands.now?.name === OWN) delete stands.next;
      else stands.next = about;
    });
    return stands.next === undefined;
  }

  worker.addEventListener("install", (event) => event.waitUntil(telling(async () => {
    await holdAll();
    // The code is the newest at once; the handbook is what somebody took.
    await worker.skipWaiting();
  })));

  worker.addEventListener("activate", (event) => event.waitUntil((async () => {
    // Pages that are open already came from the server, as this edition did.
    if (await ready()) await worker.clients.claim();
    await tidy(true);
    await change((stands) => { stands.left = []; });
    await tell({ news: "stands" });
  })()));

  /** The one that waits comes into use; pages that are open stay with what they came from. @returns {Promise<boolean>} */
  async function take() {
    let taken = false;
    const open = (await worker.clients.matchAll()).map((page) => page.id);
    await change(async (stands) => {
      const { now, next } = stands;
      taken = await whole(next);
      if (taken && now) for (const page of [...open, ...answered.keys()]) stands.pins[page] ??= answered.get(page) ?? now.name;
      if (taken && now) stands.left = [...stands.left.filter((name) => name !== next?.name), now.name];
      if (taken) stands.now = next;
      delete stands.next;
    });
    await tell({ news: "stands" });
    return taken;
  }

  /** What the browser threw away is fetched again. */
  async function fill() {
    await holdAll();
    await ready();
    await worker.clients.claim();
    await tell({ news: "stands" });
  }

  worker.addEventListener("message", (event) => {
    const page = event.source?.id ?? "";
    coming.delete(page);
    const acts = {
      async tell() {
        await tidy(false);
        const { now, next, pins } = await standing();
        const isOld = pins[page] !== undefined && pins[page] !== now?.name;
        return { now, next, isOld, isWhole: await whole(now), isNewest: await whole(about) };
      },
      take,
      fill: () => telling(fill),
    };
    const done = acts[/** @type {keyof typeof acts} */ (event.data.ask)]();
    event.waitUntil(done.then((told) => event.ports[0].postMessage(told), () => event.ports[0].postMessage(undefined)));
  });

  /** What a page's address leads to in an edition. @param {string} name @param {string} path */
  async function found(name, path) {
    const at = (/** @type {string} */ path) => caches.match(address(path), { cacheName: name });
    if (path === "" || path.endsWith("/")) return at(`${path}index.html`);
    // Some servers name pages without their ending.
    const page = (await at(path)) ?? (await at(`${path}.html`));
    if (page) return page;
    return (await at(`${path}/index.html`)) && Response.redirect(`${address(path)}/`);
  }

  /** A page that no edition on this phone has. @param {HandbookRequest} event @param {string} name @returns {Promise<Response>} */
  async function unknown(event, name) {
    const answer = await fetch(event.request).catch(() => undefined);
    // What the browser threw away has no page to say so.
    const lost = name && (await caches.match(address("not-found.html"), { cacheName: name }));
    if (!lost) return answer ?? gone();
    // Another address of the same host, or one that leads on. A page of another edition would meet this one's scripts.
    const isOther = answer?.ok && !(/html/.test(answer.headers.get("content-type") ?? "") && (await answer.clone().text()).includes(`data-handbook="${id}"`));
    return answer && (isOther || answer.type === "opaqueredirect") ? answer : Response.redirect(address("not-found.html"));
  }

  /** Nothing of the handbook is left, and nothing can be fetched. */
  function gone() {
    const page = `<!doctype html><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${worded("installed.gone_title")}</title><h1>${worded("installed.gone_title")}</h1><p>${worded("installed.gone")}</p>`;
    return new Response(page, { status: 503, headers: { "content-type": "text/html; charset=utf-8" } });
  }

  /** @param {HandbookRequest} event @param {string} path */
  async function answer(event, path) {
    const isPage = event.request.mode === "navigate";
    const { now, pins } = await standing();
    const name = (isPage ? undefined : pins[event.clientId] ?? answered.get(event.clientId)) ?? now?.name ?? "";
    coming.delete(event.clientId);
    if (isPage && event.resultingClientId) {
      answered.set(event.resultingClientId, name);
      coming.add(event.resultingClientId);
    }
    const kept = !name ? undefined : await (isPage ? found(name, path) : caches.match(address(path), { cacheName: name }));
    return kept ?? (isPage ? unknown(event, name) : fetch(event.request));
  }

  worker.addEventListener("fetch", (event) => {
    const { method, url } = event.request;
    if (method !== "GET" || !url.startsWith(scope)) return;
    const { pathname } = new URL(url);
    let path = pathname.slice(new URL(scope).pathname.length);
    try { path = decodeURIComponent(path); } catch { /* no file of ours has such an address */ }
    event.respondWith(answer(event, path));
  });
})();
