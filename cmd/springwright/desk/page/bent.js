// As bent: what was measured of the wire that came out, by hand or in a picture, what it will do, and which
// bend to correct. The report and its words are those of the command "adjust".

import { el, put, say, svg, points } from "./dom.js";
import { ask, Refused } from "./api.js";
import { words, viewBox } from "./drawing.js";
import { chart, legend } from "./charts.js";
import { by, desk } from "./state.js";
import { draw, go, refused } from "./desk.js";
import { take } from "./result.js";

const cap = text => text.charAt(0).toUpperCase() + text.slice(1);
const fresh = () => ({ values: {}, ways: {}, seen: null, soFar: false, printed: false, form: null, answer: null, view: 0, faults: {}, error: null, busy: null, told: "", shown: "" });

// readings are what was typed, by the keys of a file of readings.
function readings(s) {
  const measured = {};
  for (const [name, value] of Object.entries(s.values)) if (value.trim()) measured[s.ways[name] ?? name] = value;
  if (s.printed) measured.end = "as printed";
  return { text: desk.text, spring: desk.spring, lang: desk.lang, measured, seen: s.seen?.seen ?? [], so_far: s.soFar };
}

export async function bent() {
  const s = desk.bent ??= fresh(), section = by("bent"), ready = desk.spring && !desk.form.faults.length;
  if (!ready) {
    put(section, el("h2", {}, say("step bent")), el("p", { class: "quiet" }, say("search a spring first"), " ", el("button", { onclick: () => go("result") }, say("step result"))));
    return;
  }
  // What can be measured is asked for again where the spring or the language is another.
  const asked = [desk.text, desk.spring, desk.lang].join("\0");
  if (s.shown !== asked) {
    const other = s.shown && s.shown.split("\0")[1] !== desk.spring;
    Object.assign(s, { shown: asked, form: null, answer: null, error: null, faults: {} });
    if (other) s.seen = null;
    put(section, el("h2", {}, say("step bent")));
    try {
      const form = await ask("bent", { text: desk.text, spring: desk.spring, lang: desk.lang });
      if (s.shown !== asked || desk.bent !== s) return;
      s.form = form;
    } catch (e) { s.shown = ""; refused(e); return; }
    if (desk.step !== "bent") return;
  }
  if (s.form) show(s);
}

// show draws the step anew; what has the focus keeps it.
function show(s) {
  const focus = document.activeElement?.id, f = s.form;
  const steps = f.steps.map(x => row(s, x.key, x.label, x.unit, { letter: x.letter, usual: x.drawn, note: s.seen?.texts[x.key] }));
  // What is told stands first, beside its drawing and its loads; what was measured below it, in a narrow window folded.
  const form = [el("p", { class: "quiet" }, say("measure what came out")), picture(s),
    el("fieldset", {}, el("legend", {}, say("bends and straights")), el("p", { class: "quiet" }, say("angles and lengths")), steps),
    el("fieldset", {}, el("legend", {}, say("the free end")), el("p", { class: "quiet" }, say("anchor end seated")),
      tick(s, "printed", "printed", say("it lies as printed")), f.free.map((x, i) => row(s, "free-" + i, x.label, x.unit, { ways: x.keys }))),
    f.gauge ? el("fieldset", {}, el("legend", {}, say("the gauge")), el("p", { class: "quiet" }, f.gauge), row(s, "gauge_n", say("it reads"), "N", {})) : null,
    fold(say("readings are off by"), f.off.some(x => s.values[x.keys[0].value]), f.off.map(x => row(s, x.keys[0].value, x.label, x.unit, { usual: x.usual }))),
    tick(s, "sofar", "soFar", say("bent only so far")),
    el("div", { class: "actions" },
      el("button", { class: "main", id: "adjust", disabled: s.busy !== null, onclick: () => tell(s) }, say(s.soFar ? "how to go on" : "what will it do")),
      s.busy === "tell" ? el("button", { id: "stop-adjust", onclick: () => ask("stop", {}).catch(refused) }, say("stop")) : null),
    el("p", { id: "adjust-state", role: "status" }, s.busy === "tell" ? say("reckoning") : ""),
    s.error ? el("div", { class: "fault", id: "adjust-error", role: "alert" }, el("b", {}, s.error.error), s.error.hint) : null];
  put(by("bent"), el("h2", {}, say("step bent")), el("div", { id: "told" }, told(s)),
    s.answer ? fold(say("what was measured"), window.innerWidth > 1023, form) : form);
  view(s);
  if (focus) by(focus)?.focus();
}

// changed forgets an answer that no longer holds.
function changed(s) {
  if (!s.answer && !s.error) return;
  Object.assign(s, { answer: null, error: null, faults: {}, told: "" });
  show(s);
}

// row is a number that was measured, or not.
function row(s, name, label, unit, { letter, usual, note, ways }) {
  const id = "b-" + name, at = ways?.map(w => w.value) ?? [name], faults = at.flatMap(k => s.faults[k] ?? []);
  const about = faults.length ? id + "-fault" : note ? id + "-note" : null;
  const input = el("input", {
    id, class: "short", inputmode: "decimal", value: s.values[name] ?? "", placeholder: usual, "aria-describedby": about, "aria-invalid": faults.length > 0,
    onchange: e => { s.values[name] = e.target.value; changed(s); }, onfocus: () => mark(name, true), onblur: () => mark(name, false),
    onkeydown: e => { if (e.key === "Enter") { s.values[name] = e.target.value; tell(s); } },
  });
  if (ways) s.ways[name] ??= ways[0].value;
  const select = ways ? el("select", { id: id + "-way", "aria-label": `${label}: ${say("which way")}`, onchange: e => { s.ways[name] = e.target.value; changed(s); } },
    ways.map(w => el("option", { value: w.value, selected: w.value === s.ways[name] }, w.label))) : null;
  return el("div", { class: "row read", "data-keys": at.join(" ") },
    letter ? el("span", { class: "letter", "aria-hidden": "true" }, letter) : el("span"), el("label", { for: id }, label),
    el("span", { class: "entry" }, input, el("span", { class: "unit" }, unit), select),
    faults.map((x, i) => el("div", { class: "fault", id: i ? null : about }, el("b", {}, x.text), x.hint)),
    note ? el("div", { class: "note", id: faults.length ? null : about }, note) : null);
}

const fold = (title, open, ...inside) => el("details", { open, "aria-label": title }, el("summary", {}, title), inside);

function tick(s, id, name, label) {
  return el("p", {}, el("label", { class: "tick" }, el("input", { type: "checkbox", id: "b-" + id, checked: s[name], onchange: e => { s[name] = e.target.checked; Object.assign(s, { answer: null, error: null, faults: {} }); show(s); } }), " ", label));
}

// picture lets a picture be chosen or dropped, and shows what was read of it.
function picture(s) {
  if (s.form.noPicture) return el("fieldset", {}, el("legend", {}, say("a picture")), el("p", { class: "quiet", id: "no-picture" }, s.form.noPicture));
  const file = el("input", { type: "file", id: "picture-file", accept: "image/png,image/jpeg", hidden: true, onchange: e => { read(s, e.target.files[0]); e.target.value = ""; } });
  const over = on => e => { e.preventDefault(); e.currentTarget.classList.toggle("over", on); };
  return el("fieldset", { class: "drop", id: "drop", ondragover: over(true), ondragleave: over(false), ondrop: e => { over(false)(e); read(s, e.dataTransfer.files[0]); } },
    el("legend", {}, say("a picture")), el("p", { class: "quiet" }, say("on the card")), file,
    el("div", { class: "actions" }, el("button", { id: "choose-picture", disabled: s.busy !== null, onclick: () => file.click() }, say(s.busy === "read" ? "reading the picture" : "choose a picture")),
      s.seen ? el("button", { id: "forget-picture", onclick: () => { s.seen = null; Object.assign(s, { answer: null, error: null }); show(s); by("choose-picture").focus(); } }, say("forget the picture")) : null,
      el("span", { class: "quiet" }, say("or drop it here"))),
    el("div", { role: "status", id: "picture-state" }, s.refusal ? el("div", { class: "fault", id: "picture-refused" }, el("b", {}, s.refusal.error), s.refusal.hint) : null,
      s.seen ? [s.seen.notes.map(n => el("p", { class: "fault" }, n)), el("img", { class: "overlay", src: s.seen.overlay, alt: s.seen.label })] : null));
}

async function read(s, file) {
  if (!file || s.busy) return;
  Object.assign(s, { busy: "read", refusal: null, seen: null, answer: null, error: null, faults: {} });
  show(s);
  const form = new FormData();
  for (const [name, value] of [["spring", desk.spring], ["lang", desk.lang], ["picture", file]]) form.append(name, value);
  try {
    const response = await fetch("api/v1/picture", { method: "POST", body: form });
    const body = await response.json();
    if (response.ok) s.seen = body; else s.refusal = body;
  } catch (e) { refused(e); }
  s.busy = null;
  if (desk.bent !== s || desk.step !== "bent") return;
  show(s);
  if (document.activeElement === document.body) by("choose-picture").focus();
}

// tell asks what comes of the readings.
async function tell(s) {
  if (s.busy) return;
  Object.assign(s, { busy: "tell", answer: null, error: null, faults: {}, told: "", view: 0 });
  show(s);
  const asked = s.shown;
  try {
    const answer = await ask("adjust", readings(s));
    if (s.shown === asked) s.answer = answer;
  } catch (e) {
    if (!(e instanceof Refused)) refused(e);
    else {
      const own = (e.body.faults ?? []).filter(f => document.querySelector(`#bent [data-keys~="${CSS.escape(f.key)}"]`));
      for (const f of own) (s.faults[f.key] ??= []).push(f);
      const other = (e.body.faults ?? []).find(f => !own.includes(f));
      if (other) s.error = { error: `${other.key ? other.key + ": " : ""}${other.text}`, hint: other.hint };
      else if (!own.length) s.error = e.body;
    }
  }
  s.busy = null;
  if (desk.bent !== s || desk.step !== "bent") return;
  show(s);
  const bad = document.querySelector('#bent [aria-invalid="true"]');
  if (bad) bad.focus();
  else if (s.answer) { by("verdict").focus({ preventScroll: true }); window.scrollTo(0, 0); }
  else if (document.activeElement === document.body) by("adjust").focus();
}

// told is the report.
function told(s) {
  const a = s.answer;
  if (!a) return null;
  const doubts = a.doubts.map(d => el("p", { class: "fault" }, el("b", {}, d.text), d.hint));
  const verdict = (text, good) => el("p", { id: "verdict", class: good ? "headline" : "headline missed", tabindex: -1 }, cap(text));
  const state = el("p", { id: "written", role: "status" }, s.told);
  const files = el("button", { id: "write-files", onclick: () => write(s) }, say("write the files"));
  if (a.soFar) {
    return [verdict(a.soFar.goOn, a.usable), el("p", {}, cap(a.soFar.chance) + "."), a.misses.map(m => el("p", { class: "fault" }, cap(m) + ".")), doubts,
      table(a.soFar.rows, "so-far-rows"), el("p", { class: "quiet" }, cap(a.soFar.finish) + "."),
      el("div", { class: "actions" }, el("button", { class: "main", id: "take-numbers", onclick: () => { take(a.spring); desk.bent = null; go("sheet"); } }, say("take these numbers")), files), state];
  }
  const t = a.told;
  return [verdict(t.usable, a.usable), t.misses.map(m => el("p", { class: "fault" }, cap(m) + ".")), t.chances.map(c => el("p", {}, cap(c) + ".")), doubts,
    t.ways.map((w, i) => el("div", { class: "correction", id: "way-text-" + i }, el("h3", {}, cap(w.title)), el("p", {}, el("b", {}, cap(w.text) + ".")), w.lines.map(l => el("p", {}, cap(l) + ".")))),
    t.after ? el("p", { class: t.ways.length ? "quiet" : null }, cap(t.after) + ".") : null,
    el("div", { class: "actions" }, el("button", { id: "open-adjusted", class: "main", onclick: () => print(s) }, say("open the sheet")), files), state,
    t.asked?.length ? table(t.asked, "asked") : null,
    fold(say("what came out"), false, table(t.steps, "came-out"), t.notes.map(n => el("p", { class: "quiet" }, cap(n) + "."))),
    fold(say("loads in numbers"), false, t.loads.map((l, i) => [el("p", {}, cap(l.title) + "."), table(l.rows, "loads-" + i)])),
    el("p", { class: "quiet" }, t.caution)];
}

// table has its headings in the first row. It is wider than a narrow window: then it alone is moved.
function table(rows, id) {
  const [head, ...body] = rows;
  return el("div", { class: "wide", tabindex: 0, role: "region", "aria-label": head[0] || head[1] }, el("table", { id }, el("thead", {}, el("tr", {}, head.map(h => el("th", { scope: "col" }, h)))),
    el("tbody", {}, body.map(r => el("tr", { class: r[0] === "" ? "quiet" : null }, r.map((c, i) => el("td", { class: i ? "number" : null }, c)))))));
}

// view draws the wire: with its letters while it is measured, else as it came out over its drawing.
function view(s) {
  const f = s.form, a = s.answer;
  if (!a) {
    const letter = (text, at, key) => svg("g", { onclick: key ? () => by("b-" + key).focus() : null }, svg("circle", { class: "badge", cx: at[0], cy: -at[1], r: 0.75 }), words(text, at, 1));
    put(by("drawing"), svg("svg", { class: "bent", viewBox: viewBox(f.box), role: "img", "aria-label": f.label },
      svg("g", { transform: "scale(1,-1)" }, f.steps.map(x => svg("polyline", { class: "wire", id: "w-" + x.key, points: points(x.points) }))),
      f.steps.map(x => letter(x.letter, x.at, x.key)), f.ends.map(e => words(e.letter, e.at, 1.2, "number"))));
    put(by("beside"));
    return;
  }
  const v = a.views[s.view] ?? a.views[0];
  put(by("drawing"), a.views.length > 1 ? el("fieldset", { class: "views" }, el("legend", {}, say("drawing")), a.views.map((x, i) => el("label", {},
    el("input", { type: "radio", name: "view", id: "view-" + i, checked: i === s.view, onchange: () => { s.view = i; view(s); by("view-" + i).focus(); } }), " ", x.label))) : null,
    svg("svg", { class: "bent", viewBox: viewBox(v.box), role: "img", "aria-label": v.text },
      svg("g", { transform: "scale(1,-1)" }, svg("polyline", { class: "wire free", points: points(v.drawn) }), svg("polyline", { class: "wire", points: points(v.wire) }),
        v.marks.map(m => svg("circle", { class: "ring", cx: m.at[0], cy: m.at[1], r: 1.6 }))),
      v.marks.map(m => words(m.letter, [m.at[0] + 2.3, m.at[1] + 1.3], 1.4, "load"))));
  const charts = v.charts.map(c => {
    const one = chart(c.key), b = v.bands[c.key];
    one.update(c, Math.max(...c.travel), b?.low?.length ? { straight: null, low: b.low, high: b.high } : null);
    return one.node;
  });
  put(by("beside"), charts.length ? [legend(true, false, say("nine of ten it may be"), v.label), el("div", { class: "charts", id: "bent-charts" }, charts)] : null);
}

// mark shows which piece of the wire a field is of.
function mark(key, on) { by("w-" + key)?.classList.toggle("held", on); }

async function print(s) {
  const tab = window.open("", "_blank"); // at once, or the browser takes it for an advertisement
  const p = desk.sheet ?? { paper: "a4", across: "", up: "" };
  try {
    const file = await ask("adjusted/sheet", { ...readings(s), paper: p.paper, across: p.across, up: p.up }, { blob: true });
    const address = URL.createObjectURL(file);
    document.body.dataset.adjusted = address; // for tests of the page
    if (tab) tab.location = address; else location.assign(address);
  } catch (e) { tab?.close(); refused(e); }
}

async function write(s) {
  const p = desk.sheet ?? { paper: "a4", across: "", up: "" };
  try {
    s.told = (await ask("adjusted/files", { ...readings(s), paper: p.paper, across: p.across, up: p.up, name: desk.file })).text;
    by("written").textContent = s.told;
  } catch (e) { refused(e); }
}
