// Keeps the journal's pages at hand, so that they open in the bed without a connection.
// Answers only below /journal/, on this machine or over https: elsewhere no browser runs it.
"use strict";
const KEPT = "bedwright-journal-1";
const PAGES = ["/journal/write/", "/journal/evening/", "/journal/"];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(KEPT).then(keepPages).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => {
  event.waitUntil(caches.keys()
    .then((names) => Promise.all(names.filter((each) => each.startsWith("bedwright-journal-") && each !== KEPT)
      .map((each) => caches.delete(each))))
    .then(() => self.clients.claim()));
});
self.addEventListener("message", (event) => {
  if (event.data === "forget") { event.waitUntil(caches.delete(KEPT)); }
});
self.addEventListener("fetch", (event) => {
  const asked = event.request;
  const address = new URL(asked.url);
  if (asked.method !== "GET" || address.origin !== self.location.origin) { return; }
  if (address.pathname.startsWith("/static/")) {
    event.respondWith(firstKept(asked));
  } else if (asked.mode === "navigate" && PAGES.includes(address.pathname)) {
    event.respondWith(firstFresh(asked, address.pathname));
  }
});

async function keepPages(kept) {
  await Promise.all(PAGES.map(async (page) => {
    const answer = await fetch(page, { credentials: "same-origin", cache: "no-store" });
    if (isPage(answer)) {
      const text = await answer.clone().text();
      await kept.put(page, answer);
      const files = [...text.matchAll(/(?:href|src)="(\/static\/[^"]+)"/g)].map((found) => found[1]);
      await Promise.all(files.map(async (file) => {
        if (!await kept.match(file)) {
          const got = await fetch(file);
          if (got.ok) { await kept.put(file, got); }
        }
      }));
    }
  }));
}

// A page of another address (the sign-in) or a fault is never kept in the place of the journal's.
function isPage(answer) { return answer.ok && !answer.redirected; }

async function firstFresh(asked, page) {
  try {
    const answer = await fetch(asked);
    if (isPage(answer)) { (await caches.open(KEPT)).put(page, answer.clone()); }
    return answer;
  } catch (fault) {
    const found = await caches.match(page);
    if (found) { return found; }
    throw fault;
  }
}

async function firstKept(asked) {
  const found = await caches.match(asked);
  if (found) { return found; }
  const answer = await fetch(asked);
  if (answer.ok) { (await caches.open(KEPT)).put(asked, answer.clone()); }
  return answer;
}
