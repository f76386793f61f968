// The drawing of both teeth with the wire between them. Millimetres, y up; the server has turned
// everything to what is seen from the cheek.

import { svg, points } from "./dom.js";

// mouth draws what the server sends: {box: [x, y, width, height], shapes: [{class, points, closed}],
// letters: [{letter, at}]}.
export function mouth(data, ...more) {
  const [x, y, width, height] = data.box;
  return svg("svg", { viewBox: `${x} ${-y - height} ${width} ${height}`, role: "img", "aria-label": data.label },
    svg("g", { transform: "scale(1,-1)" },
      data.shapes.map(shape), more),
    data.letters.map(l => svg("g", {},
      svg("circle", { cx: l.at[0], cy: -l.at[1], r: 1.1, class: "slot" }),
      svg("text", { x: l.at[0], y: -l.at[1], "font-size": 1.5, "text-anchor": "middle", "dominant-baseline": "central" }, l.letter))));
}

function shape(s) {
  return svg(s.closed ? "polygon" : "polyline", { class: s.class, points: points(s.points) });
}

export function wire(list, kind) { return svg("polyline", { class: "wire " + (kind ?? ""), points: points(list) }); }

// handle is a spot that is dragged or moved by arrow keys. value is the number it holds, change
// gets the new one; turn is [degrees per step] of an angle about `about`, along the direction of a length.
export function handle(h, value, change) {
  const set = v => change(Math.min(h.max, Math.max(h.min, v)));
  const node = svg("circle", {
    class: "handle", cx: h.at[0], cy: h.at[1], r: h.angle ? 0.75 : 0.55, tabindex: 0, role: "slider",
    "aria-label": h.label, "aria-valuemin": h.min, "aria-valuemax": h.max, "aria-valuenow": value, "aria-valuetext": h.text, id: "handle-" + h.index,
  });
  node.addEventListener("keydown", e => {
    const steps = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 5, PageDown: -5 }[e.key];
    if (!steps) return;
    e.preventDefault();
    set(value + steps * h.step);
  });
  node.addEventListener("pointerdown", e => {
    e.preventDefault();
    node.focus();
    node.setPointerCapture(e.pointerId);
    node.classList.add("on");
    const stage = node.ownerSVGElement;
    const place = event => {
      const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(stage.getScreenCTM().inverse());
      return [at.x, -at.y];
    };
    const start = place(e), from = value;
    const polar = p => Math.atan2(p[1] - h.about[1], p[0] - h.about[0]);
    const move = event => {
      const at = place(event);
      if (h.angle) {
        let turned = (polar(at) - polar(start)) * 180 / Math.PI;
        turned = (turned + 540) % 360 - 180;
        set(snap(from + h.sense * turned, h.step));
      } else {
        set(snap(from + (at[0] - start[0]) * h.along[0] + (at[1] - start[1]) * h.along[1], h.step));
      }
    };
    node.addEventListener("pointermove", move);
    node.addEventListener("lostpointercapture", () => { node.removeEventListener("pointermove", move); change(null); }, { once: true });
  });
  return node;
}

function snap(v, step) { return Math.round(v / step) * step; }

// arrows are the loads on a tooth: forces as arrows, couples as arcs, their words beside them.
export function arrow(a) {
  const parts = [svg("polyline", { class: "arrow", points: points(a.points) })];
  parts.push(svg("polygon", { class: "arrow head", points: points(a.head) }));
  return svg("g", { "aria-label": a.text }, parts);
}
