// Takes the place of a published site's worker, goes, and has open pages ask the preview.
"use strict";
addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil((async () => {
  await registration.unregister();
  for (const page of await clients.matchAll()) page.navigate(page.url).catch(() => {});
})()));
