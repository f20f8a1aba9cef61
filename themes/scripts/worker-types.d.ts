// What the worker and pages say to each other, and what a worker's scope offers that a page's doesn't. For the type checker alone.
/** Why the handbook could not be fetched whole. */
type HeldFault = "missing" | "other" | "network" | "full" | "refused";
/** An edition on this phone: its cache, what it says of itself, and how many files it has. */
interface HeldEdition { name: string; revision: string; mark: string; size: string; count: number }
/** The edition in use, the one that waits, the caches of pages that were open when another came into use, and those that were left for another. */
interface HeldStanding { now?: HeldEdition; next?: HeldEdition; pins: Record<string, string>; left: string[] }
/** The same as a page is told. */
interface HeldTold { now?: HeldEdition; next?: HeldEdition; isOld: boolean; isWhole: boolean; /** Nothing of the worker's own edition is lacking. */ isNewest: boolean }
type HeldNews = { news: "getting"; done: number; of: number } | { news: "failed"; why: HeldFault; file: string } | { news: "stands" };

/** What publishing writes before the worker: every file by its path, with its mark and its length. */
declare var gaugeleafHeld: { id: string; revision: string; mark: string; size: string; files: Record<string, string> };

interface LastingEvent { waitUntil(done: Promise<unknown>): void }
interface HandbookRequest extends LastingEvent { request: Request; clientId: string; resultingClientId: string; respondWith(answer: Promise<Response>): void }
interface HandbookMessage extends LastingEvent { data: { ask: string }; source: OpenPage | null; ports: readonly MessagePort[] }
interface OpenPage { id: string; postMessage(news: HeldNews): void }
interface HandbookWorker {
  registration: ServiceWorkerRegistration;
  clients: { claim(): Promise<void>; matchAll(which?: { includeUncontrolled: boolean }): Promise<readonly OpenPage[]> };
  skipWaiting(): Promise<void>;
  addEventListener(type: "install" | "activate", hear: (event: LastingEvent) => void): void;
  addEventListener(type: "message", hear: (event: HandbookMessage) => void): void;
  addEventListener(type: "fetch", hear: (event: HandbookRequest) => void): void;
}
