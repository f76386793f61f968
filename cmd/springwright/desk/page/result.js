// The spring: its search, and its loads while a bend or leg is dragged or typed.

import { decimal, el, number, put, say, set } from "./dom.js";
import { ask, lines, newest, Refused } from "./api.js";
import { mouth, trueSize, wire } from "./drawing.js";
import { chart, legend } from "./charts.js";
import { stage } from "./stage.js";
import { by, desk, example } from "./state.js";
import { draw, form, go, onward, picture, refused, saved } from "./desk.js";

// Search.

export async function find() {
  const text = desk.text, mine = { share: 0, text: "", best: null, ways: false, leave: new AbortController() };
  Object.assign(desk, { search: mine, ways: null, filled: false, searchError: "" });
  result();
  try {
    await lines("search", { text, lang: desk.lang }, mine.leave.signal, line => {
      if (desk.search !== mine || text !== desk.text) return; // another case is open, or this one was changed
      if (line.error) { desk.searchError = line.error; return; }
      if (line.ways) { desk.ways = line.ways; return; }
      if (line.spring === undefined) { Object.assign(mine, line); progress(); return; }
      if (line.spring) { take(line.spring); desk.design = line.spring; desk.found = line; }
      if (!line.met && !line.stopped) { mine.ways = true; mine.best = null; result(); }
    });
  } catch (e) { refused(e); }
  if (desk.search !== mine) return;
  desk.search = null;
  if (desk.step !== "result") return;
  result();
  if (document.activeElement === document.body) by("search")?.focus(); // a disabled button has lost it
}

// quit ends a search that nobody waits for any more.
export async function quit() {
  const mine = desk.search;
  if (!mine) return;
  desk.search = null;
  await stop();
  mine.leave.abort();
}

async function stop() {
  try { await ask("stop", {}); } catch (e) { refused(e); }
}

function progress() {
  const s = desk.search, bar = by("search-progress");
  if (!s || !bar) return;
  bar.value = s.share;
  by("search-text").textContent = s.text;
  if (!s.best || s.ways) return;
  put(by("drawing"), mouth(s.best.mouth, wire(s.best.passive, "free"), wire(s.best.seated)), el("p", { id: "best" }, s.best.text));
}

// What was done to the spring: it can be taken back, and done again.

// take takes another spring as it stands.
export function take(spring) {
  if (desk.spring && desk.spring !== spring) { desk.undo.push(desk.spring); desk.redo = []; }
  Object.assign(desk, { spring, values: null, live: null, report: null, dragged: null });
}

function swap(from, to) {
  if (!from.length || desk.search) return;
  to.push(desk.spring);
  Object.assign(desk, { spring: from.pop(), values: null, live: null, report: null, dragged: null });
  result();
}

export function undo() { swap(desk.undo, desk.redo); }
export function redo() { swap(desk.redo, desk.undo); }

// Live.

const refresh = newest(async () => {
  try {
    const spring = desk.spring, asked = desk.asked;
    const l = await ask("live", { text: desk.text, spring, values: desk.values, here: desk.here, lang: desk.lang });
    if (spring !== desk.spring && !desk.values) return; // another one was taken meanwhile
    Object.assign(desk, { live: l, spring: l.spring });
    if (desk.step === "result") shown(); else draw();
    desk.measured?.push(performance.now() - asked); // for tests of the page
    clearTimeout(desk.later);
    desk.later = setTimeout(full, 250);
  } catch (e) { refused(e); }
});

let reading = null;

// look asks for the loads where they are not known.
export function look() {
  if (desk.live || !desk.spring || desk.form.faults.length || desk.search) return;
  desk.asked = performance.now();
  refresh();
}

// full asks for what takes longer, until another spring is there.
async function full() {
  reading?.abort();
  reading = new AbortController();
  try {
    const spring = desk.spring;
    const r = await ask("report", { text: desk.text, spring, lang: desk.lang }, { signal: reading.signal });
    if (spring !== desk.spring) return;
    desk.report = { ...r, spring };
    about();
    charts();
  } catch (e) { refused(e); }
}

// change sets a number as the page shows it; null ends a drag.
function change(h, v) {
  if (v === null) { desk.dragged = null; shown(); return; }
  const values = (desk.values ?? desk.live.values).slice();
  const path = v * h.flip;
  if (values[h.index] === path) return;
  desk.asked = performance.now();
  clearTimeout(desk.later);
  reading?.abort();
  // A drag, or keys on one handle, are one thing to take back.
  if (desk.dragged !== h.index || !desk.undo.length) { desk.undo.push(desk.spring); desk.redo = []; desk.dragged = h.index; }
  values[h.index] = path;
  desk.values = values;
  refresh();
}

let board = null;

export function result() {
  const f = desk.form, section = by("result"), focus = document.activeElement?.id, faults = f.faults;
  put(section, el("h2", {}, say("step result")),
    !desk.tag && example() ? el("p", { class: "hint", id: "first" }, say("the example")) : null,
    faults.length ? el("p", {}, say("mend the marked fields first")) : null,
    faults.map(x => el("div", { class: "fault" }, el("b", {}, `${x.label ?? x.key}: ${x.text}`), x.hint, x.step ? el("div", {}, el("button", { "aria-label": `${say("to the field")}: ${x.label}`, onclick: () => go(x.step, x.key) }, say("to the field"))) : null)),
    el("div", { class: "actions" },
      el("button", { class: desk.spring ? null : "main", id: "search", disabled: faults.length > 0 || desk.search !== null, onclick: find }, say(desk.spring ? "search again" : "search a spring")),
      desk.search && !desk.search.ways ? el("button", { id: "stop", class: "main", onclick: stop }, say("stop")) : null,
      desk.spring && !desk.search ? [
        el("button", { id: "undo", onclick: undo }, say("undo")), el("button", { id: "redo", onclick: redo }, say("redo")),
        el("button", { id: "back", onclick: () => { take(desk.design); result(); } }, say("back to the design"))] : null),
    desk.search ? el("div", {}, el("progress", { id: "search-progress", max: 1, value: desk.search.share, "aria-label": say("searching") }), el("p", { id: "search-text", role: "status" }, desk.search.text)) : null,
    desk.searchError && !desk.search ? el("p", { class: "fault" }, el("b", {}, desk.searchError)) : null,
    el("div", { id: "live" }), el("div", { id: "ways" }), el("div", { id: "others" }), el("div", { id: "bends" }), el("div", { id: "about" }));
  onward("result");
  buttons();
  ways();
  others();
  if (focus) by(focus)?.focus();
  if (desk.search && !desk.search.ways || !desk.spring || faults.length) { picture(); progress(); return; }
  if (desk.live) shown(); else look();
  about();
}

function buttons() {
  if (!by("undo")) return;
  by("undo").disabled = !desk.undo.length;
  by("redo").disabled = !desk.redo.length;
  by("back").disabled = !desk.design || desk.design === desk.spring;
}

function shown() {
  if (desk.step !== "result" || !desk.live) return;
  const l = desk.live;
  saved();
  buttons();
  if (!board || !by("drawing").contains(board.node)) {
    board = stage(change, picked);
    put(by("drawing"), board.node, slider(l));
  }
  if (!by("charts")) put(by("beside"), el("div", { id: "legend" }), el("div", { class: "charts", id: "charts" }), el("div", { id: "size" }));
  board.update(l);
  by("travel-text").textContent = l.travelText;
  set(by("travel"), { "aria-valuetext": l.travelText });
  put(by("live"), el("p", { class: l.met ? "headline" : "headline missed", role: board.holds() ? null : "status" }, l.headline),
    el("ul", { class: "verdicts" }, l.verdicts.map(v => el("li", { class: v.met ? null : "missed" }, v.text))),
    l.note ? el("p", { class: "quiet" }, l.note) : null);
  bends(l);
  charts();
  if (!board.holds()) size(l);
}

// bends are the numbers of the path to be typed.
function bends(l) {
  const box = by("bends");
  if (box.querySelectorAll("input").length !== l.handles.length) {
    put(box, el("h3", {}, say("bends and legs")), el("p", { class: "quiet" }, say("drag or type")),
      el("table", { id: "numbers" }, el("tbody", {}, l.handles.map(h => el("tr", {}, el("td", {}, el("label", { for: "n-" + h.index }, h.label)),
        el("td", { class: "number" }, el("input", { id: "n-" + h.index, class: "short", inputmode: "decimal" })), el("td", {}, h.unit, " ", el("span", { class: "quiet" })))))));
    l.handles.forEach(h => by("n-" + h.index).addEventListener("change", e => typed(h.index, e.target)));
  }
  for (const h of l.handles) {
    const input = by("n-" + h.index), text = String(h.value);
    if (document.activeElement !== input || input.dataset.shown !== text) input.value = text;
    input.dataset.shown = text;
    input.removeAttribute("aria-invalid");
    input.closest("tr").querySelector("span").textContent = h.way;
  }
}

// picked marks the number of the handle that is held.
function picked(index) {
  for (const row of document.querySelectorAll("#numbers tr")) row.classList.toggle("held", row.querySelector("input").id === "n-" + index);
}

function typed(index, input) {
  const h = desk.live.handles.find(x => x.index === index), v = number(input.value);
  input.setAttribute("aria-invalid", String(!Number.isFinite(v)));
  if (!Number.isFinite(v)) return;
  desk.dragged = null;
  change(h, Math.min(h.max, Math.max(h.min, v)));
  desk.dragged = null;
}

function slider(l) {
  return el("label", { class: "travel" }, el("span", { id: "travel-text" }, l.travelText),
    el("input", { id: "travel", type: "range", min: 0, max: l.positions - 1, step: 1, value: desk.here, oninput: e => { desk.here = Number(e.target.value); desk.asked = performance.now(); refresh(); } }));
}

let drawn = new Map(); // charts by their keys

function charts() {
  const l = desk.live, box = by("charts"), r = desk.report;
  if (!l || !box) return;
  const own = r?.spring === desk.spring; // the hand's band is that of one spring, the straight wire of them all
  if (!box.firstChild || [...drawn.keys()].join() !== l.charts.map(c => c.key).join()) {
    drawn = new Map(l.charts.map(c => [c.key, chart(c.key)]));
    put(box, [...drawn.values()].map(c => c.node));
  }
  for (const c of l.charts) {
    const b = r?.beside[c.key];
    drawn.get(c.key).update(c, l.left, b ? { straight: b.straight, low: own ? b.low : null, high: own ? b.high : null } : null);
  }
  const any = name => Boolean(r && Object.values(r.beside).some(b => b[name]));
  const shown = `${own && any("low")} ${any("straight")} ${desk.lang}`;
  if (by("legend").dataset.shown === shown) return;
  by("legend").dataset.shown = shown;
  put(by("legend"), legend(own && any("low"), any("straight")));
}

// size shows the spring as large as it is; a screen tells its size wrongly, so its bar can be measured.
function size(l) {
  const perMM = Number(localStorage.getItem("screen") ?? 1) || 1;
  const box = by("size");
  if (!box) return;
  const input = el("input", { id: "screen", class: "short", inputmode: "decimal", value: localStorage.getItem("measured") ?? "10", "aria-label": say("bar on the screen") });
  input.addEventListener("change", () => {
    const measured = number(input.value), fine = measured >= 3 && measured <= 30;
    input.setAttribute("aria-invalid", String(!fine));
    if (!fine) return;
    localStorage.setItem("screen", String(perMM * 10 / measured));
    localStorage.removeItem("measured");
    size(desk.live);
  });
  const open = box.querySelector("details")?.open ?? false;
  put(box, el("h3", {}, say("true size")), trueSize(l.passive, perMM),
    el("details", { open, "aria-label": say("the screen is off") }, el("summary", {}, say("the screen is off")), el("p", {}, el("label", {}, say("bar on the screen"), " ", input, " mm"))));
}

// What a search has found beside its spring.

function ways() {
  const found = desk.found, list = [];
  if (desk.filled) list.push(el("p", { class: "hint", role: "status", id: "filled" }, say("filled in")));
  if (found?.chosen?.length) list.push(el("div", {}, found.chosen.map(t => el("p", {}, t))));
  if (found?.inTheWay?.length && desk.design === desk.spring) list.push(el("h3", {}, say("in the way")), el("ul", {}, found.inTheWay.map(t => el("li", {}, t))));
  if (desk.ways?.length) {
    list.push(el("h3", {}, say("what would do")), el("p", { class: "quiet" }, say("each was tried")),
      el("ul", { class: "ways" }, desk.ways.map((w, i) => el("li", {}, el("span", {}, w.text), " ",
        w.set.length ? el("button", { id: "way-" + i, onclick: () => follow(w) }, say("fill this in")) : w.field ? el("button", { id: "way-" + i, onclick: () => go("measure", w.field) }, say("measure again")) : null))));
  }
  put(by("ways"), list);
}

async function follow(way) {
  if (!await form(way.set)) return;
  Object.assign(desk, { found: null, filled: true });
  ways();
  by("search").focus();
}

function others() {
  const list = desk.found?.alternatives ?? [];
  if (!list.length) { put(by("others")); return; }
  put(by("others"), el("h3", {}, say("other springs that meet the target")),
    el("table", { class: "others" }, el("thead", {}, el("tr", {}, ["spring", "loses per mm", "bends", "met by hand"].map(h => el("th", { scope: "col" }, h === "spring" ? "" : say(h))))),
      el("tbody", {}, list.map((a, i) => el("tr", {}, el("td", {}, el("button", { id: "other-" + i, "aria-pressed": a.spring === desk.spring, onclick: () => { take(a.spring); result(); } }, a.label)),
        el("td", { class: "number" }, `${a.rate} N`), el("td", { class: "number" }, a.bends), el("td", { class: "number" }, `${a.share} %`))))));
}

function about() {
  const r = desk.report;
  if (!r || desk.step !== "result" || !by("about")) return;
  put(by("about"), r.sections.map(s => el("div", {}, el("h3", {}, s.title), s.lines.map(t => el("p", { class: s.warning ? "fault" : null }, t)))));
}
