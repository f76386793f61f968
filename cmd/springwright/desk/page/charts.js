// Loads over the travel.

import { decimal, el, points, say, set, svg } from "./dom.js";

const width = 240, height = 104, left = 36, right = 6, top = 6, bottom = 18;

// chart is {node, update(c, hereMM, beside)}: what changes is put into a drawing that stays, as a drag has
// a frame's time for all of them. c is {key, sign, label, unit, text, travel: [mm left …], values, band:
// [low, high] | null}; an end of the band that is null is open. beside: {straight, low, high}, each a list
// like values or null, in the sense that c.sign gives them.
export function chart(key) {
  const clip = `clip-${key}`;
  const parts = {
    band: svg("rect", { class: "band", x: left, width: width - left - right }),
    hand: svg("polygon", { class: "hand" }),
    axis: svg("line", { class: "axis", x1: left, x2: width - right }),
    // The straight wire is often ten times as hard: what is beyond the chart is told in words.
    straight: svg("polyline", { class: "straight", "clip-path": `url(#${clip})` }),
    curve: svg("polyline", { class: "curve" }),
    here: svg("line", { class: "here", y1: top, y2: height - bottom }),
    most: svg("text", { x: left - 3, "text-anchor": "end" }), least: svg("text", { x: left - 3, "text-anchor": "end" }),
    from: svg("text", { x: left, y: height - 5 }), to: svg("text", { x: width - right, y: height - 5, "text-anchor": "end" }),
  };
  const drawing = svg("svg", { class: "chart", viewBox: `0 0 ${width} ${height}`, role: "img" },
    svg("clipPath", { id: clip }, svg("rect", { x: left, y: top, width: width - left - right, height: height - top - bottom })), Object.values(parts));
  const name = el("span"), own = el("span", { class: "ends" }), other = el("p", { class: "quiet ends" });
  const node = el("figure", {}, el("figcaption", {}, name, own), drawing, other);
  const seen = (part, there) => part.toggleAttribute("hidden", !there);

  function update(c, hereMM, beside) {
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
    const digits = Math.abs(span) < 2 ? 2 : 1;
    const ends = list => `${decimal(list[0], digits)} → ${decimal(list.at(-1), digits)} ${c.unit}`;

    seen(parts.band, c.band);
    if (c.band) {
      const b = [c.band[0] ?? least, c.band[1] ?? most].map(clamp);
      set(parts.band, { y: y(b[1]), height: Math.max(1, y(b[0]) - y(b[1])) });
    }
    seen(parts.hand, low && high);
    if (low && high) set(parts.hand, { points: points([...line(low), ...line(high).reverse()]) });
    seen(parts.straight, straight);
    if (straight) set(parts.straight, { points: points(line(straight)) });
    set(parts.axis, { y1: y(0), y2: y(0) });
    set(parts.curve, { points: points(line(c.values)) });
    set(parts.here, { x1: x(hereMM), x2: x(hereMM) });
    set(parts.most, { y: y(most) + 7 });
    set(parts.least, { y: y(least) });
    parts.most.textContent = decimal(most, digits);
    parts.least.textContent = decimal(least, digits);
    parts.from.textContent = decimal(from, 1);
    parts.to.textContent = `${decimal(to, 1)} mm`;
    name.textContent = c.label;
    own.textContent = ends(c.values);
    other.textContent = straight ? `${say("straight wire")} ${ends(straight)}` : "";
    seen(other, straight);
    set(drawing, { "aria-label": `${c.text}: ${ends(c.values)}` });
  }
  return { node, update };
}

// legend says what the charts show; hand and own name the band of a hand's springs and the curve.
export function legend(handIsThere, straightIsThere, hand = say("nine of ten bent springs"), own = say("this spring")) {
  const swatch = (kind, text) => el("span", { class: "swatch" }, svg("svg", { viewBox: "0 0 24 12", "aria-hidden": "true" },
    kind === "straight" || kind === "curve" ? svg("line", { class: kind, x1: 1, x2: 23, y1: 6, y2: 6 }) : svg("rect", { class: kind, x: 0, y: 0, width: 24, height: 12 })), text);
  return el("p", { class: "legend chart" }, swatch("curve", own), swatch("band", say("wanted")),
    handIsThere ? swatch("hand", hand) : null, straightIsThere ? swatch("straight", say("straight wire")) : null);
}
