// Loads over the travel.

import { decimal, el, svg, points } from "./dom.js";

const width = 240, height = 100, left = 34, right = 6, top = 6, bottom = 16;

// chart draws {label, unit, text, travel: [mm left …], values, band: [low, high] | null}; an end of the band that is null is open.
export function chart(c, hereMM) {
  const from = Math.max(...c.travel), to = Math.min(...c.travel);
  const all = [...c.values, 0, ...(c.band ?? []).filter(Number.isFinite)];
  const low = Math.min(...all), high = Math.max(...all), span = high - low || 1;
  const x = t => left + (width - left - right) * (from === to ? 0 : (from - t) / (from - to));
  const y = v => top + (height - top - bottom) * (1 - (v - low) / span);
  const clamp = v => Math.min(high, Math.max(low, v));
  const parts = [];
  if (c.band) {
    const b = [c.band[0] ?? low, c.band[1] ?? high].map(clamp);
    parts.push(svg("rect", { class: "band", x: left, width: width - left - right, y: y(b[1]), height: Math.max(1, y(b[0]) - y(b[1])) }));
  }
  parts.push(svg("line", { class: "axis", x1: left, x2: width - right, y1: y(0), y2: y(0) }));
  parts.push(svg("polyline", { class: "curve", points: points(c.values.map((v, i) => [x(c.travel[i]), y(v)])) }));
  if (hereMM != null) parts.push(svg("line", { class: "here", x1: x(hereMM), x2: x(hereMM), y1: top, y2: height - bottom }));
  const digits = Math.abs(span) < 2 ? 2 : 1;
  parts.push(svg("text", { x: left - 3, y: y(high) + 7, "text-anchor": "end" }, decimal(high, digits)),
    svg("text", { x: left - 3, y: y(low), "text-anchor": "end" }, decimal(low, digits)),
    svg("text", { x: left, y: height - 4 }, decimal(from, 1)),
    svg("text", { x: width - right, y: height - 4, "text-anchor": "end" }, `${decimal(to, 1)} mm`));
  return el("figure", {}, el("figcaption", {}, `${c.label} (${c.unit})`),
    svg("svg", { class: "chart", viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": c.text }, parts));
}
