// Elements of the page. Text from the tables goes in as text only, so it can never become markup.

function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    if (name === "onclick") element.addEventListener("click", value);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...children.filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

function mark(mayDrive) {
  return make("span", { class: `mark mark--${mayDrive}`, "aria-hidden": "true" });
}

function flag(text) {
  return make("span", { class: "lookup-flag" }, text);
}

function labelled(label, ...content) {
  return make("p", {}, make("span", { class: "lookup-label" }, label), " ", ...content);
}
