// Fields of a case: what they are and what is wrong in them comes from the server.

import { el, put, svg, say } from "./dom.js";

// fields writes the groups of a step into a section. set(entries) changes keys of the case.
export function fields(section, title, groups, form, set, first) {
  const before = document.activeElement?.id;
  put(section, el("h2", {}, title), first, groups.map(g => group(g, form, set)));
  if (before) document.getElementById(before)?.focus();
}

const opened = new Set(); // groups that somebody has unfolded

function group(g, form, set) {
  if (g.teeth) return arch(g, form, set);
  // A whole table of the file that is missing is a fault of its first group.
  const whole = form.faults.filter(f => g.fields.some(field => (field.keys ?? [field.key]).some(k => k.startsWith(f.key + "."))));
  const rows = [whole.map(f => el("div", { class: "fault" }, el("b", {}, f.text), f.hint)), g.note ? el("p", { class: "quiet" }, g.note) : null, g.fields.map(f => row(f, form, set))];
  if (!g.folded) return el("fieldset", {}, el("legend", {}, g.label), rows);
  const used = g.fields.some(f => faultsOf(f, form).length || (f.keys && !empty(f, form)));
  const box = el("details", { "aria-label": g.label, open: used || whole.length > 0 || opened.has(g.label), ontoggle: e => { if (e.target.open) opened.add(g.label); else opened.delete(g.label); } }, el("summary", {}, g.label), rows);
  return box;
}

// faultsOf are those of a field: of its key or of a key below it.
export function faultsOf(field, form) {
  const keys = field.keys ?? [field.key];
  return form.faults.filter(f => keys.some(k => f.key === k || f.key.startsWith(k + ".")));
}

function row(field, form, set) {
  const faults = faultsOf(field, form);
  const id = "f-" + field.key;
  const about = faults.length ? id + "-fault" : field.note ? id + "-note" : null;
  const common = { id, "aria-describedby": about, "aria-invalid": faults.length > 0 };
  return el("div", { class: "row", "data-keys": (field.keys ?? [field.key]).join(" ") },
    field.letter ? el("span", { class: "letter", "aria-hidden": "true" }, field.letter) : el("span"),
    el("label", { for: id }, field.label),
    el("span", { class: "entry " + field.kind }, ...entry(field, form, set, common)),
    faults.map((f, i) => el("div", { class: "fault", id: i === 0 ? about : null }, el("b", {}, f.text), f.hint)),
    field.note && !faults.length && (field.kind !== "window" || empty(field, form)) ? el("div", { class: "note", id: about }, field.note) : null);
}

// empty tells whether nothing is written for a field.
function empty(field, form) {
  return !Object.keys(form.values).some(v => field.keys.some(k => v === k || v.startsWith(k + ".")));
}

function entry(field, form, set, common) {
  const value = form.values[field.key] ?? "";
  const written = (field.keys ?? [field.key]).map(k => form.values[k] ?? form.values[k + ".min"] ?? "").join("");
  // A value that names its own unit, such as 0.022in, needs no other beside it.
  const unit = el("span", { class: "unit" }, /[a-z]/i.test(written) ? "" : field.unit ?? "");
  switch (field.kind) {
    case "choice":
      return [el("select", { ...common, onchange: e => set([{ key: field.key, value: e.target.value }]) },
        field.choices.map(c => el("option", { value: c.value, selected: c.value === value }, c.label)))];
    case "senses": { // one number, and which way it goes
      const [from, way] = [field.key, form.senses[field.key] ?? field.keys[0]];
      const input = el("input", { ...common, inputmode: "decimal", value: form.values[way] ?? "", placeholder: field.usual });
      const select = el("select", { "aria-label": say("which way"), id: common.id + "-way" },
        field.choices.map(c => el("option", { value: c.value, selected: c.value === way }, c.label)));
      const send = () => set(field.keys.map(k => ({ key: k, value: k === select.value ? input.value : "" })), { [from]: select.value });
      input.addEventListener("change", send);
      select.addEventListener("change", send);
      return [input, unit, select];
    }
    case "window": { // from … to, one way
      const way = form.senses[field.key] ?? field.keys[0];
      const part = (p, label) => el("input", { ...(p === "min" ? common : { id: common.id + "-max" }), inputmode: "decimal", "aria-label": `${field.label}, ${label}`, value: form.values[`${way}.${p}`] ?? "", placeholder: p === "min" ? field.usual : field.usualMax });
      const low = part("min", say("at least")), high = part("max", say("at most"));
      const select = el("select", { "aria-label": say("which way"), id: common.id + "-way" },
        field.choices.map(c => el("option", { value: c.value, selected: c.value === way }, c.label)));
      const send = () => set(field.keys.map(k => ({ key: k, window: k === select.value ? [low.value, high.value] : ["", ""] })), { [field.key]: select.value });
      for (const e of [low, high, select]) e.addEventListener("change", send);
      return [low, "–", high, unit, field.keys.length > 1 ? select : null];
    }
    default:
      return [el("input", { ...common, class: field.kind === "text" ? "long" : null, inputmode: field.kind === "text" ? "text" : "decimal", value, placeholder: field.usual,
        onchange: e => set([{ key: field.key, value: e.target.value }]) }), unit];
  }
}

// arch is the arch of numbers from which the two teeth are picked. The first pick is the tooth
// to move, the second its anchor.
function arch(g, form, set) {
  const faults = form.faults.filter(f => f.key.startsWith("teeth"));
  const active = Number(form.values["teeth.active"]), anchor = Number(form.values["teeth.anchor"]);
  const pick = n => {
    if (n === active || !active || anchor) set([{ key: "teeth.active", value: String(n) }, { key: "teeth.anchor", value: "" }]);
    else set([{ key: "teeth.anchor", value: String(n) }]);
  };
  // One stop for Tab; the arrow keys go from tooth to tooth.
  const stop = g.teeth.some(t => t.number === active) ? active : g.teeth[0].number;
  const move = (from, by) => {
    const next = g.teeth[(g.teeth.findIndex(t => t.number === from) + by + g.teeth.length) % g.teeth.length];
    document.getElementById("tooth-" + next.number).focus();
  };
  const keys = (e, n) => {
    const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[e.key];
    if (by) { e.preventDefault(); move(n, by); }
    if (e.key === "Enter" || e.key === " ") { e.preventDefault(); pick(n); }
  };
  const circle = t => {
    const role = t.number === active ? "active" : t.number === anchor ? "anchor" : "";
    return svg("g", { tabindex: t.number === stop ? 0 : -1, role: "button", class: role, id: "tooth-" + t.number, "aria-pressed": role !== "", "aria-label": t.name + (role ? ", " + say(role + " tooth") : ""),
      onkeydown: e => keys(e, t.number) },
      svg("circle", { cx: t.x, cy: t.y, r: 8 }), svg("text", { x: t.x, y: t.y }, String(t.number)));
  };
  // A finger takes the nearest tooth within its reach (see stage.js).
  const clicked = e => {
    const at = new DOMPoint(e.clientX, e.clientY).matrixTransform(e.currentTarget.getScreenCTM().inverse());
    const away = t => Math.hypot(t.x - at.x, t.y - at.y);
    const near = [...g.teeth].sort((a, b) => away(a) - away(b))[0];
    if (away(near) <= 22 / e.currentTarget.getScreenCTM().a) { document.getElementById("tooth-" + near.number).focus(); pick(near.number); }
  };
  return el("fieldset", { "data-keys": "teeth teeth.active teeth.anchor" }, el("legend", {}, g.label),
    el("p", { class: "quiet" }, g.note),
    svg("svg", { class: "arch", viewBox: "-105 -98 210 196", role: "group", "aria-label": g.label, onclick: clicked }, g.teeth.map(circle)),
    el("p", { role: "status" }, form.teethText),
    faults.map(f => el("div", { class: "fault" }, el("b", {}, f.text), f.hint)));
}
