// Lets the field sheet open again where there is no connection: asks the server first, and gives
// what it answered last where it does not answer. It serves nothing but the sheet and its parts.
const KEPT = "milewarden-sheet";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  const ours = address.pathname.startsWith("/assets/") || address.pathname.endsWith("/sheet");
  if (event.request.method !== "GET" || address.origin !== location.origin || !ours) return;
  event.respondWith(answer(event.request));
});

async function answer(request) {
  const kept = await caches.open(KEPT);
  try {
    const fresh = await fetch(request);
    if (fresh.ok && !fresh.redirected) await kept.put(request, fresh.clone());
    return fresh;
  } catch (noConnection) {
    // What a sending added to the address makes no other page of it.
    const known =
      (await kept.match(request, { ignoreVary: true })) ??
      (await kept.match(withoutSent(request.url), { ignoreVary: true }));
    if (known) return known;
    throw noConnection;
  }
}

function withoutSent(url) {
  const address = new URL(url);
  address.searchParams.delete("sent");
  return address.href;
}
