// Visits: what became of both teeth so far, of a folder that has a history of its case.

import { el, put, say } from "./dom.js";
import { ask } from "./api.js";
import { by, desk } from "./state.js";
import { refused } from "./desk.js";

export async function visits() {
  const asked = desk.file + desk.lang;
  if (desk.visits?.asked !== asked) {
    desk.visits = { asked };
    put(by("visits"), el("h2", {}, say("step visits")), el("p", { role: "status" }, say("reckoning")));
    try { desk.visits.told = await ask("visits", { lang: desk.lang }); } catch (e) { desk.visits = null; put(by("visits"), el("h2", {}, say("step visits"))); refused(e); return; }
  }
  const t = desk.visits?.told;
  if (!t || desk.visits.asked !== asked || desk.step !== "visits") return;
  put(by("visits"), el("h2", {}, say("step visits")), el("p", { class: "headline", id: "advice" }, t.headline), t.lines.map(l => el("p", {}, l)),
    t.tables.map((x, i) => [el("h3", {}, x.title), x.note ? el("p", { class: "quiet" }, x.note) : null, el("div", { class: "wide", tabindex: 0, role: "region", "aria-label": x.title },
      el("table", { id: "visits-" + i }, el("thead", {}, el("tr", {}, x.rows[0].map(c => el("th", { scope: "col" }, c)))), el("tbody", {}, x.rows.slice(1).map(r => el("tr", {}, r.map(c => el("td", {}, c)))))))]));
  put(by("drawing"), el("img", { class: "page", alt: t.label, src: URL.createObjectURL(new Blob([t.page], { type: "image/svg+xml" })) }));
  put(by("beside"));
}
