// Class: a case is varied for a class, and what it hands in is marked, as by the commands "handout" and "mark".

import { el, say, svg } from "./dom.js";
import { ask } from "./api.js";
import { by, desk } from "./state.js";
import { refused } from "./desk.js";
import { drop, paperChoice, paperOf, papers, progress, redraw, table, trouble, work } from "./many.js";

const s = desk.class = { places: null, from: "preset:demo", students: "24", seed: "1", bands: "", made: null, error: null, folder: "", files: [], markBands: "", marks: null, markError: null, busy: "" };

export async function lesson() {
  show();
  try { s.places = await ask("places?lang=" + desk.lang); } catch (e) { refused(e); return; }
  if (!s.places.classes.some(c => c.folder === s.folder)) s.folder = s.places.classes[0]?.folder ?? "";
  show();
}

function show() {
  if (desk.place !== "class") return;
  redraw(by("class"), el("h2", {}, say("class")), el("p", { class: "quiet" }, say("class is")), el("div", { class: "halves" }, el("div", {}, make()), el("div", {}, mark())), s.marks ? overview(s.marks) : null);
}

// field is a labelled field with what is wrong with it.
function field(id, label, value, error, set, more) {
  const fault = (error?.faults ?? []).find(f => id.endsWith(f.key));
  return el("div", { class: "bar" }, el("label", { for: id }, label), " ", el("input", { id, value, disabled: s.busy !== "", "aria-invalid": Boolean(fault), "aria-describedby": fault ? id + "-fault" : null, onchange: e => set(e.target.value.trim()), ...more }),
    fault ? el("p", { class: "fault", id: id + "-fault" }, el("b", {}, fault.text), fault.hint) : null);
}

const plainError = e => e && !(e.faults ?? []).some(f => f.key === "students" || f.key === "bands") ? e : null;

function make() {
  const busy = s.busy !== "", own = s.places?.cases ?? [], presets = s.places?.presets ?? [];
  const option = (value, label) => el("option", { value, selected: value === s.from }, label);
  return [el("h3", {}, say("hand out")),
    el("div", { class: "bar" }, el("label", { for: "class-case" }, say("case")), " ", el("select", { id: "class-case", disabled: busy, onchange: e => { s.from = e.target.value; } },
      own.length ? el("optgroup", { label: say("of the folder") }, own.map(c => option("case:" + c.name, c.title ? `${c.name} – ${c.title}` : c.name))) : null,
      el("optgroup", { label: say("examples") }, presets.map(p => option("preset:" + p.value, p.label))))),
    field("class-students", say("students"), s.students, s.error, v => { s.students = v; }, { class: "short", inputmode: "numeric" }),
    field("class-seed", say("class number"), s.seed, null, v => { s.seed = v; }, { class: "short", inputmode: "numeric" }), el("p", { class: "quiet" }, say("class number is")),
    field("class-bands", say("grades"), s.bands, s.error, v => { s.bands = v; }, { placeholder: "A:2.5/0.5, B:5/1, C:7.5/1.5" }), el("p", { class: "quiet" }, say("grades are")),
    el("p", {}, paperChoice("class-paper")),
    s.busy === "make" ? progress("class", say("making")) : el("div", { class: "actions" }, el("button", { class: "main", id: "class-make", disabled: busy, onclick: hand }, say("make the class"))),
    trouble(plainError(s.error), "class-error"),
    s.made ? [s.made.lines.map((l, i) => el("p", { role: i ? null : "status" }, l)), papers(s.made.papers, "class-papers")] : null];
}

function mark() {
  const busy = s.busy !== "", all = s.places?.classes ?? [], one = all.find(c => c.folder === s.folder);
  if (!all.length) return [el("h3", {}, say("mark")), el("p", { class: "quiet", id: "no-class" }, say("no class yet"))];
  return [el("h3", {}, say("mark")),
    el("div", { class: "bar" }, el("label", { for: "mark-class" }, say("class")), " ", el("select", { id: "mark-class", disabled: busy, onchange: e => { Object.assign(s, { folder: e.target.value, marks: null, markError: null }); show(); } }, all.map(c => el("option", { value: c.folder, selected: c.folder === s.folder }, c.text)))),
    s.made?.folder === s.folder ? null : papers(one?.papers, "mark-papers"),
    el("p", { class: "quiet" }, say("hand in")),
    drop("mark", say("choose pictures or a table"), "image/png,image/jpeg,.csv,.toml", true, files => { if (!s.busy && files.length) { Object.assign(s, { files, marks: null, markError: null }); show(); } }, el("span", { class: "quiet" }, say("or drop them here"))),
    s.files.length ? el("p", { id: "handed", role: "status" }, s.files.slice(0, 6).map(f => f.name).join(", ") + (s.files.length > 6 ? ` … (${s.files.length})` : "")) : null,
    field("mark-bands", say("grades"), s.markBands, s.markError, v => { s.markBands = v; }, { placeholder: say("as the class has them") }),
    s.busy === "mark" ? progress("mark", say("marking")) : el("div", { class: "actions" }, el("button", { class: "main", id: "mark-go", disabled: busy || !s.files.length, onclick: run }, say("mark them"))),
    trouble(plainError(s.markError), "mark-error")];
}

async function hand() {
  const p = paperOf(), [kind, name] = [s.from.slice(0, s.from.indexOf(":")), s.from.slice(s.from.indexOf(":") + 1)];
  const whole = v => /^\d{1,15}$/.test(v) ? Number(v) : 0;
  Object.assign(s, { busy: "make", error: null, made: null });
  show();
  by("class-stop").focus();
  s.error = await work("class", "class/make", { case: kind === "case" ? name : "", preset: kind === "preset" ? name : "", students: whole(s.students), seed: whole(s.seed), bands: s.bands, lang: desk.lang, paper: p.paper, across: p.across, up: p.up },
    line => { if (line.class) { s.made = line.class; s.folder = line.class.folder; } });
  s.busy = "";
  if (s.made) try { s.places = await ask("places?lang=" + desk.lang); } catch (e) { refused(e); }
  settle("class-make");
}

async function run() {
  const p = paperOf(), form = new FormData();
  for (const [name, value] of [["class", s.folder], ["bands", s.markBands], ["lang", desk.lang], ["paper", p.paper], ["across", p.across], ["up", p.up]]) form.append(name, value);
  for (const f of s.files) form.append("handed", f);
  Object.assign(s, { busy: "mark", markError: null, marks: null });
  show();
  by("mark-stop").focus();
  s.markError = await work("mark", "class/mark", form, line => { if (line.marks) s.marks = line.marks; });
  s.busy = "";
  settle("mark-go");
}

// settle shows what came of it, and has the focus at what is wrong, at what is told, or where it was.
function settle(button) {
  show();
  if (desk.place !== "class") return;
  const bad = document.querySelector('#class [aria-invalid="true"]');
  if (bad) bad.focus();
  else if (s.marks && button === "mark-go") { by("marks-title").focus({ preventScroll: true }); by("marks-title").scrollIntoView(); }
  else if (document.activeElement === document.body) by(button)?.focus();
}

// overview is the page of the class.
function overview(m) {
  const [head, ...rows] = m.rows;
  return el("div", { id: "marks" }, el("h3", { id: "marks-title", tabindex: -1 }, say("the class")),
    m.warning ? el("p", { class: "fault" }, m.warning) : null,
    el("p", { role: "status", id: "marks-count" }, el("b", {}, m.count)), m.worst ? el("p", { class: "headline", id: "marks-worst" }, m.worst) : null, el("p", { class: "quiet" }, m.bands),
    papers(m.papers, "marks-papers"), m.lines.map(l => el("p", { class: "quiet" }, l)),
    m.bars?.length ? chart(m) : null,
    rows.length ? table("marks-rows", say("students"), head, rows.map(r => el("tr", {}, r.map((c, i) => i ? el("td", { class: i > 1 && i < r.length - 1 ? "number" : null }, c) : el("th", { scope: "row" }, c))))) : null,
    m.notRead.length ? [el("h3", {}, say("not read")), table("marks-unread", say("not read"), [say("file"), say("what is wrong"), say("what to do")], m.notRead.map(n => el("tr", {}, n.map((c, i) => el("td", {}, i === 1 ? el("b", {}, c) : c)))))] : null,
    m.missing ? el("p", { id: "marks-missing" }, m.missing) : null);
}

// chart has a bar for each bend and straight: how many students are within the band of each grade, the best below.
function chart(m) {
  const wide = 44, tall = 130, left = 26, most = Math.max(...m.bars.map(b => b.ByGrade.reduce((x, y) => x + y, 0)));
  const shade = g => "shade shade-" + (g === m.grades.length - 1 ? "last" : Math.min(g, 3));
  const bars = m.bars.map((b, i) => {
    let base = tall;
    const boxes = b.ByGrade.map((n, g) => { const h = n / most * (tall - 8); base -= h; return n ? svg("rect", { class: shade(g), x: left + i * wide + 7, y: base, width: wide - 14, height: h }) : null; });
    return [boxes, svg("text", { x: left + (i + 0.5) * wide, y: tall + 15, "text-anchor": "middle" }, b.Name)];
  });
  const told = m.bars.map(b => `${b.Name}: ${b.ByGrade.map((n, g) => `${m.grades[g]} ${n}`).join(", ")}`).join("; ");
  return el("figure", { class: "class-chart" }, el("figcaption", {}, say("how far off")),
    svg("svg", { viewBox: `0 0 ${left + m.bars.length * wide + 6} ${tall + 22}`, role: "img", id: "marks-chart", preserveAspectRatio: "xMinYMid meet", "aria-label": `${say("how far off")} ${told}` },
      svg("line", { class: "axis", x1: left, x2: left + m.bars.length * wide, y1: tall, y2: tall }), svg("text", { x: left - 5, y: tall, "text-anchor": "end" }, "0"), svg("text", { x: left - 5, y: 14, "text-anchor": "end" }, most), bars),
    el("p", { class: "legend" }, m.grades.map((g, i) => el("span", { class: "swatch" }, svg("svg", { viewBox: "0 0 24 12", "aria-hidden": "true" }, svg("rect", { class: shade(i), width: 24, height: 12 })), g))));
}
