// Orders: a list is read, its faults are shown by row and cell, and its springs are made, as by the command "batch".

import { el, say } from "./dom.js";
import { ask, Refused } from "./api.js";
import { by, desk } from "./state.js";
import { refused } from "./desk.js";
import { drop, paperChoice, paperOf, papers, progress, redraw, table, trouble, work } from "./many.js";

const s = desk.orders = { places: null, source: null, checked: null, folder: "", anyway: false, error: null, rows: new Map(), day: null, busy: "" };

export async function orders() {
  show();
  try { s.places = await ask("places?lang=" + desk.lang); } catch (e) { refused(e); return; }
  if (s.source && !s.busy) await check(false);
  show();
}

function show() {
  if (desk.place !== "orders") return;
  const c = s.checked, busy = s.busy !== "", from = !s.source ? "" : s.source.data ? "dropped" : s.source.name || "cases";
  const list = s.places?.lists ?? [], cases = s.places?.cases.length ?? 0;
  redraw(by("orders"), el("h2", {}, say("orders")), el("p", { class: "quiet" }, say("orders are")),
    el("h3", {}, say("order list")),
    drop("orders", say("choose a list"), ".csv,text/csv", false, f => f[0] && take(f[0]), el("span", { class: "quiet" }, say("or drop a list here")),
      el("a", { class: "button", id: "blank-list", href: "api/v1/orders/blank?lang=" + desk.lang, download: "" }, say("blank list"))),
    el("p", {}, el("label", {}, say("or of the folder"), " ", el("select", { id: "orders-from", disabled: busy, onchange: e => choose(e.target.value) },
      el("option", { value: "" }, "–"), s.source?.data ? el("option", { value: "dropped", selected: true }, s.source.name) : null,
      cases ? el("option", { value: "cases", selected: from === "cases" }, `${say("the cases of the folder")} (${cases})`) : null,
      list.map(n => el("option", { value: n, selected: from === n }, n))))),
    s.busy === "check" ? el("p", { role: "status" }, say("reading")) : null,
    c ? el("p", { id: "orders-checked", role: "status", class: c.faults.length ? "headline missed" : "headline" }, `${s.source.name || say("the cases of the folder")}: ${c.faults.length ? say("faults in the list") : say("no faults")} ${c.text}`) : null,
    c?.faults.length ? [el("p", { class: "quiet" }, say("mend the list")), faults(c)] : null,
    trouble(s.error, "orders-error"),
    c?.count ? make(c, busy) : null,
    s.day || s.rows.size ? day() : null);
}

function faults(c) {
  const rows = c.faults.map(f => el("tr", {}, el("td", {}, s.source.name ? f.row || "" : f.file), el("td", {}, f.cell), el("td", {}, f.key), el("td", {}, el("b", {}, f.text)), el("td", {}, f.hint)));
  return [table("orders-faults", say("faults in the list"), [say(s.source.name ? "row" : "case"), say("cell"), say("column"), say("what is wrong"), say("what to do")], rows), c.more ? el("p", {}, c.more) : null];
}

function make(c, busy) {
  const done = s.day && !s.day.stopped;
  return [el("h3", {}, say("make the springs")),
    el("div", { class: "actions" }, el("label", {}, say("into the folder"), " ", el("input", { id: "orders-folder", value: s.folder, disabled: busy, maxlength: 100, onchange: e => { s.folder = e.target.value.trim(); } })), paperChoice("orders-paper")),
    el("p", {}, el("label", { class: "tick" }, el("input", { type: "checkbox", id: "orders-anyway", checked: s.anyway, disabled: busy, onchange: e => { s.anyway = e.target.checked; } }), " ", say("draw the nearest anyway"))),
    s.busy === "make" ? progress("orders", say("making")) :
      el("div", { class: "actions" }, el("button", { class: "main", id: "orders-make", disabled: busy || c.good === 0, onclick: run }, say(s.day?.stopped ? "go on" : done ? "make what has changed" : "make"))),
  ];
}

// day is the table of the day: as far as it is made while it is being made.
function day() {
  const d = s.day, rows = d?.orders ?? [...s.rows.values()];
  return [el("h3", {}, say("the day")), d ? el("p", { id: "orders-told", role: "status" }, d.lines.map(l => [el("span", {}, l), el("br")])) : null, papers(d?.papers, "orders-papers"), d ? el("p", { class: "hint" }, say("print at 100 % many")) : null,
    table("orders-day", say("the day"), ["due", "order", "tooth (anchor)", "wire", "of 100", "state", "what is lacking", "step sheet"].map(h => say(h)), rows.map(row))];
}

function row(r) {
  return el("tr", { "data-order": r.name, class: r.state === "made" ? null : "missed" }, el("td", {}, r.due), el("th", { scope: "row" }, r.code, r.row ? el("small", { class: "quiet" }, ` (${say("row")} ${r.row})`) : null), el("td", {}, r.teeth), el("td", { class: "wire-name" }, r.wire), el("td", { class: "number" }, r.share),
    el("td", {}, r.said), el("td", { class: "lacking" }, r.lacking.join("; ")), el("td", {}, r.sheet ? el("a", { class: "button", target: "_blank", rel: "noopener", href: r.sheet, "aria-label": `${say("open the sheet")}: ${r.code}` }, say("open")) : "–"));
}

async function take(file) {
  if (s.busy) return;
  const read = new FileReader();
  read.onload = () => source({ name: file.name, data: read.result.slice(read.result.indexOf(",") + 1) });
  read.onerror = () => { s.error = { error: String(read.error) }; show(); };
  read.readAsDataURL(file);
}

function choose(value) {
  if (value === "dropped") return;
  if (value === "") { Object.assign(s, { source: null, checked: null, error: null, day: null, rows: new Map() }); show(); return; }
  source({ name: value === "cases" ? "" : value });
}

async function source(from) {
  Object.assign(s, { source: from, checked: null, error: null, day: null, rows: new Map() });
  await check(true);
  show();
}

// check has the list read; the folder is named after a list that is new.
async function check(fresh) {
  s.busy = "check";
  show();
  try {
    s.checked = await ask("orders/check", { name: s.source.name, data: s.source.data, lang: desk.lang });
    if (fresh) s.folder = s.checked.folder;
  } catch (e) {
    s.checked = null;
    if (e instanceof Refused) s.error = e.body; else refused(e);
  }
  s.busy = "";
}

async function run() {
  const p = paperOf();
  Object.assign(s, { busy: "make", error: null, day: null, rows: new Map() });
  show();
  by("orders-stop").focus();
  s.error = await work("orders", "orders/make", { name: s.source.name, data: s.source.data, folder: s.folder, anyway: s.anyway, lang: desk.lang, paper: p.paper, across: p.across, up: p.up }, line => {
    if (line.day) { s.day = line.day; return; }
    if (line.order.state === "open") return;
    const had = s.rows.size;
    s.rows.set(line.order.name, line.order);
    if (desk.place !== "orders") return;
    const body = document.querySelector("#orders-day tbody");
    if (had && body) body.append(row(line.order)); else grow();
  });
  s.busy = "";
  show();
  if (desk.place === "orders" && document.activeElement === document.body) by("orders-make")?.focus();
}

// grow shows the first row without touching the progress.
function grow() {
  by("orders").append(...day().flat(Infinity).filter(Boolean));
}
