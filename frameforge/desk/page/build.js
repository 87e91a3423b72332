// Elements of the page and of its pictures, built one by one: no text of anybody is ever read as markup.

const SVG = "http://www.w3.org/2000/svg";

function fill(node, attributes, children) {
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (value === true) node.setAttribute(key, "");
    else if (value !== false && value !== null && value !== undefined) node.setAttribute(key, value);
  }
  node.append(...children.filter((child) => child !== null && child !== undefined && child !== false));
  return node;
}

export function html(name, attributes = {}, ...children) {
  return fill(document.createElement(name), attributes, children);
}

export function svg(name, attributes = {}, ...children) {
  return fill(document.createElementNS(SVG, name), attributes, children);
}

export function byId(id) {
  return document.getElementById(id);
}

export function button(words, onclick, attributes = {}) {
  return html("button", { type: "button", onclick, ...attributes }, words);
}

/** Let the browser keep `data` as a file. */
export function download(data, name) {
  const address = URL.createObjectURL(data);
  html("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
}
