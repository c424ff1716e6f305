// Findings, worst first; each opens to its working and source.

import { get } from "./api.js";
import { known, nameOf } from "./names.js";
import { $, api, firm, make, mark, ORDER, tally } from "./page.js";

export class Findings {
  #rows = new Map();
  #found = new Map();

  /** reach(path): go to an input in the form. */
  constructor({ reach }) { this.reach = reach; this.keys = []; }

  /** The first findings, those that take no model of the frame; what was known of the rest stays and waits. */
  first(findings) {
    const fresh = new Set(findings.map((one) => one.key));
    const rest = [...this.#found.values()].filter((one) => !fresh.has(one.key));
    this.#list([...findings, ...rest]);
    this.waiting(true, "the frame is being worked out anew …");
    for (const one of findings) this.#rows.get(one.key).firstChild.classList.remove("again");
  }

  show({ findings, counts, answer }) {
    $("answer").textContent = firm(answer || "");
    this.counts = counts;
    this.#list(findings);
    this.waiting(false);
  }

  #list(findings) {
    this.keys = findings.map((one) => one.key);
    this.#found = new Map(findings.map((one) => [one.key, one]));
    const sorted = [...findings].sort((a, b) => ORDER.indexOf(a.verdict) - ORDER.indexOf(b.verdict));
    const had = document.activeElement?.dataset?.key;
    const fresh = new Map(sorted.map((one) => [one.key, this.#row(one)]));
    this.#rows = fresh;
    $("findings").replaceChildren(...fresh.values());
    if (had) fresh.get(had)?.firstChild.focus({ preventScroll: true });
  }

  #row(one) {
    const missing = missingWords(one);
    return make("li", {}, make("button", { type: "button", class: `finding ${one.verdict}`, "data-key": one.key, onclick: () => this.open(one.key) },
      mark(one.verdict), make("span", { class: "what" }, one.question), make("span", { class: `word v-${one.verdict}` }, one.verdict),
      make("span", { class: "figures" }, make("b", {}, one.verdict === "open" ? "–" : one.value_shown), one.limit_shown ? make("small", {}, ` ${one.limit_shown}`) : null,
        missing || one.state || one.note ? make("span", { class: "more" }, one.note || ` · ${missing || one.state}`) : null),
      make("span", { class: "cure", hidden: !one.remedy }, this.#cure(one.remedy))));
  }

  #cure(remedy) { return remedy ? firm(cureWords(remedy, this.#found)) : ""; }

  remedies(found = {}) {
    for (const [key, row] of this.#rows) {
      const cure = row.querySelector(".cure");
      if (found[key]) { cure.hidden = false; cure.textContent = this.#cure(found[key]); }
    }
  }

  /** While the verdicts are being worked out anew they say so. */
  waiting(again, words = "being worked out anew …") {
    for (const row of this.#rows.values()) row.firstChild.classList.toggle("again", again);
    $("findings").setAttribute("aria-busy", String(again));
    const told = $("tally");
    if (again) told.replaceChildren(make("span", { class: "busy" }, words));
    else told.replaceChildren(...tally(this.counts));
  }

  /** No verdicts for now, and why. */
  stopped(words) {
    this.waiting(false);
    for (const row of this.#rows.values()) row.firstChild.classList.add("again");
    $("answer").textContent = words;
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
      const told = { ...(await get(`${api}/explain/${encodeURIComponent(key)}?text=draft`)), shown: this.#found.get(key) };
      box.replaceChildren(...working(told, { close: () => box.close(), reach: (path) => { box.close(); this.reach(path); }, found: this.#found }));
      box.querySelector("button").focus();
    } catch (error) {
      box.replaceChildren(make("p", { class: "wrong" }, error.said || error.message), make("div", { class: "buttons" }, make("button", { type: "button", onclick: () => box.close() }, "Close")));
    }
  }
}

/** The questions of other findings. */
const asked = (keys, found) => keys.map((key) => `“${found.get(key)?.question ?? key.replace(/-/g, " ")}”`).join(", ");

/** What to do, and what then fails. */
export function cureWords(remedy, found) {
  const words = remedy.words ?? remedy;
  return remedy.breaks?.length ? `${words}; then fails: ${asked(remedy.breaks, found)}` : words;
}

export const missingWords = (one) => (one.missing?.length ? `missing: ${one.missing.map(nameOf).join("; ")}` : "");

export function ruleWords(rule) {
  return rule ? [rule.document, rule.clause, rule.edition, rule.mark].filter(Boolean).join(", ") : "";
}

export function stepsOf(one) {
  return make("ol", { class: "steps" }, (one.working || []).map((step) => make("li", {}, make("div", {},
    make("b", {}, step.what), step.formula ? make("code", {}, step.formula) : null, step.values ? make("code", {}, step.values) : null,
    make("span", { class: "gives" }, step.result), step.source ? make("small", {}, `  ${step.source}`) : null))));
}

/** Inputs in words, each leading to its place in the form. */
function inputs(title, paths, reach) {
  if (!paths?.length) return null;
  const way = (path) => (known(path) ? make("button", { type: "button", class: "link", title: path, onclick: () => reach(path) }, nameOf(path)) : path);
  return make("section", {}, make("h3", {}, title), make("ul", {}, paths.map((path) => make("li", {}, way(path)))));
}

function remedySection(remedy, found) {
  return make("section", {}, make("h3", {}, "What would make it hold"), make("p", {}, remedy.words ?? remedy),
    remedy.breaks?.length ? make("p", { class: "v-fails" }, `Then fails: ${asked(remedy.breaks, found)}`) : null,
    remedy.cures?.length ? make("p", {}, `Then holds too: ${asked(remedy.cures, found)}`) : null);
}

export function working(one, { close, reach, found }) {
  const { value_shown: value, limit_shown: limit } = one.shown ?? {};
  return [
    make("header", {}, make("h2", { id: "working-head" }, one.question), make("button", { type: "button", onclick: close }, "Close")),
    make("p", { class: `verdict v-${one.verdict}` }, mark(one.verdict), one.verdict),
    make("p", { class: "big" }, one.verdict === "open" ? "not known" : value || "", make("small", {}, limit || "")),
    one.state ? make("p", { class: "soft" }, one.state) : null,
    one.note ? make("p", {}, one.note) : null,
    one.working?.length ? stepsOf(one) : null,
    make("section", {}, make("h3", {}, "Limit from"), make("p", {}, ruleWords(one.rule))),
    one.remedy ? remedySection(one.remedy, found) : null,
    inputs("Missing", one.missing, reach), inputs("Rests on assumed", one.assumed, reach),
  ].filter(Boolean);
}
