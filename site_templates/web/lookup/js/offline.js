// Keeps the site for use with no network, and tells quietly of a newer edition. Runs on every page.

const SITE_ROOT = new URL("../../", document.currentScript.src);

function tellOfUpdate(registration) {
  if (document.querySelector(".offline-notice")) return;
  const notice = document.createElement("div");
  notice.className = "offline-notice";
  notice.setAttribute("role", "status");
  const text = document.createElement("span");
  text.textContent = WORDS.update;
  const use = document.createElement("button");
  use.type = "button";
  use.textContent = WORDS["update-now"];
  use.addEventListener("click", () => {
    if (registration.waiting) registration.waiting.postMessage("use-new-edition");
  });
  notice.append(text, use);
  document.body.append(notice);
}

function watchForUpdate(registration) {
  if (registration.waiting && navigator.serviceWorker.controller) tellOfUpdate(registration);
  registration.addEventListener("updatefound", () => {
    const coming = registration.installing;
    coming.addEventListener("statechange", () => {
      if (coming.state === "installed" && navigator.serviceWorker.controller) tellOfUpdate(registration);
    });
  });
}

function sayThatItIsSaved() {
  const place = document.getElementById("offline-state");
  if (!place) return;
  place.textContent = WORDS.saved;
  place.hidden = false;
}

// A browser may throw saved pages away unless it is asked to keep them, which it allows after a press only.
function askToKeep() {
  if (navigator.storage && navigator.storage.persist) navigator.storage.persist().catch(() => {});
}

// The browser's own "ready" is content with the worker of a book above this one.
function inForce(registration) {
  if (registration.active) return Promise.resolve();
  const coming = registration.installing || registration.waiting;
  return new Promise((resolve) => coming.addEventListener("statechange", () => {
    if (coming.state === "activated") resolve();
  }));
}

async function keepOffline() {
  const worker = navigator.serviceWorker;
  let replacing = Boolean(worker.controller);
  worker.addEventListener("controllerchange", () => {
    if (replacing) location.reload();
    replacing = true;
  });
  const registration = await worker.register(new URL("sw.js", SITE_ROOT), { scope: SITE_ROOT.pathname });
  watchForUpdate(registration);
  await inForce(registration);
  sayThatItIsSaved();
  document.addEventListener("click", askToKeep, { once: true });
}

if ("serviceWorker" in navigator && ["https:", "http:"].includes(location.protocol)) {
  keepOffline().catch(() => {
    // Without a worker the pages still work as long as there is a network.
  });
}
