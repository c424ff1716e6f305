// All findings on one page, for reading and for print.

import { get, post } from "./api.js";
import { cureWords, missingWords, ruleWords, stepsOf } from "./findings.js";
import { learn, nameOf } from "./names.js";
import { $, api, firm, make, mark, notice, ORDER, tally } from "./page.js";

const told = new Map();

function block(one, remedy, found) {
  const body = make("div", { class: "finding-body" }, make("p", {}, one.verdict === "open" ? "not known" : make("b", {}, one.value_shown),
    make("small", {}, ` ${one.limit_shown}`), one.state ? ` · ${one.state}` : ""));
  if (one.missing?.length) body.append(make("p", {}, missingWords(one)));
  if (remedy) body.append(make("p", { class: "cure" }, cureWords(remedy, found)));
  const more = make("div", { class: "more" });
  body.append(more);
  return make("article", { class: `finding-block ${one.verdict}`, "data-key": one.key },
    make("div", { class: "finding-head" }, mark(one.verdict), make("h2", {}, one.question), make("span", { class: `verdict v-${one.verdict}` }, one.verdict)), body);
}

async function workings() {
  const wanted = $("with-working").checked;
  for (const article of document.querySelectorAll(".finding-block")) {
    const more = article.querySelector(".more");
    if (!wanted || article.hidden) { more.replaceChildren(); continue; }
    const { key } = article.dataset;
    if (!told.has(key)) told.set(key, await get(`${api}/explain/${encodeURIComponent(key)}?text=draft`).catch(() => null));
    const one = told.get(key);
    if (one && $("with-working").checked) more.replaceChildren(stepsOf(one), make("p", { class: "soft" }, `Limit from: ${ruleWords(one.rule)}`), one.assumed?.length ? make("p", { class: "soft" }, `Rests on assumed: ${one.assumed.map(nameOf).join("; ")}`) : "");
  }
}

function choose() {
  for (const one of document.querySelectorAll(".finding-block.holds")) one.hidden = !$("all").checked;
  workings();
}

try {
  learn((await get(`${api}/form`)).parts);
  const got = await post(`${api}/look`, { changes: [], state: { fill: 1, grade: 0, braking: 0, slope: 0, crew: true }, parts: ["findings", "remedies", "window"] });
  if (got.problems?.length) {
    $("answer").textContent = "The draft does not read yet.";
    $("findings").append(make("ol", {}, got.problems.map((one) => make("li", {}, `${one.line ? `line ${one.line}: ` : ""}${one.path} ${one.message}`))));
  } else {
    $("answer").textContent = firm(got.answer);
    $("tally").append(...tally(got.counts));
    const sorted = [...got.findings].sort((a, b) => ORDER.indexOf(a.verdict) - ORDER.indexOf(b.verdict));
    const found = new Map(sorted.map((one) => [one.key, one]));
    $("findings").append(...sorted.map((one) => block(one, got.remedies?.[one.key] || one.remedy, found)));
    $("assumed-head").hidden = !got.assumed?.length;
    $("assumed").append(...(got.assumed || []).map((path) => make("li", { title: path }, nameOf(path))));
  }
  $("findings").removeAttribute("aria-busy");
} catch (error) { notice("failed", error.said || error.message, [], true); }
$("all").addEventListener("change", choose);
$("with-working").addEventListener("change", choose);
$("print").addEventListener("click", () => window.print());
