// Loads over the travel.

import { decimal, el, svg, points, say } from "./dom.js";

const width = 240, height = 104, left = 36, right = 6, top = 6, bottom = 18;

// chart draws {label, unit, text, travel: [mm left …], values, band: [low, high] | null}; an end of
// the band that is null is open. beside: {straight, low, high}, each a list like values or null, in
// the sense that c.sign gives them.
export function chart(c, hereMM, beside) {
  const sensed = list => list?.length === c.values.length ? list.map(v => c.sign * v) : null;
  const straight = sensed(beside?.straight);
  const [low, high] = c.sign > 0 ? [sensed(beside?.low), sensed(beside?.high)] : [sensed(beside?.high), sensed(beside?.low)];
  const from = Math.max(...c.travel), to = Math.min(...c.travel);
  const all = [...c.values, 0, ...(c.band ?? []).filter(Number.isFinite), ...(low ?? []), ...(high ?? [])];
  const least = Math.min(...all), most = Math.max(...all), span = most - least || 1;
  const x = t => left + (width - left - right) * (from === to ? 0 : (from - t) / (from - to));
  const y = v => top + (height - top - bottom) * (1 - (v - least) / span);
  const clamp = v => Math.min(most, Math.max(least, v));
  const line = list => list.map((v, i) => [x(c.travel[i]), y(v)]);
  const parts = [];
  if (c.band) {
    const b = [c.band[0] ?? least, c.band[1] ?? most].map(clamp);
    parts.push(svg("rect", { class: "band", x: left, width: width - left - right, y: y(b[1]), height: Math.max(1, y(b[0]) - y(b[1])) }));
  }
  if (low && high) parts.push(svg("polygon", { class: "hand", points: points([...line(low), ...line(high).reverse()]) }));
  parts.push(svg("line", { class: "axis", x1: left, x2: width - right, y1: y(0), y2: y(0) }));
  // The straight wire is often ten times as hard: what is beyond the chart is told in words.
  if (straight) {
    const clip = `clip-${c.key}`;
    parts.push(svg("clipPath", { id: clip }, svg("rect", { x: left, y: top, width: width - left - right, height: height - top - bottom })),
      svg("polyline", { class: "straight", "clip-path": `url(#${clip})`, points: points(line(straight)) }));
  }
  parts.push(svg("polyline", { class: "curve", points: points(line(c.values)) }));
  if (hereMM != null) parts.push(svg("line", { class: "here", x1: x(hereMM), x2: x(hereMM), y1: top, y2: height - bottom }));
  const digits = Math.abs(span) < 2 ? 2 : 1;
  parts.push(svg("text", { x: left - 3, y: y(most) + 7, "text-anchor": "end" }, decimal(most, digits)),
    svg("text", { x: left - 3, y: y(least), "text-anchor": "end" }, decimal(least, digits)),
    svg("text", { x: left, y: height - 5 }, decimal(from, 1)),
    svg("text", { x: width - right, y: height - 5, "text-anchor": "end" }, `${decimal(to, 1)} mm`));
  const ends = list => `${decimal(list[0], digits)} → ${decimal(list.at(-1), digits)} ${c.unit}`;
  return el("figure", {}, el("figcaption", {}, c.label, el("span", { class: "ends" }, ends(c.values))),
    svg("svg", { class: "chart", viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": `${c.text}: ${ends(c.values)}` }, parts),
    straight ? el("p", { class: "quiet ends" }, `${say("straight wire")} ${ends(straight)}`) : null);
}

// legend says what the charts show.
export function legend(handIsThere, straightIsThere) {
  const swatch = (kind, text) => el("span", { class: "swatch" }, svg("svg", { viewBox: "0 0 24 12", "aria-hidden": "true" },
    kind === "straight" || kind === "curve" ? svg("line", { class: kind, x1: 1, x2: 23, y1: 6, y2: 6 }) : svg("rect", { class: kind, x: 0, y: 0, width: 24, height: 12 })), text);
  return el("p", { class: "legend chart" }, swatch("curve", say("this spring")), swatch("band", say("wanted")),
    handIsThere ? swatch("hand", say("nine of ten bent springs")) : null, straightIsThere ? swatch("straight", say("straight wire")) : null);
}
