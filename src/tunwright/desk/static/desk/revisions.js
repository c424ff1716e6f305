// Revisions: what was saved when and why, and what differs between two of them.

import { call, get, put } from "./api.js";
import { $, api, make, mark, notice, slug, when } from "./page.js";

const NEAR = 3;

function row(one, newest) {
  const summary = one.summary || {};
  return make("tr", {}, make("td", {}, make("b", {}, String(one.number)), one.number === newest ? " newest" : ""),
    make("td", {}, `${when(one.created)} `, make("span", { class: "soft" }, one.author)),
    make("td", {}, one.note || make("span", { class: "soft" }, "no note")),
    make("td", {}, summary.verdict ? make("span", { class: `verdict v-${summary.verdict}` }, mark(summary.verdict), summary.verdict) : ""),
    make("td", {}, make("span", { class: "hash", title: one.sha256 }, one.sha256.slice(0, 12))),
    make("td", {}, make("div", { class: "buttons" },
      make("a", { class: "button", href: `${api}/revisions/${one.number}/text`, download: `${slug}-r${one.number}.toml`, "aria-label": `Download the text of revision ${one.number}` }, "Text"),
      make("button", { type: "button", "aria-label": `Take revision ${one.number} as the draft`, onclick: () => restore(one.number) }, "As draft"))));
}

async function restore(number) {
  try {
    const text = await call("GET", `${api}/revisions/${number}/text`);
    const draft = await get(`${api}/draft`);
    await put(`${api}/draft`, { text, version: draft.version });
    notice("restored", `The draft now reads as revision ${number}. Going back is a matter of Undo on the bench.`, [["To the bench", () => { location.href = `/b/${slug}/`; }]]);
    remember(draft.text, text, number);
    await compare();
  } catch (error) { notice("restored", error.said || error.message, [], true); }
}

/** So that Undo on the bench finds what stood in the draft before. */
function remember(before, after, number) {
  const past = [{ text: before, label: "the draft as it was" }, { text: after, label: `revision ${number} as draft` }];
  try { sessionStorage.setItem(`past of ${slug}`, JSON.stringify({ past, at: 1 })); } catch { /* only forgotten */ }
}

function lines(text) {
  const near = (i) => text.slice(Math.max(0, i - NEAR), i + NEAR + 1).some((one) => one.op === "+" || one.op === "-");
  const rows = [];
  let gap = false;
  text.forEach((one, i) => {
    if (!near(i) || one.op === "…") { if (!gap) rows.push(make("tr", { class: "gap" }, make("td", { class: "at" }, "…"), make("td", { colspan: "3" }))); gap = true; return; }
    gap = false;
    const sort = { "+": "in", "-": "out" }[one.op] || "";
    rows.push(make("tr", { class: sort }, make("td", { class: "at" }, String(one.from ?? "")), make("td", { class: "at" }, String(one.to ?? "")), make("td", {}, one.op.trim() ? make("span", { "aria-label": sort === "in" ? "added" : "taken out" }, one.op) : ""), make("td", { class: "words" }, document.createTextNode(one.line))));
  });
  return make("table", {}, make("tbody", {}, rows));
}

function figures(found) {
  if (!found?.length) return make("p", { class: "soft" }, "No figure changes.");
  return make("table", {}, make("thead", {}, make("tr", {}, make("th", {}, "figure"), make("th", { class: "number" }, "from"), make("th", { class: "number" }, "to"))),
    make("tbody", {}, found.map((one) => make("tr", {}, make("td", {}, one.what), make("td", { class: "number" }, one.from ?? "–"), make("td", { class: "number" }, make("b", {}, one.to ?? "–"))))));
}

async function compare() {
  const [from, to] = [$("from").value, $("to").value];
  if (!from) return;
  try {
    const got = await get(`${api}/diff?from=${from}&to=${to}`);
    const changed = got.text.some((one) => one.op === "+" || one.op === "-");
    $("diff").replaceChildren(changed ? lines(got.text) : make("p", { class: "soft" }, "The two texts are the same."));
    $("figures").replaceChildren(figures(got.figures));
  } catch (error) { $("diff").replaceChildren(make("p", { class: "wrong" }, error.said || error.message)); }
}

try {
  const got = await get(api);
  const all = [...got.revisions].sort((a, b) => b.number - a.number);
  $("revisions").replaceChildren(...(all.length ? all.map((one) => row(one, all[0].number)) : [make("tr", {}, make("td", { colspan: "6" }, "No revision yet. Save one on the bench."))]));
  const option = (one) => make("option", { value: one.number }, `revision ${one.number}`);
  $("from").append(...all.map(option));
  $("to").append(make("option", { value: "draft" }, "the draft"), ...all.map(option));
  const asked = new URLSearchParams(location.search);
  if (asked.get("from")) $("from").value = asked.get("from");
  if (asked.get("to")) $("to").value = asked.get("to");
  else if (!got.draft?.changed && all.length > 1) { $("from").value = String(all[1].number); $("to").value = String(all[0].number); }
  $("from").addEventListener("change", compare);
  $("to").addEventListener("change", compare);
  $("revisions").removeAttribute("aria-busy");
  await compare();
} catch (error) { notice("failed", error.said || error.message, [], true); }
