// What the pages of many springs have in common: files that are dropped, progress, papers to open, tables.

import { el, put, say } from "./dom.js";
import { ask, lines, Refused } from "./api.js";
import { by, desk } from "./state.js";
import { refused } from "./desk.js";

export const paperOf = () => desk.sheet ??= { paper: "a4", across: "", up: "", faults: {} };

// drop is a place to drop files onto, or to choose them by a button.
export function drop(id, label, accept, many, take, ...more) {
  const file = el("input", { type: "file", id: id + "-file", accept, multiple: many, hidden: true, "aria-label": label, onchange: e => { take([...e.target.files]); e.target.value = ""; } });
  const over = on => e => { e.preventDefault(); e.currentTarget.classList.toggle("over", on); };
  return el("div", { class: "drop here", id: id + "-drop", ondragover: over(true), ondragleave: over(false), ondrop: e => { over(false)(e); take([...e.dataTransfer.files]); } },
    file, el("div", { class: "actions" }, el("button", { id: id + "-choose", onclick: () => file.click() }, label), more));
}

// papers are the files that can be opened; sheets in the browser's viewer, tables by what opens tables.
export function papers(list, id) {
  if (!list?.length) return null;
  return el("div", { class: "actions papers", id }, list.map(p => el("a", { class: "button", target: "_blank", rel: "noopener", href: p.address, "data-file": p.name }, title(p.name))));
}

function title(name) {
  const [, stem, number] = name.match(/^([a-z-]+?)(?:-(\d+))?\.[a-z]+$/) ?? [null, name];
  return say("paper " + stem) + (number ? " " + number : "") + (name.endsWith(".csv") ? " (CSV)" : "");
}

// work asks for something that takes a while, and shows how far it is in the elements of id; each is given every other
// line. It returns the error, or null.
export async function work(id, path, body, each) {
  let error = null;
  const line = l => {
    if (l.error !== undefined) { error = l; return; }
    if (l.total === undefined) { each(l); return; }
    const bar = by(id + "-progress");
    if (!bar) return;
    bar.max = l.total || 1;
    bar.value = l.done;
    by(id + "-text").textContent = `${l.done} / ${l.total}${l.text ? ", " + l.text : ""}`;
  };
  // One at a time uses every core: a spring of this page that is being searched comes first.
  while (desk.search) {
    if (by(id + "-text")) by(id + "-text").textContent = say("searching");
    await new Promise(done => setTimeout(done, 100));
  }
  try { await lines(path, body, undefined, line); } catch (e) {
    if (!(e instanceof Refused)) { refused(e); return {}; }
    error = e.body;
  }
  return error;
}

// progress is what work fills in, with a button to stop it.
export function progress(id, label) {
  return [el("progress", { id: id + "-progress", "aria-label": label }),
    el("div", { class: "actions" }, el("button", { id: id + "-stop", onclick: () => ask("stop", {}).catch(refused) }, say("stop")), el("span", { id: id + "-text", role: "status" }))];
}

// trouble says what went wrong.
export function trouble(e, id) {
  if (!e?.error) return null;
  return el("div", { class: "fault", id, role: "alert" }, el("b", {}, e.error), e.hint, (e.faults ?? []).filter(f => f.text !== e.error).map(f => el("p", {}, `${f.key ? f.key + ": " : ""}${f.text}${f.hint ? " – " + f.hint : ""}`)));
}

// table has its headings in the first row; where it is wider than the window it alone is moved.
export function table(id, label, head, rows) {
  return el("div", { class: "wide", tabindex: 0, role: "region", "aria-label": label }, el("table", { id }, el("thead", {}, el("tr", {}, head.map(h => el("th", { scope: "col" }, h)))), el("tbody", {}, rows)));
}

export function paperChoice(id) {
  const s = paperOf();
  return el("label", {}, say("paper"), " ", el("select", { id, onchange: e => { s.paper = e.target.value; } }, ["a4", "letter"].map(p => el("option", { value: p, selected: p === s.paper }, p === "a4" ? "A4" : "Letter"))));
}

// redraw puts a page anew and leaves the focus where it was.
export function redraw(node, ...children) {
  const focus = document.activeElement?.id;
  put(node, ...children);
  if (focus && document.activeElement === document.body) by(focus)?.focus();
}
