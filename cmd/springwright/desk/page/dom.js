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

export function set(node, attributes) { return fill(node, attributes, []); }

// decimal writes a number as the language of the page does.
export function decimal(v, digits) {
  const zero = Math.abs(v) < 0.5 / 10 ** digits;
  return (zero ? 0 : v).toLocaleString(document.documentElement.lang, { minimumFractionDigits: digits, maximumFractionDigits: digits, useGrouping: false }).replace("-", "−");
}

export function points(list) { return list.map(p => p.map(v => v.toFixed(2)).join(",")).join(" "); }

// typing tells whether a node takes letters.
export function typing(node) { return node instanceof HTMLInputElement && !["range", "radio", "checkbox"].includes(node.type); }

// number reads what a hand types; NaN for what is none.
export function number(text) { return text.trim() === "" ? NaN : Number(text.replace(",", ".").replace("−", "-")); }

let before = null;

// show says something that has to be read, with what can be done: {label, main, run}.
export function show(message, ...choices) {
  const box = document.getElementById("message");
  if (box.hidden) before = document.activeElement;
  const button = c => el("button", { class: c.main ? "main" : null, onclick: () => { hide(); c.run?.(); } }, c.label);
  put(box, message, el("div", { class: "actions" }, choices.map(button), button({ label: say("close") })));
  box.hidden = false;
  box.querySelector("button").focus();
}

export function hide() {
  const box = document.getElementById("message");
  if (box.hidden) return;
  box.hidden = true;
  if (before?.isConnected) before.focus();
}
