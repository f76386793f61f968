// The desk: five steps of one job. Numbers, words and drawings come from the server; what the
// page holds is the text of the case and of the spring, and what of them is not saved.

import { el, put, say, setWords, show } from "./dom.js";
import { ask, lines, newest, Refused } from "./api.js";
import { fields } from "./form.js";
import { arrow, handle, mouth, wire } from "./drawing.js";
import { chart } from "./charts.js";

const steps = ["measure", "want", "kind", "result", "sheet"];
const desk = {
  lang: "en", step: "measure", file: "", tag: "", text: "", saved: "", form: null, senses: {},
  spring: "", savedSpring: "", springTag: "", values: null, live: null, report: null, undo: [], here: 0, search: null,
};
window.desk = desk; // for tests of the page
const by = id => document.getElementById(id);

async function start() {
  desk.lang = new URLSearchParams(location.search).get("lang") ?? "en";
  new EventSource("api/v1/events"); // tells the server that somebody is here
  await language();
  const wanted = new URLSearchParams(location.search).get("case");
  await open(desk.cases.some(c => c.name === wanted) ? wanted : desk.cases[0].name);
  by("language").addEventListener("change", async e => { desk.lang = e.target.value; try { await language(); await form([]); } catch (x) { refused(x); } });
  by("cases").addEventListener("change", e => leave(() => open(e.target.value)));
  by("new-case").addEventListener("click", () => leave(fresh));
  by("save-case").addEventListener("click", save);
  window.addEventListener("beforeunload", e => { if (unsaved()) e.preventDefault(); });
}

async function language() {
  const s = await ask("start?lang=" + encodeURIComponent(desk.lang));
  Object.assign(desk, { cases: s.cases, kinds: s.kinds });
  setWords(s.words);
  document.documentElement.lang = s.tag;
  document.body.dataset.print = say("print the sheet instead");
  for (const node of document.querySelectorAll("[data-say]")) node.textContent = say(node.dataset.say);
  put(by("language"), ...s.languages.map(l => el("option", { value: l.name, selected: l.name === desk.lang }, l.own)));
  by("cautions").textContent = s.cautions;
  list();
  address();
}

function list() {
  put(by("cases"), ...desk.cases.map(c => el("option", { value: c.name, selected: c.name === desk.file }, c.title ? `${c.name} – ${c.title}` : c.name)));
}

// address keeps what is seen in the address, so that a reload shows it again.
function address() {
  const query = new URLSearchParams({ lang: desk.lang, case: desk.file, step: desk.step });
  history.replaceState(null, "", "?" + query);
}

const unsaved = () => desk.text !== desk.saved || desk.spring !== desk.savedSpring;

// leave goes on only when nothing would be lost.
function leave(then) {
  const on = () => then().catch(refused);
  if (!unsaved()) return on();
  list();
  show(el("div", {}, el("p", {}, say("not saved yet")),
    el("div", { class: "actions" }, el("button", { class: "main", onclick: async () => { by("message").hidden = true; if (await save()) on(); } }, say("save")),
      el("button", { onclick: () => { by("message").hidden = true; on(); } }, say("go on without saving")))));
}

async function open(name) {
  const f = await ask("files/" + encodeURIComponent(name));
  Object.assign(desk, { file: name, tag: f.tag, text: f.text, saved: f.tag ? f.text : "", spring: f.spring, savedSpring: f.spring_tag ? f.spring : "", springTag: f.spring_tag, values: null, live: null, report: null, undo: [], senses: {}, here: 0 });
  if (!f.tag) { desk.saved = f.text; desk.savedSpring = f.spring; } // an example: nothing of the user's
  await form([]);
  const wanted = new URLSearchParams(location.search).get("step");
  go(steps.includes(wanted) ? wanted : desk.spring ? "result" : "measure");
  list();
}

async function fresh() {
  const f = await ask("new");
  desk.cases = desk.cases.filter(c => c.name !== f.name).concat({ name: f.name, title: "" });
  Object.assign(desk, { file: f.name, tag: "", text: f.text, saved: "", spring: "", savedSpring: "", springTag: "", values: null, live: null, report: null, undo: [], senses: {}, here: 0 });
  await form([]);
  list();
  go("measure");
}

async function save() {
  try {
    if (desk.text !== desk.saved || !desk.tag) {
      const r = await ask("files/" + encodeURIComponent(desk.file), { text: desk.text }, { method: "PUT", headers: { "If-Match": `"${desk.tag}"` } });
      Object.assign(desk, { tag: r.tag, saved: desk.text });
    }
    if (desk.spring && (desk.spring !== desk.savedSpring || !desk.springTag)) {
      const r = await ask("files/" + encodeURIComponent(springName()), { text: desk.spring }, { method: "PUT", headers: { "If-Match": `"${desk.springTag}"` } });
      Object.assign(desk, { springTag: r.tag, savedSpring: desk.spring });
    }
    saved();
    return true;
  } catch (e) { refused(e); return false; }
}

const springName = () => desk.file.replace(/\.toml$/, "-spring.toml");

function saved() { by("saved").textContent = unsaved() ? say("not saved yet") : desk.tag ? say("saved") : ""; }

function refused(e) {
  if (e.name === "AbortError") return;
  if (!(e instanceof Refused)) { show(say("the server does not answer")); return; }
  show(el("div", {}, el("p", {}, e.message), e.body.hint ? el("p", { class: "quiet" }, e.body.hint) : null,
    (e.body.faults ?? []).map(f => el("p", { class: "fault" }, el("b", {}, `${f.key}: ${f.text}`), f.hint))));
}

// form sends what was typed and shows what the case is then.
async function form(set, senses) {
  Object.assign(desk.senses, senses);
  try {
    const f = await ask("form", { text: desk.text, set, senses: desk.senses, lang: desk.lang });
    Object.assign(desk, { form: f, text: f.text, senses: f.senses });
    if (set.length) { desk.live = null; desk.report = null; }
    draw();
    document.body.dataset.forms = String(Number(document.body.dataset.forms ?? 0) + 1); // for tests of the page
  } catch (e) { refused(e); }
}

function go(step) {
  desk.step = step;
  for (const s of steps) by(s).hidden = s !== step;
  address();
  draw();
  by(step).focus({ preventScroll: true });
}

function draw() {
  saved();
  put(by("steps"), el("ol", {}, steps.map((s, i) => el("li", {},
    el("button", { id: "go-" + s, "aria-current": s === desk.step ? "step" : null, onclick: () => go(s) }, `${i + 1} ${say("step " + s)}`, el("small", {}, state(s)))))));
  const f = desk.form;
  if (!f) return;
  switch (desk.step) {
    case "measure": fields(by("measure"), say("step measure"), f.measure, f, form); picture(); break;
    case "want": fields(by("want"), say("step want"), f.want, f, form); picture(); break;
    case "kind": fields(by("kind"), say("step kind"), f.kind, f, form); kinds(); picture(); break;
    case "result": result(); break;
    case "sheet": sheet(); picture(); break;
  }
}

// state says in a word where a step stands.
function state(s) {
  const f = desk.form;
  if (!f) return "";
  const open = f.open[s];
  if (open) return open;
  if (s === "result" && desk.live) return desk.live.state;
  return "";
}

function picture() {
  put(by("drawing"), mouth(desk.form.mouth));
  put(by("beside"), ...(desk.form.cautions ?? []).map(c => el("p", { class: "fault" }, c)));
}

function kinds() {
  const f = desk.form;
  const chosen = f.values.spring ?? "";
  by("kind").append(el("fieldset", {}, el("legend", {}, say("kind of spring")),
    el("div", { class: "kinds" }, desk.kinds.map(k => el("label", {},
      el("input", { type: "radio", name: "kind", id: "kind-" + k.name.replaceAll(" ", "-"), checked: k.name === chosen, onchange: () => form([{ key: "spring", value: k.name }]) }),
      " ", el("b", {}, k.label), k.picture ? mouth(k.picture) : null, el("small", {}, k.for))))));
}

// Search.

async function find() {
  const stop = new AbortController();
  desk.search = { stop, share: 0, text: "" };
  result();
  try {
    await lines("search", { text: desk.text, lang: desk.lang }, stop.signal, line => {
      if (line.error) throw new Refused(422, line);
      if (line.spring === undefined) { Object.assign(desk.search, line); progress(); return; }
      take(line.spring);
      desk.found = line;
    });
  } catch (e) { refused(e); }
  desk.search = null;
  result();
  if (document.activeElement === document.body) by("search")?.focus(); // a disabled button has lost it
}

function take(spring) {
  if (desk.spring && desk.spring !== spring) desk.undo.push(desk.spring);
  Object.assign(desk, { spring, values: null, live: null, report: null, design: spring });
}

function progress() {
  const bar = by("search-progress");
  if (!bar) return;
  bar.value = desk.search.share;
  by("search-text").textContent = desk.search.text;
}

// Result: the spring with its loads, live.

const refresh = newest(async () => {
  try {
    const l = await ask("live", { text: desk.text, spring: desk.spring, values: desk.values, here: desk.here, lang: desk.lang });
    requestAnimationFrame(() => { desk.live = l; desk.spring = l.spring; shown(); });
    clearTimeout(desk.later);
    desk.later = setTimeout(full, 250);
  } catch (e) { refused(e); }
});

const full = newest(async () => {
  try {
    const spring = desk.spring;
    const r = await ask("report", { text: desk.text, spring, lang: desk.lang });
    if (spring === desk.spring) { desk.report = r; about(); }
  } catch (e) { refused(e); }
});

// change sets a number as the page shows it; null ends a drag.
function change(h, v) {
  if (v === null) { draw(); return; }
  const index = h.index;
  v *= h.flip;
  const values = (desk.values ?? desk.live.values).slice();
  if (values[index] === v) return;
  if (!desk.values) desk.undo.push(desk.spring);
  values[index] = v;
  desk.values = values;
  refresh();
}

function result() {
  const f = desk.form, section = by("result"), focus = document.activeElement?.id;
  const faults = f.faults.length;
  put(section, el("h2", {}, say("step result")),
    faults ? el("p", { class: "fault" }, say("mend the marked fields first")) : null,
    el("div", { class: "actions" },
      el("button", { class: desk.spring ? null : "main", id: "search", disabled: faults > 0 || desk.search, onclick: find }, say(desk.spring ? "search again" : "search a spring")),
      desk.search ? el("button", { id: "stop", onclick: () => desk.search.stop.abort() }, say("stop")) : null,
      desk.spring && !desk.search ? el("button", { id: "undo", disabled: !desk.undo.length, onclick: () => { Object.assign(desk, { spring: desk.undo.pop(), values: null, live: null }); result(); } }, say("undo")) : null,
      desk.design && desk.design !== desk.spring ? el("button", { id: "back", onclick: () => { take(desk.design); result(); } }, say("back to the design")) : null),
    desk.search ? el("div", {}, el("progress", { id: "search-progress", max: 1, value: desk.search.share, "aria-label": say("searching") }), el("p", { id: "search-text", role: "status" }, desk.search.text)) : null,
    el("div", { id: "live" }), el("div", { id: "about" }), el("div", { id: "bends" }));
  if (focus) by(focus)?.focus();
  put(by("beside"));
  if (desk.search || !desk.spring || faults) { picture(); return; }
  if (desk.live) shown(); else refresh();
}

function shown() {
  if (desk.step !== "result" || !desk.live) return;
  const l = desk.live;
  saved();
  by("undo").disabled = !desk.undo.length;
  const focus = document.activeElement?.id;
  const dragging = document.querySelector(".handle.on") !== null;
  put(by("live"), 
    el("p", { class: "headline", role: "status" }, l.headline),
    el("ul", { class: "verdicts" }, l.verdicts.map(v => el("li", { class: v.met ? null : "missed" }, v.text))));
  put(by("bends"), el("h3", {}, say("bends and legs")),
    el("table", { id: "numbers" }, el("tbody", {}, l.handles.map(h => el("tr", {}, el("td", {}, h.label),
      el("td", { class: "number" }, el("input", { id: "n-" + h.index, class: "short", value: h.value, inputmode: "decimal", "aria-label": h.label, onchange: e => typed(h, e.target) })), el("td", {}, h.unit, " ", el("span", { class: "quiet" }, h.way)))))));
  const stage = mouth(l.mouth, wire(l.passive, "free"), wire(l.seated), l.arrows.map(arrow),
    l.handles.filter(h => h.at).map(h => handle(h, h.value, v => change(h, v))));
  if (dragging) moveHandles(stage); else put(by("drawing"), stage, slider(l));
  put(by("beside"), el("div", { class: "charts" }, l.charts.map(c => chart(c, l.left))));
  if (focus && !dragging) by(focus)?.focus();
}

// moveHandles puts everything but the handle that is held in place, which keeps its pointer.
function moveHandles(stage) {
  const old = by("drawing").firstChild, held = old.querySelector(".handle.on");
  const fresh = stage.querySelector("#" + held.id);
  for (const name of ["cx", "cy", "aria-valuenow", "aria-valuetext"]) held.setAttribute(name, fresh.getAttribute(name));
  const group = old.querySelector("g"), renewed = stage.querySelector("g");
  fresh.remove();
  for (const node of [...group.childNodes]) if (node !== held) node.remove();
  group.prepend(...renewed.childNodes);
}

function typed(h, input) {
  const v = Number(input.value.replace(",", "."));
  if (!Number.isFinite(v)) { input.setAttribute("aria-invalid", "true"); return; }
  change(h, Math.min(h.max, Math.max(h.min, v)));
}

function slider(l) {
  const last = l.positions - 1;
  return el("label", {}, el("span", {}, l.travelText), el("input", { id: "travel", type: "range", min: 0, max: last, step: 1, value: desk.here, oninput: e => { desk.here = Number(e.target.value); refresh(); } }));
}

function about() {
  const r = desk.report;
  if (!r || desk.step !== "result") return;
  put(by("about"), 
    ...r.sections.map(s => el("div", {}, el("h3", {}, s.title), s.lines.map(t => el("p", { class: s.warning ? "fault" : null }, t)))),
    desk.found?.alternatives?.length ? el("div", {}, el("h3", {}, say("other springs that meet the target")),
      desk.found.alternatives.map(a => el("button", { onclick: () => { take(a.spring); result(); } }, a.label))) : null);
}

// Sheet.

function sheet() {
  const s = desk.sheet ??= { paper: "a4", across: "", up: "" };
  const ready = desk.spring && !desk.form.faults.length;
  const input = (key, label) => el("label", {}, label, " ", el("input", { id: "scale-" + key, inputmode: "decimal", value: s[key], placeholder: "100.0", onchange: e => { s[key] = e.target.value; } }), " mm");
  put(by("sheet"), el("h2", {}, say("step sheet")),
    ready ? null : el("p", { class: "quiet" }, say("search a spring first")),
    el("p", {}, say("print at 100 %")),
    el("label", {}, say("paper"), " ", el("select", { id: "paper", onchange: e => { s.paper = e.target.value; } }, ["a4", "letter"].map(p => el("option", { value: p, selected: p === s.paper }, p === "a4" ? "A4" : "Letter")))),
    el("h3", {}, say("the printer is off")),
    el("p", { class: "quiet" }, say("type in both bars")),
    el("div", { class: "actions" }, input("across", say("bar across")), input("up", say("bar up"))),
    el("div", { class: "actions" }, el("button", { class: "main", id: "open-sheet", disabled: !ready, onclick: () => print(false) }, say("open the sheet")),
      el("button", { id: "open-measuring", onclick: () => print(true) }, say("open the measuring sheet"))));
}

async function print(measuring) {
  const tab = window.open("", "_blank"); // at once, or the browser takes it for an advertisement
  try {
    const s = desk.sheet;
    const file = await ask(measuring ? "measuring" : "sheet", { text: desk.text, spring: desk.spring, lang: desk.lang, paper: s.paper, across: s.across, up: s.up }, { blob: true });
    const address = URL.createObjectURL(file);
    if (tab) tab.location = address; else location.assign(address);
  } catch (e) { tab?.close(); refused(e); }
}

start().catch(refused);
