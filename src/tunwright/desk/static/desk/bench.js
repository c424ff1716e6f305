// The bench: form, drawing, findings and text, all at one draft.

import { get, post } from "./api.js";
import { Charts } from "./charts.js";
import { Draft } from "./draft.js";
import { Editor } from "./editor.js";
import { Findings } from "./findings.js";
import { Form, ORIGINS, originMark } from "./form.js";
import { Hands } from "./hands.js";
import { Looks } from "./looks.js";
import { $, api, make, notice, say, tabs, when } from "./page.js";
import { Revise } from "./revise.js";
import { State } from "./state.js";
import { View } from "./view.js";
import { watch } from "./watch.js";

const draft = new Draft();
const side = new View($("side"), { outgrown: () => looks.ask({ judge: false }) });
const rear = new View($("rear"), { follow: side });
const state = new State((id) => { if (id === "fill") charts.now(); looks.ask({ judge: false }); });
const charts = new Charts(() => state.fill);
const form = new Form($("form"), { attempt: (changes) => looks.ask({ changes }), keep });
const findings = new Findings({ reach: (path) => form.reach(path) });
const editor = new Editor({ keep: (text) => draft.put(text, "text edited").catch(() => {}) });
const hands = new Hands(side, { value: (path) => form.value(path), attempt: (changes, tag) => looks.ask({ changes, tag }), settled: () => looks.settled(), keep });
const looks = new Looks({ show, state: () => ({ ...state.read(), scale: side.scale }), waiting: (again) => findings.waiting(again), lost: () => findings.stopped("No verdicts for what is drawn: the desk did not answer."), failed });

let unwritten = null;
async function keep(changes, label) {
  unwritten = { changes, label };
  try {
    const got = await draft.set(changes, label);
    unwritten = null;
    if (got.problems?.length) form.wrong(got.problems);
  } catch (error) {
    if (error.problems?.length) form.wrong(error.problems);
    looks.ask();
  }
}

function failed(error) {
  notice("failed", error.said || error.message, [["Try again", () => { notice("failed", ""); looks.ask(); }]], true);
}

function show(got, parts, wish) {
  if (parts.includes("side")) problems(got.problems || [], wish);
  if (got.problems?.length) return;
  if (parts.includes("side")) standsIn = false;
  if (got.side) { side.show(got.side.svg ?? got.side); hands.drawn(wish?.tag); hands.place(); }
  if (got.rear) rear.show(got.rear.svg ?? got.rear);
  if (got.loads) loads(got.loads, got.state_words);
  if (got.first) findings.first(got.first);
  if (got.findings) findings.show(got);
  if (got.remedies) findings.remedies(got.remedies);
  if (got.window) plain(got);
  if (got.charts) charts.show(got.charts);
  if (got.frame) charts.frame(got.frame);
}

function problems(found, wish) {
  if (found.length && wish.tag) { hands.refused(found[0], wish.tag); return; }
  form.wrong(found);
  editor.wrong(found);
  for (const view of [side, rear]) view.place.classList.toggle("old", found.length > 0);
  if (found.length && !side.svg) standIn().catch(failed);
  if (wish.changes.length) return;
  const count = found.length === 1 ? "one thing" : `${found.length} things`;
  const drawn = standsIn ? `Drawn is revision ${draft.base}` : "The drawing is the last that could be made";
  notice("broken", found.length ? `The draft does not read yet: ${count} to mend. ${drawn}; the text is kept.` : "");
  if (found.length) findings.stopped(`No verdicts while the draft does not read: ${count} to mend in the text.`);
}

/** A draft that was never drawn here, because it does not read: the revision it began with stands in. */
let standsIn = false;
async function standIn() {
  standsIn = true;
  $("tab-text").click();
  const text = await get(`${api}/revisions/${draft.base}/text`);
  const got = await post(`${api}/look`, { text, state: state.read(), parts: ["side", "rear", "loads"] });
  if (!standsIn || got.problems?.length) return;
  show(got, []);
  for (const view of [side, rear]) view.place.classList.add("old");
}

function loads(got, words) {
  const under = got.supports || got.groups || got.axles;
  state.words(got.water || (got.water_l !== undefined ? `${Math.round(got.water_l)} L` : ""));
  const told = under.map((one) => `${one.name} ${one.shown}${one.limit_shown ? ` of ${one.limit_shown}` : ""}`);
  $("loads-told").textContent = `${words || ""}: ${told.join("; ")}${got.gross ? `; all ${got.gross.shown} of ${got.gross.limit_shown}` : ""}.`;
  $("feet").replaceChildren(...[...under, got.gross].filter(Boolean).map((one) => {
    const bar = make("i");
    bar.style.setProperty("--part", `${Math.min(100, 100 * (one.part || 0)).toFixed(1)}%`);
    return make("div", { class: `foot${one.part > 1 ? " over" : ""}` }, make("div", { class: "bar" }, bar), make("b", {}, one.shown), make("span", {}, `${one.name}${one.limit_shown ? `, of ${one.limit_shown}` : ""}`));
  }));
}

function plain(got) {
  const rows = [["window", got.window?.words], ["fill limit", got.fill_limit?.words], ["volumes", got.volumes && Object.entries(got.volumes).map(([name, shown]) => `${name.replace(/_/g, " ")} ${typeof shown === "number" ? `${Math.round(shown)} L` : shown}`).join(", ")]];
  $("plain").replaceChildren(...rows.filter(([, words]) => words).map(([name, words]) => make("div", {}, make("dt", {}, name), make("dd", {}, words))));
}

// the draft and what is said about it

function saved() {
  $("saved").textContent = draft.busy ? "saving …" : `draft saved${draft.updated ? ` ${when(draft.updated)}` : ""}${draft.base ? `, on revision ${draft.base}` : ""}`;
  $("undo").disabled = !draft.undoable;
  $("redo").disabled = !draft.redoable;
  $("undo").title = draft.undoable ? `take back: ${draft.past[draft.at].label}` : "";
  $("redo").title = draft.redoable ? `do again: ${draft.past[draft.at + 1].label}` : "";
}

let formNumber = 0;
async function renew() {
  formNumber += 1;
  const mine = formNumber;
  const got = await get(`${api}/form`).catch(() => null);
  if (mine !== formNumber || !got) return;
  const parts = Array.isArray(got) ? got : got.form || got.parts;
  if (parts?.length) { form.show(parts); hands.renew(); }
}

draft.addEventListener("saving", saved);
draft.addEventListener("saved", saved);
draft.addEventListener("changed", () => { if (!editor.typing) editor.show(draft.text); saved(); looks.ask(); renew(); });
draft.addEventListener("failed", (event) => notice("write", `Not saved: ${event.detail.error.said}`, [], true));
draft.addEventListener("conflict", (event) => conflict(event.detail.error.body.draft));

function conflict(theirs) {
  if (!theirs) { notice("conflict", "The draft has been changed elsewhere; load the page again.", [], true); return; }
  const mine = editor.typing || document.activeElement === editor.area ? editor.area.value : draft.text;
  notice("conflict", "This draft has been changed elsewhere since this page read it. What you just did is not written yet.", [
    ["Go on from theirs", () => { notice("conflict", ""); unwritten = null; editor.saved = editor.area.value; draft.adopt(theirs); editor.show(theirs.text); }],
    ["Put mine in its place", () => { notice("conflict", ""); draft.version = theirs.version; put(mine).catch(() => {}); }],
  ], true);
}

/** My text in the place of theirs, with what could not be written before. */
async function put(mine) {
  const last = unwritten;
  unwritten = null;
  await draft.put(mine, "mine kept");
  if (last) await keep(last.changes, last.label);
}

async function step(way) {
  editor.flush();
  await draft.settled();
  const label = await draft.step(way).catch(() => null);
  if (label) say(`${way < 0 ? "taken back" : "done again"}: ${label}`);
}
$("undo").addEventListener("click", () => step(-1));
$("redo").addEventListener("click", () => step(1));
$("solid").addEventListener("click", () => { editor.flush(); draft.settled().then(() => import("./solid.js")).then((one) => one.open(state.read())).catch(failed); });
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || hands.holding) return;
  const key = event.key.toLowerCase();
  const own = event.target.matches?.('input[type="text"], #note') || (event.target === editor.area && editor.typing);
  if (own || (key !== "z" && key !== "y")) return;
  event.preventDefault();
  step(key === "y" || event.shiftKey ? 1 : -1);
});

$("side").addEventListener("click", (event) => {
  const key = findings.ofLoad(event.target.closest('[data-part="load"]')?.dataset.name || "");
  if (key) findings.open(key);
});

tabs($("answer-tabs"), (tab) => {
  const text = tab.id === "tab-text";
  $("text-panel").hidden = !text;
  $("findings-panel").hidden = text;
  $("bench").classList.toggle("writing", text);
  if (text) editor.show(draft.text);
});

$("origin-legend").append(...ORIGINS.map(([source, words]) => make("span", {}, make("span", { class: "origin" }, originMark(source)), words)));
new Revise(draft, () => editor.flush());

try {
  const got = await draft.load();
  editor.show(draft.text);
  saved();
  looks.ask();
  await renew();
  watch(draft, got, { conflict });
} catch (error) {
  failed(error);
}
