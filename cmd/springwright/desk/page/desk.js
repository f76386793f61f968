// The desk: the steps of one job, the case that is open, and what goes wrong.

import { el, put, say, setWords, show, hide, typing } from "./dom.js";
import { ask, Refused } from "./api.js";
import { fields } from "./form.js";
import { arrow, mouth, wire } from "./drawing.js";
import { blank, by, desk, unsaved } from "./state.js";
import { find, look, quit, redo, result, undo } from "./result.js";
import { sheet } from "./sheet.js";
import { bent } from "./bent.js";
import { visits } from "./visits.js";
import { orders } from "./orders.js";
import { lesson } from "./class.js";

const steps = ["measure", "want", "kind", "result", "sheet", "bent", "visits"];
const places = ["one", "orders", "class"];
const there = () => steps.filter(s => s !== "visits" || desk.history); // of a case folder only

async function start() {
  const query = new URLSearchParams(location.search);
  desk.lang = query.get("lang") ?? navigator.language.slice(0, 2);
  new EventSource("api/v1/events"); // tells the server that somebody is here
  await language();
  const wanted = query.get("case");
  by("language").addEventListener("change", async e => { desk.lang = e.target.value; try { await language(); await form([]); place(desk.place); } catch (x) { refused(x); } });
  by("cases").addEventListener("change", e => { const name = e.target.value; leave(() => open(name)); }); // leave puts the list back
  by("new-case").addEventListener("click", () => leave(fresh));
  by("save-case").addEventListener("click", save);
  for (const p of places) by("place-" + p).addEventListener("click", () => place(p));
  // A file that is dropped beside its place would have the browser leave the page.
  for (const event of ["dragover", "drop"]) window.addEventListener(event, e => { if (e.dataTransfer?.types.includes("Files")) e.preventDefault(); });
  window.addEventListener("beforeunload", e => { if (unsaved()) e.preventDefault(); });
  window.addEventListener("keydown", keys);
  const known = [...desk.cases, ...desk.examples].some(c => c.name === wanted);
  if (places.includes(query.get("place"))) desk.place = query.get("place");
  place(desk.place);
  await open(known ? wanted : desk.open, query.get("step"));
}

// place shows one spring with its steps, the orders, or the class.
function place(p) {
  desk.place = p;
  document.body.dataset.place = p;
  for (const other of places) {
    if (other === p) by("place-" + other).setAttribute("aria-current", "page"); else by("place-" + other).removeAttribute("aria-current");
  }
  for (const node of document.querySelectorAll(".of-case, #steps, aside")) node.hidden = p !== "one";
  for (const step of steps) by(step).hidden = p !== "one" || step !== desk.step;
  by("orders").hidden = p !== "orders";
  by("class").hidden = p !== "class";
  address();
  if (p === "orders") orders();
  if (p === "class") lesson();
  if (p === "one") draw();
}

// keys are those that hold everywhere but in a field that is being typed into.
function keys(e) {
  if (e.key === "Escape") hide();
  if (!(e.ctrlKey || e.metaKey)) return;
  const key = e.key.toLowerCase();
  if (key === "s") { e.preventDefault(); if (desk.place === "one") save(); return; }
  if (typing(e.target) || desk.step !== "result" || desk.place !== "one") return;
  if (key === "z" && !e.shiftKey) { e.preventDefault(); undo(); }
  if (key === "y" || key === "z" && e.shiftKey) { e.preventDefault(); redo(); }
}

async function language() {
  const s = await ask("start?lang=" + encodeURIComponent(desk.lang));
  Object.assign(desk, { cases: s.cases, kinds: s.kinds, open: s.open, lang: s.lang, example: s.example, examples: s.examples });
  setWords(s.words);
  document.documentElement.lang = s.tag;
  document.body.dataset.print = say("print the sheet instead");
  for (const node of document.querySelectorAll("[data-say]")) node.textContent = say(node.dataset.say);
  for (const node of document.querySelectorAll("[data-name]")) node.setAttribute("aria-label", say(node.dataset.name));
  put(by("language"), ...s.languages.map(l => el("option", { value: l.name, selected: l.name === desk.lang }, l.own)));
  by("cautions").textContent = s.cautions;
  by("folder").textContent = s.folderText;
  list();
  address();
}

function list() {
  const option = c => el("option", { value: c.name, selected: c.name === desk.file }, c.title ? `${c.name} – ${c.title}` : c.name);
  const examples = desk.examples.filter(e => !desk.cases.some(c => c.name === e.name));
  put(by("cases"), ...desk.cases.map(option), examples.length ? el("optgroup", { label: say("examples") }, examples.map(option)) : null);
}

// address keeps what is seen in the address, so that a reload shows it again.
function address() {
  const query = new URLSearchParams({ lang: desk.lang, case: desk.file, step: desk.step, ...(desk.place === "one" ? {} : { place: desk.place }) });
  history.replaceState(null, "", "?" + query);
}

// leave goes on only when nothing would be lost.
function leave(then) {
  const on = () => then().catch(refused);
  if (!unsaved()) return on();
  list();
  show(el("p", {}, say("not saved yet")),
    { label: say("save"), main: true, run: async () => { if (await save()) on(); } },
    { label: say("go on without saving"), run: on });
}

async function open(name, step) {
  await quit();
  const f = await ask("files/" + encodeURIComponent(name));
  blank();
  Object.assign(desk, { file: name, tag: f.tag, text: f.text, saved: f.text, spring: f.spring, savedSpring: f.spring, springTag: f.spring_tag, design: f.spring, history: f.visits });
  await form([]);
  const design = !f.tag && !f.spring; // the example, which is designed at once
  go(there().includes(step) ? step : f.spring || design ? "result" : "measure");
  list();
  if (design) await find();
}

async function fresh() {
  await quit();
  const f = await ask("new");
  desk.cases = desk.cases.filter(c => c.name !== f.name).concat({ name: f.name, title: "" });
  blank();
  Object.assign(desk, { file: f.name, tag: "", text: f.text, saved: "", spring: "", savedSpring: "", springTag: "", history: false });
  await form([]);
  list();
  go("measure");
}

const springName = () => desk.file.replace(/\.toml$/, "-spring.toml");

export async function save() {
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
  } catch (e) {
    if (e instanceof Refused && (e.status === 412 || e.status === 409)) clash(e);
    else refused(e);
    return false;
  }
}

// clash lets somebody choose whose version of a case is kept.
function clash(e) {
  show(el("p", {}, e.message),
    { label: say("show theirs"), run: () => open(desk.file).catch(refused) },
    { label: say("keep mine as a new case"), main: true, run: async () => {
      try {
        const f = await ask("new");
        Object.assign(desk, { file: f.name, tag: "", saved: "", springTag: "", savedSpring: "" });
        desk.cases = desk.cases.concat({ name: f.name, title: "" });
        list();
        address();
        await save();
      } catch (x) { refused(x); }
    } });
}

export function saved() { by("saved").textContent = unsaved() ? say("not saved yet") : desk.tag ? say("saved") : ""; }

export function refused(e) {
  if (e.name === "AbortError") return;
  if (!(e instanceof Refused)) { gone(); return; }
  show(el("div", {}, el("p", {}, e.message), e.body.hint ? el("p", { class: "quiet" }, e.body.hint) : null,
    (e.body.faults ?? []).map(f => el("p", { class: "fault" }, el("b", {}, `${f.key}: ${f.text}`), f.hint))));
}

// gone says that the server does not answer; what is not saved can still be kept.
function gone() {
  const keep = unsaved() && desk.text ? el("a", { id: "keep", download: desk.file, href: URL.createObjectURL(new Blob([desk.text], { type: "application/toml" })) }, say("keep what is not saved as a file")) : null;
  show(el("div", {}, el("p", {}, say("the server does not answer")), keep));
}

// form sends what was typed and shows what the case is then.
export async function form(set, senses) {
  Object.assign(desk.senses, senses);
  try {
    const f = await ask("form", { text: desk.text, set, senses: desk.senses, lang: desk.lang });
    Object.assign(desk, { form: f, text: f.text, senses: f.senses });
    if (set.length || desk.live) Object.assign(desk, { live: null, report: null });
    if (set.length) desk.ways = null;
    draw();
    document.body.dataset.forms = String(Number(document.body.dataset.forms ?? 0) + 1); // for tests of the page
    return true;
  } catch (e) { refused(e); return false; }
}

// go shows a step, and the field in it that something is said of.
export function go(step, key) {
  desk.step = step;
  for (const s of steps) by(s).hidden = s !== step || desk.place !== "one";
  document.body.dataset.step = step;
  address();
  draw();
  if (desk.place !== "one") return;
  window.scrollTo(0, 0);
  const at = key && [...by(step).querySelectorAll("[data-keys]")].find(n => n.dataset.keys.split(" ").some(k => k === key || key.startsWith(k + ".")));
  (at?.querySelector("input, select") ?? by(step)).focus({ preventScroll: !at });
}

export function draw() {
  saved();
  put(by("steps"), el("ol", {}, there().map((s, i) => el("li", {},
    el("button", { id: "go-" + s, "aria-current": s === desk.step ? "step" : null, onclick: () => go(s) }, `${i + 1} ${say("step " + s)}`, el("small", {}, state(s)))))));
  const f = desk.form;
  if (!f) return;
  switch (desk.step) {
    case "measure": fields(by("measure"), say("step measure"), f.measure, f, form); onward("measure"); picture(); break;
    case "want": fields(by("want"), say("step want"), f.want, f, form); onward("want"); picture(); break;
    case "kind": fields(by("kind"), say("step kind"), f.kind, f, form, kinds()); onward("kind"); picture(); break;
    case "result": result(); break;
    case "sheet": sheet(); onward("sheet"); picture(); look(); break;
    case "bent": if (!desk.spring || f.faults.length) picture(); bent(); break;
    case "visits": visits(); break;
  }
}

// onward is the way to the next step.
export function onward(step) {
  const next = steps[steps.indexOf(step) + 1];
  by(step).append(el("div", { class: "actions" }, el("button", { class: "main", id: "next-" + step, onclick: () => go(next) }, `${say("next")}: ${say("step " + next)}`)));
}

// state says in a word where a step stands.
function state(s) {
  const f = desk.form;
  if (!f) return "";
  if (f.open[s]) return f.open[s];
  return s === "result" && desk.live ? desk.live.state : "";
}

export function picture() {
  const f = desk.form, plain = { ...f.mouth, letters: [] };
  put(by("drawing"), desk.step === "measure" ? mouth(f.mouth) : desk.step === "want" ? mouth(plain, f.wanted.map(arrow)) :
    desk.step === "sheet" && desk.live ? mouth(desk.live.mouth, wire(desk.live.passive, "free"), wire(desk.live.seated)) : mouth(plain));
  put(by("beside"), ...(desk.form.cautions ?? []).map(c => el("p", { class: "fault" }, c)));
}

function kinds() {
  const chosen = desk.form.values.spring ?? "choose";
  return el("fieldset", {}, el("legend", {}, say("kind of spring")),
    el("div", { class: "kinds" }, desk.kinds.map(k => el("label", {},
      el("input", { type: "radio", name: "kind", id: "kind-" + k.name.replaceAll(" ", "-"), checked: k.name === chosen, onchange: () => form([{ key: "spring", value: k.name }]) }),
      " ", el("b", {}, k.label), k.picture ? mouth(k.picture) : null, el("small", {}, k.for)))));
}

start().catch(refused);
