// The single file's switch between light and dark; it is kept where the browser lets a file keep anything.

const THEME_KEY = "chockbook-theme";

function setUpTheme() {
  const button = document.getElementById("roadside-theme");
  if (!button) return;
  const page = document.documentElement;
  try {
    const kept = localStorage.getItem(THEME_KEY);
    if (kept === "light" || kept === "dark") page.dataset.theme = kept;
  } catch {
    // Nothing can be kept here; the system's setting holds.
  }
  button.hidden = false;
  button.addEventListener("click", () => {
    const now = page.dataset.theme ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light");
    page.dataset.theme = now === "dark" ? "light" : "dark";
    try {
      localStorage.setItem(THEME_KEY, page.dataset.theme);
    } catch {
      // The switch still holds until the page is closed.
    }
  });
}
