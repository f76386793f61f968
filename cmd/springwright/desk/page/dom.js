// Elements of the page. Words come from the server: see say.

let words = {};
export function setWords(w) { words = w; }
// say returns a text of the page in the chosen language; a missing one shows as its name.
export function say(name) { return words[name] ?? `[${name}]`; }

function fill(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (name.startsWith("aria-") && typeof value === "boolean") node.setAttribute(name, String(value));
    else if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (value === true) node.setAttribute(name, "");
    else if (value !== false && value != null) node.setAttribute(name, value);
  }
  for (const child of children.flat(Infinity)) if (child != null) node.append(child);
  return node;
}

// put replaces what is in a node by others; null is none.
export function put(node, ...children) { node.replaceChildren(...children.flat(Infinity).filter(c => c != null)); }

export function el(tag, attributes, ...children) { return fill(document.createElement(tag), attributes, children); }

export function svg(tag, attributes, ...children) {
  return fill(document.createElementNS("http://www.w3.org/2000/svg", tag), attributes, children);
}

// decimal writes a number as the language of the page does.
export function decimal(v, digits) {
  return v.toLocaleString(document.documentElement.lang, { minimumFractionDigits: digits, maximumFractionDigits: digits, useGrouping: false }).replace("-", "−");
}

export function points(list) { return list.map(p => p.map(v => v.toFixed(3)).join(",")).join(" "); }

export function show(message) {
  const box = document.getElementById("message");
  put(box, message, el("div", { class: "actions" }, el("button", { onclick: () => { box.hidden = true; } }, say("close"))));
  box.hidden = false;
}
