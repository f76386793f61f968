// The spring with its handles. The drawing stays, so that a finger that holds a handle keeps it: what
// changes is put into it.

import { el, put, set, svg, points } from "./dom.js";
import { arrow, shape, signs, viewBox, wire, words } from "./drawing.js";

// A handle is taken hold of within so many pixels of the screen, half of what a fingertip covers
// (WCAG 2.2, 2.5.5: 44 px); where handles lie closer, the nearest one is taken.
const reachPX = 22;

// stage draws what the server answers to "live"; change(handle, value) gets a new number, change(handle,
// null) ends a drag.
// picked(index) is told which one has the focus.
export function stage(change, picked) {
  const under = svg("g"), wires = svg("g"), arrows = svg("g"), handles = svg("g"), texts = svg("g");
  const node = svg("svg", { class: "stage", role: "group" }, svg("g", { transform: "scale(1,-1)" }, under, wires, arrows, handles), texts);
  let held = null, known = []; // {h, dot, hit}

  const place = e => {
    const at = new DOMPoint(e.clientX, e.clientY).matrixTransform(node.getScreenCTM().inverse());
    return [at.x, -at.y];
  };
  const nearest = at => {
    const reach = reachPX / node.getScreenCTM().a;
    const away = k => Math.hypot(k.h.at[0] - at[0], k.h.at[1] - at[1]);
    const near = known.filter(k => k.h && away(k) <= reach).sort((a, b) => away(a) - away(b));
    return near[0];
  };
  handles.addEventListener("pointerdown", e => {
    const start = place(e), one = nearest(start);
    if (!one || held) return;
    e.preventDefault();
    one.dot.focus();
    one.dot.classList.add("on");
    handles.setPointerCapture(e.pointerId);
    held = { one, start, from: one.h.value, h: one.h, id: e.pointerId };
  });
  handles.addEventListener("pointermove", e => {
    if (!held || e.pointerId !== held.id) return;
    const { h, start, from } = held, at = place(e);
    if (h.angle) {
      const polar = p => Math.atan2(p[1] - h.about[1], p[0] - h.about[0]);
      const turned = ((polar(at) - polar(start)) * 180 / Math.PI + 540) % 360 - 180;
      move(h, from + h.sense * turned);
    } else move(h, from + (at[0] - start[0]) * h.along[0] + (at[1] - start[1]) * h.along[1]);
  });
  handles.addEventListener("lostpointercapture", () => {
    if (!held) return;
    const { one, h } = held;
    held = null;
    one.dot.classList.remove("on");
    change(h, null);
  });
  const move = (h, v) => change(h, clamp(h, Math.round(v / h.step) * h.step));
  const clamp = (h, v) => Math.min(h.max, Math.max(h.min, v));

  function keys(e, one) {
    const h = one.h, steps = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 5, PageDown: -5 }[e.key];
    if (!steps || !h) return;
    e.preventDefault();
    change(h, clamp(h, one.value + steps * h.step));
    one.value = clamp(h, one.value + steps * h.step); // the next key counts from here, before an answer comes
  }

  function fresh(index) {
    const one = { h: null, value: 0 };
    one.hit = svg("circle", { class: "hit" });
    one.dot = svg("circle", { class: "handle", tabindex: 0, role: "slider", id: "handle-" + index });
    one.title = svg("title");
    one.dot.append(one.title);
    one.dot.addEventListener("keydown", e => keys(e, one));
    one.dot.addEventListener("focus", () => picked(one.h?.index));
    return one;
  }

  function update(l) {
    const box = viewBox(l.mouth.box);
    if (!held && node.getAttribute("viewBox") !== box) set(node, { viewBox: box, "aria-label": l.mouth.label });
    const reach = reachPX / (node.getScreenCTM()?.a || 20); // asked before anything is moved: later it would lay out the page twice
    put(under, l.mouth.shapes.map(shape));
    put(wires, wire(l.passive, "free"), wire(l.seated));
    put(arrows, l.arrows.map(arrow));
    put(texts, signs(l.mouth), l.arrows.map(a => a.at ? words(a.text, a.at, 1.3, "load") : null).filter(Boolean));
    const seen = l.handles.filter(h => h.at);
    if (known.length !== seen.length) {
      known = seen.map(h => fresh(h.index));
      put(handles, known.map(k => k.hit), known.map(k => k.dot));
    }
    seen.forEach((h, i) => {
      const one = known[i];
      Object.assign(one, { h, value: h.value });
      one.title.textContent = `${h.label}: ${h.text}${h.way ? ", " + h.way : ""}`;
      set(one.hit, { cx: h.at[0], cy: h.at[1], r: reach });
      set(one.dot, { cx: h.at[0], cy: h.at[1], r: h.angle ? 0.75 : 0.55, id: "handle-" + h.index, "aria-label": h.label, "aria-valuemin": h.min, "aria-valuemax": h.max, "aria-valuenow": h.value, "aria-valuetext": h.text + (h.way ? ", " + h.way : "") });
    });
  }
  return { node, update, holds: () => held !== null };
}
