// The drawing of both teeth with the wire between them. Millimetres, y up; the server has turned
// everything to what is seen from the cheek.

import { svg, points, say } from "./dom.js";

// mouth draws what the server sends: {box: [x, y, width, height], shapes: [{class, points, closed}],
// letters and teeth: [{letter, at}]}. more is drawn over it, in the same millimetres.
export function mouth(data, ...more) {
  return svg("svg", { viewBox: viewBox(data.box), role: "img", "aria-label": data.label },
    svg("g", { transform: "scale(1,-1)" }, data.shapes.map(shape), more), signs(data));
}

export function viewBox([x, y, width, height]) { return `${x} ${-y - height} ${width} ${height}`; }

export function shape(s) {
  if (s.class === "tooth") return svg("path", { class: s.class, d: smooth(s.points) });
  return svg(s.closed ? "polygon" : "polyline", { class: s.class, points: points(s.points) });
}

// smooth goes round the corners of an outline.
function smooth(list) {
  const middle = (a, b) => `${((a[0] + b[0]) / 2).toFixed(2)} ${((a[1] + b[1]) / 2).toFixed(2)}`;
  const parts = list.map((p, i) => `Q${p[0].toFixed(2)} ${p[1].toFixed(2)} ${middle(p, list[(i + 1) % list.length])}`);
  return `M${middle(list.at(-1), list[0])}${parts.join("")}Z`;
}

// signs are the numbers of the teeth and the letters of the measuring sheet.
export function signs(data) {
  return [data.teeth.map(t => words(t.letter, t.at, 2, "number")),
    data.letters.map(l => svg("g", {}, svg("circle", { cx: l.at[0], cy: -l.at[1], r: 1.1, class: "slot" }), words(l.letter, l.at, 1.5)))];
}

export function words(text, at, size, kind) {
  return svg("text", { class: kind, x: at[0], y: -at[1], "font-size": size, "text-anchor": "middle", "dominant-baseline": "central" }, text);
}

export function wire(list, kind) { return svg("polyline", { class: "wire " + (kind ?? ""), points: points(list) }); }

// arrow is a load on a tooth: a force, or an arc for a couple.
export function arrow(a) {
  return svg("g", {}, svg("polyline", { class: "arrow", points: points(a.points) }), svg("polygon", { class: "arrow head", points: points(a.head) }));
}

// trueSize draws a spring as large as it is, for a screen that shows a millimetre as perMM of its own,
// over a bar of 10 mm.
export function trueSize(list, perMM) {
  const xs = list.map(p => p[0]), ys = list.map(p => p[1]);
  const x = Math.min(...xs) - 1, top = Math.max(...ys) + 1, bottom = Math.min(...ys) - 3;
  const width = Math.max(Math.max(...xs) - x + 1, 12), height = top - bottom;
  return svg("svg", { viewBox: `${x} ${-top} ${width} ${height}`, width: `${width * perMM}mm`, height: `${height * perMM}mm`, role: "img", "aria-label": say("true size"), class: "true" },
    svg("g", { transform: "scale(1,-1)" }, svg("polyline", { class: "wire", points: points(list) }),
      svg("path", { class: "bar", d: `M${x + 1} ${bottom + 1.6} v-.8 h10 v.8` })));
}
