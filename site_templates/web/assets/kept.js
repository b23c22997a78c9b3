// What a page keeps on this device, and nowhere else. Where the browser keeps nothing, the page is told so.
window.chockbookKept = (key) => {
  "use strict";
  let store = null;
  try {
    store = window.localStorage;
    store.setItem(`${key}.try`, "1");
    store.removeItem(`${key}.try`);
  } catch {
    store = null;
  }
  return {
    get works() {
      return store !== null;
    },
    read() {
      try {
        return JSON.parse(store.getItem(key));
      } catch {
        return null;
      }
    },
    write(value) {
      try {
        store.setItem(key, JSON.stringify(value));
      } catch {
        store = null;
      }
    },
    erase() {
      try {
        store.removeItem(key);
      } catch {
        store = null;
      }
    },
  };
};
