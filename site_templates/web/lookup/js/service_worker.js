// Answers for the site with no network. EDITION and FILES (address to SHA-256) stand above.
//
// Files are kept by their hash. A new edition fetches only what changed, checks every file against its hash,
// and is installed whole or not at all; it waits until the reader asks for it. What the old edition needs stays
// until then.

const STORE = "chockbook-files";
const SCOPE = new URL(self.registration.scope);
const AT_ONCE = 6;

// Other books of the site stand in folders of their own, with workers of their own, in the same store.
const OWN = new URL("__file/", SCOPE).href;

function keyOf(name) {
  return OWN + FILES[name];
}

async function sha256(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function take(store, name) {
  const key = keyOf(name);
  if (await store.match(key)) return;
  const response = await fetch(new URL(name, SCOPE), { cache: "no-store", redirect: "error" });
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  const bytes = await response.arrayBuffer();
  if ((await sha256(bytes)) !== FILES[name]) throw new Error(`${name} is not of edition ${EDITION}`);
  await store.put(key, new Response(bytes, {
    headers: { "Content-Type": response.headers.get("Content-Type") ?? "application/octet-stream" },
  }));
}

async function install() {
  const store = await caches.open(STORE);
  const names = Object.keys(FILES);
  const worker = async () => {
    while (names.length) await take(store, names.pop());
  };
  await Promise.all(Array.from({ length: AT_ONCE }, worker));
}

async function clean() {
  const store = await caches.open(STORE);
  const needed = new Set(Object.keys(FILES).map(keyOf));
  for (const request of await store.keys()) {
    if (request.url.startsWith(OWN) && !needed.has(request.url)) await store.delete(request);
  }
}

function nameOf(address) {
  const url = new URL(address);
  if (url.origin !== SCOPE.origin || !url.pathname.startsWith(SCOPE.pathname)) return null;
  let name = decodeURIComponent(url.pathname.slice(SCOPE.pathname.length));
  if (name === "" || name.endsWith("/")) name += "index.html";
  return name;
}

async function answer(request) {
  const name = nameOf(request.url);
  const store = await caches.open(STORE);
  if (Object.hasOwn(FILES, name)) return (await store.match(keyOf(name))) ?? fetch(request);
  try {
    return await fetch(request);
  } catch (error) {
    const page = request.mode === "navigate" && Object.hasOwn(FILES, "404.html") && (await store.match(keyOf("404.html")));
    if (page) return page;
    throw error;
  }
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(clean().then(() => self.clients.claim())));
self.addEventListener("message", (event) => {
  if (event.data === "use-new-edition") self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
  if (event.request.method === "GET" && nameOf(event.request.url) !== null) event.respondWith(answer(event.request));
});
