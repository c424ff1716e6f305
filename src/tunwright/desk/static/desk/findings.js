// Findings, worst first; each opens to its working and source.

import { get } from "./api.js";
import { $, api, make, mark, ORDER, tally } from "./page.js";

export class Findings {
  #rows = new Map();

  /** reach(path): go to an input in the form. */
  constructor({ reach }) { this.reach = reach; this.keys = []; }

  show({ findings, counts, answer }) {
    $("answer").textContent = answer || "";
    this.keys = findings.map((one) => one.key);
    this.counts = counts;
    const sorted = [...findings].sort((a, b) => ORDER.indexOf(a.verdict) - ORDER.indexOf(b.verdict));
    const had = document.activeElement?.dataset?.key;
    const fresh = new Map(sorted.map((one) => [one.key, this.#row(one)]));
    this.#rows = fresh;
    $("findings").replaceChildren(...fresh.values());
    if (had) fresh.get(had)?.firstChild.focus({ preventScroll: true });
    this.waiting(false);
  }

  #row(one) {
    const known = one.verdict !== "open";
    const missing = one.missing?.length ? `missing: ${one.missing.join(", ")}` : "";
    return make("li", {}, make("button", { type: "button", class: `finding ${one.verdict}`, "data-key": one.key, onclick: () => this.open(one.key) },
      mark(one.verdict), make("span", { class: "what" }, one.question), make("span", { class: `word v-${one.verdict}` }, one.verdict),
      make("span", { class: "figures" }, make("b", {}, known ? one.value_shown : "–"), one.limit_shown ? make("small", {}, ` ${one.limit_shown}`) : null,
        missing || one.state ? make("span", { class: "more" }, ` · ${missing || one.state}`) : null),
      make("span", { class: "cure", hidden: !one.remedy }, this.#cure(one.remedy))));
  }

  #cure(remedy) {
    if (!remedy) return "";
    const words = typeof remedy === "string" ? remedy : remedy.words;
    const breaks = remedy.breaks?.length ? `; then fails: ${remedy.breaks.join(", ")}` : "";
    return `${words}${breaks}`;
  }

  remedies(found = {}) {
    for (const [key, row] of this.#rows) {
      const cure = row.querySelector(".cure");
      if (found[key]) { cure.hidden = false; cure.textContent = this.#cure(found[key]); }
    }
  }

  /** While the verdicts are being worked out anew they say so. */
  waiting(again) {
    for (const row of this.#rows.values()) row.firstChild.classList.toggle("again", again);
    $("findings").setAttribute("aria-busy", String(again));
    const told = $("tally");
    if (again) told.replaceChildren(make("span", { class: "busy" }, "being worked out anew …"));
    else told.replaceChildren(...tally(this.counts));
  }

  /** The finding a load under the wheels belongs to. */
  ofLoad(name) {
    const slug = name.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "");
    return [`group-${slug}`, `axle-${slug}`, slug].find((key) => this.keys.includes(key));
  }

  async open(key) {
    const box = $("working");
    box.replaceChildren(make("p", { class: "soft" }, "Fetching the working …"));
    if (!box.open) box.showModal();
    try {
      box.replaceChildren(...working(await get(`${api}/explain/${encodeURIComponent(key)}?text=draft`), { close: () => box.close(), reach: (path) => { box.close(); this.reach(path); } }));
      box.querySelector("button").focus();
    } catch (error) {
      box.replaceChildren(make("p", { class: "wrong" }, error.said || error.message), make("div", { class: "buttons" }, make("button", { type: "button", onclick: () => box.close() }, "Close")));
    }
  }
}

const figure = (value, unit) => {
  if (value === null || value === undefined) return "not known";
  const [number, sign] = unit === "share" ? [value * 100, "%"] : unit === "m" ? [value * 1000, "mm"] : [value, unit];
  const places = unit === "share" ? 1 : 0;
  return `${number.toFixed(places).replace(/\B(?=(\d{3})+(?!\d))/g, " ")} ${sign}`;
};
export const valueShown = (one) => one.value_shown || figure(one.value, one.unit);
export const limitShown = (one) => one.limit_shown || (one.limit === null ? "" : `${one.sense === "at_least" ? "≥" : "≤"} ${figure(one.limit, one.unit)}`);

export function ruleWords(rule) {
  return rule ? [rule.document, rule.clause, rule.edition, rule.mark].filter(Boolean).join(", ") : "";
}

export function stepsOf(one) {
  return make("ol", { class: "steps" }, (one.working || []).map((step) => make("li", {}, make("div", {},
    make("b", {}, step.what), step.formula ? make("code", {}, step.formula) : null, step.values ? make("code", {}, step.values) : null,
    make("span", { class: "gives" }, step.result), step.source ? make("small", {}, `  ${step.source}`) : null))));
}

export function working(one, { close, reach }) {
  const inputs = (title, paths) => (paths?.length ? make("section", {}, make("h3", {}, title), make("ul", {}, paths.map((path) => make("li", {}, make("button", { type: "button", class: "link", onclick: () => reach(path) }, path))))) : null);
  return [
    make("header", {}, make("h2", { id: "working-head" }, one.question), make("button", { type: "button", onclick: close }, "Close")),
    make("p", { class: `verdict v-${one.verdict}` }, mark(one.verdict), one.verdict),
    make("p", { class: "big" }, one.verdict === "open" ? "not known" : valueShown(one), make("small", {}, ` ${limitShown(one)}`)),
    one.state ? make("p", { class: "soft" }, one.state) : null,
    one.note ? make("p", {}, one.note) : null,
    one.working?.length ? stepsOf(one) : null,
    make("section", {}, make("h3", {}, "Limit from"), make("p", {}, ruleWords(one.rule))),
    one.remedy ? make("section", {}, make("h3", {}, "What would make it hold"), make("p", {}, one.remedy.words || one.remedy),
      one.remedy.breaks?.length ? make("p", { class: "v-fails" }, `then fails: ${one.remedy.breaks.join(", ")}`) : null,
      one.remedy.cures?.length ? make("p", {}, `then holds too: ${one.remedy.cures.join(", ")}`) : null) : null,
    inputs("Missing", one.missing), inputs("Rests on assumed", one.assumed),
  ].filter(Boolean);
}
