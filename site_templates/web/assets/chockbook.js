// The theme leaves its search dialog without a name for screen readers; it gets that of its search field.
document.addEventListener("DOMContentLoaded", () => {
  const dialog = document.querySelector(".md-search[role=dialog]:not([aria-label])");
  const field = dialog && dialog.querySelector("input[aria-label]");
  if (field) dialog.setAttribute("aria-label", field.getAttribute("aria-label"));
});
