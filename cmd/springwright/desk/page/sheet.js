// The sheet: the command's own, opened in the browser's viewer.

import { decimal, el, put, say } from "./dom.js";
import { ask, Refused } from "./api.js";
import { by, desk } from "./state.js";
import { go, onward, refused } from "./desk.js";

export function sheet() {
  const s = desk.sheet ??= { paper: "a4", across: "", up: "", faults: {} };
  const ready = desk.spring && !desk.form.faults.length;
  const bar = (key, label) => el("div", { class: "bar" }, el("label", {}, label, " ", el("input", {
    id: "scale-" + key, class: "short", inputmode: "decimal", value: s[key], placeholder: "100.0", "aria-invalid": Boolean(s.faults[key]), "aria-describedby": s.faults[key] ? `scale-${key}-fault` : null,
    onchange: e => { s[key] = e.target.value; s.faults = {}; },
  }), " mm"), s.faults[key] ? el("p", { class: "fault", id: `scale-${key}-fault` }, s.faults[key]) : null);
  put(by("sheet"), el("h2", {}, say("step sheet")),
    ready ? null : el("p", { class: "quiet" }, say("search a spring first"), " ", el("button", { onclick: () => go("result") }, say("step result"))),
    ready && desk.live && !desk.live.met ? el("p", { class: "fault" }, el("b", {}, say("the sheet says what is missed"))) : null,
    ready && desk.live?.note ? el("p", { class: "fault" }, desk.live.note) : null,
    el("p", { class: "hint" }, say("print at 100 %")),
    el("p", {}, el("label", {}, say("paper"), " ", el("select", { id: "paper", onchange: e => { s.paper = e.target.value; } }, ["a4", "letter"].map(p => el("option", { value: p, selected: p === s.paper }, p === "a4" ? "A4" : "Letter"))))),
    el("div", { class: "actions" }, el("button", { class: "main", id: "open-sheet", disabled: !ready, onclick: () => print(false) }, say("open the sheet")),
      el("button", { id: "open-measuring", onclick: () => print(true) }, say("open the measuring sheet"))),
    jig(s, ready),
    el("h3", {}, say("the printer is off")),
    el("p", { class: "quiet" }, say("type in both bars")),
    bar("across", say("bar across")), bar("up", say("bar up")));
}

// jig offers the plate to print in plastic.
function jig(s, ready) {
  const j = s.jig ??= { clearance: "", fault: "", lines: [], of: "" };
  if (j.of !== desk.spring) Object.assign(j, { lines: [], fault: "", of: desk.spring });
  return [el("h3", {}, say("jig")), el("p", { class: "quiet" }, say("jig is")),
    el("div", { class: "actions" }, el("label", {}, say("clearance"), " ", el("input", { id: "jig-clearance", class: "short", inputmode: "decimal", value: j.clearance, placeholder: decimal(0.1, 2), "aria-invalid": Boolean(j.fault), "aria-describedby": j.fault ? "jig-fault" : null, onchange: e => { j.clearance = e.target.value; j.fault = ""; } }), " mm"),
      el("button", { id: "save-jig", disabled: !ready, onclick: () => plate(j) }, say("save the jig"))),
    el("div", { role: "status", id: "jig-told" }, j.fault ? el("p", { class: "fault", id: "jig-fault" }, j.fault) : null, j.lines.map(l => el("p", {}, l)))];
}

async function plate(j) {
  Object.assign(j, { fault: "", lines: [] });
  try {
    const made = await ask("jig", { text: desk.text, spring: desk.spring, lang: desk.lang, clearance: j.clearance });
    const bytes = Uint8Array.from(atob(made.stl), c => c.charCodeAt(0));
    const address = URL.createObjectURL(new Blob([bytes], { type: "model/stl" }));
    document.body.dataset.jig = address; // for tests of the page
    el("a", { download: made.name, href: address }).click();
    j.lines = [made.name, ...made.lines];
  } catch (e) {
    if (!(e instanceof Refused)) { refused(e); return; }
    j.fault = e.body.error;
  }
  sheet();
  onward("sheet");
  by(j.fault ? "jig-clearance" : "save-jig").focus();
}

async function print(measuring) {
  const tab = window.open("", "_blank"); // at once, or the browser takes it for an advertisement
  const s = desk.sheet;
  s.faults = {};
  try {
    const file = await ask(measuring ? "measuring" : "sheet", { text: desk.text, spring: desk.spring, lang: desk.lang, paper: s.paper, across: s.across, up: s.up }, { blob: true });
    const address = URL.createObjectURL(file);
    document.body.dataset.sheet = address; // for tests of the page
    if (tab) tab.location = address; else location.assign(address);
  } catch (e) {
    tab?.close();
    const own = e instanceof Refused ? (e.body.faults ?? []).filter(f => f.key === "across" || f.key === "up") : [];
    if (!own.length) { refused(e); return; }
    for (const f of own) s.faults[f.key] = f.text;
  }
  sheet();
  for (const key of ["up", "across"]) if (s.faults[key]) by("scale-" + key).focus();
}
