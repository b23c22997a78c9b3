// The rulebook and language that were chosen last, kept on this device only: the first page of the site leads there.
// An address that names a page, a defect or a look-up is never changed, and nothing leads to a page that cannot open.
(() => {
  "use strict";
  const KEY = "chockbook-book";

  const kept = () => {
    try {
      return localStorage.getItem(KEY);
    } catch {
      return null;
    }
  };
  const keep = (book) => {
    try {
      localStorage.setItem(KEY, book);
    } catch {
      // Nothing can be kept here; the choice holds for the pages that it leads to.
    }
  };

  // Without a network a book opens where its own worker is in force: only then it was saved whole.
  async function opens(address) {
    if (navigator.onLine !== false) return true;
    try {
      const found = await navigator.serviceWorker.getRegistration(address);
      return Boolean(found && found.active && found.scope === new URL("./", address).href);
    } catch {
      return false;
    }
  }

  document.addEventListener("DOMContentLoaded", async () => {
    const books = document.querySelector(".books[data-book]");
    if (!books) return;
    books.addEventListener("click", (event) => {
      const link = event.target.closest("a[data-book]");
      if (link) keep(link.dataset.book);
    });
    if (!("firstPage" in books.dataset) || location.search || location.hash) return;
    const chosen = [...books.querySelectorAll("a[data-book]")].find((link) => link.dataset.book === kept());
    if (chosen && (await opens(chosen.href))) location.replace(chosen.href);
  });
})();
