// The pipework: a duty, its valves to turn, and what then flows.

import { get, post } from "./api.js";
import { $, api, firm, make, notice, picture, say } from "./page.js";

const SHARES = [0, 0.25, 0.4, 0.5, 0.6, 0.75, 1];
const READABLE = 0.75; // of that size letters are still read on a large screen
const LETTER = 4.2; // pixels a millimetre of paper at which the smallest letters are 11 pixels high

let set = {}; // what has been turned: openings, engine, fill
let shown = null;
let asking = null;
let chose = false; // somebody said whether the whole drawing is to be seen; till then it is where its letters stay readable

const words = (share) => (share <= 0 ? "shut" : share >= 1 ? "open" : `${Math.round(100 * share)} % open`);
const openings = () => Object.fromEntries(shown.valves.map((one) => [one.name, one.share]));

async function look() {
  asking?.abort();
  const mine = new AbortController();
  asking = mine;
  try {
    const got = await post(`${api}/pipes`, { duty: shown?.duty ?? "", ...set }, { signal: mine.signal });
    if (!mine.signal.aborted) show(got);
  } catch (error) {
    if (error.name !== "AbortError") notice("failed", error.said || error.message, [["Try again", () => { notice("failed", ""); look(); }]], true);
  }
}

function show(got) {
  const none = got.problems.length ? "The draft does not read yet; mend it on the bench." : got.there ? "" : "This build has no pipework: add a table [pipework] to its text, as the demo of the quarry carrier has one.";
  $("told").textContent = none;
  $("told").hidden = !none;
  for (const id of ["set", "schematic", "valves-panel", "said-panel"]) $(id).hidden = Boolean(none);
  if (none) return;
  shown = got;
  controls(got);
  drawn(got.svg);
  $("valves").replaceChildren(...got.valves.map(row));
  $("said").replaceChildren(...got.said.flatMap(([what, figure]) => [make("dt", {}, what), make("dd", {}, firm(figure))]));
}

function controls(got) {
  $("duty").replaceChildren(...(got.duties.length ? got.duties : [got.duty]).map((name) => make("option", { value: name }, name)));
  $("duty").value = got.duty;
  $("fill").value = String(Math.round(100 * got.fill));
  $("fill-words").textContent = `${$("fill").value} %`;
  $("engine-label").hidden = !got.engine_range;
  if (document.activeElement !== $("engine")) $("engine").value = String(got.engine ?? 0);
  if (got.engine_range) $("engine").max = String(got.engine_range[1]);
  const turned = set.openings !== undefined || set.engine !== undefined;
  $("again").disabled = !turned;
  $("keep").disabled = !turned || !got.duties.includes(got.duty);
}

function drawn(svg) {
  const held = document.activeElement?.closest?.("[data-part=valve]")?.dataset.name;
  const made = picture(svg);
  made.setAttribute("role", "group"); // a picture holds no buttons, a group does
  const { width, height } = made.viewBox.baseVal;
  made.style.setProperty("--least", `${Math.round(LETTER * width)}px`);
  if (!chose) fit($("schematic").clientWidth >= READABLE * LETTER * width);
  made.style.setProperty("--ratio", (width / height).toFixed(3));
  for (const one of shown.valves) {
    const place = [...made.querySelectorAll('[data-part="valve"]')].find((part) => part.dataset.name === one.name);
    if (!place) continue;
    place.setAttribute("role", "button");
    place.setAttribute("tabindex", "0");
    place.setAttribute("aria-label", `${one.name}, ${one.purpose}: ${words(one.share)}`);
    place.addEventListener("click", () => turn(one.name, one.share > 0 ? 0 : 1));
    place.addEventListener("keydown", (event) => { if (event.key === "Enter" || event.key === " ") { event.preventDefault(); turn(one.name, one.share > 0 ? 0 : 1); } });
  }
  const scrolled = $("schematic").scrollLeft;
  $("schematic").replaceChildren(made);
  $("schematic").scrollLeft = scrolled;
  if (held) [...made.querySelectorAll("[data-part=valve]")].find((one) => one.dataset.name === held)?.focus({ preventScroll: true });
}

function fit(whole) {
  $("whole").checked = whole;
  $("schematic").classList.toggle("whole", whole);
}

function row(one) {
  const shares = SHARES.includes(one.share) ? SHARES : [...SHARES, one.share].sort((a, b) => a - b);
  const stands = make("select", { "aria-label": `${one.name} stands`, onchange: (event) => turn(one.name, Number(event.target.value)) }, shares.map((share) => make("option", { value: String(share) }, words(share))));
  stands.value = String(one.share);
  return make("tr", {}, make("td", {}, make("b", {}, one.name)), make("td", {}, one.purpose), make("td", {}, stands));
}

function turn(name, share) {
  set.openings = { ...openings(), [name]: share };
  say(`${name} ${words(share)}`);
  look();
}

async function keep() {
  try {
    const draft = await get(`${api}/draft`);
    const at = ["pipework", "duty", shown.duties.indexOf(shown.duty)];
    const part = shown.valves.filter((one) => one.share > 0 && one.share < 1);
    const changes = [{ path: [...at, "open"], value: shown.valves.filter((one) => one.share >= 1).map((one) => one.name) },
      { path: [...at, "throttled"], value: part.map((one) => ({ valve: one.name, open: `${Math.round(100 * one.share)} %` })) }];
    if (set.engine !== undefined) changes.push({ path: [...at, "engine"], value: set.engine ? `${set.engine} rpm` : null });
    const wanted = changes.filter((one) => one.value !== null);
    await post(`${api}/draft/set`, { version: draft.version, changes: wanted });
    set = { fill: set.fill };
    say("Written into the draft");
    look();
  } catch (error) { notice("failed", error.said || error.message, [], true); }
}

$("duty").addEventListener("change", () => { shown.duty = $("duty").value; set = { fill: set.fill }; look(); });
$("fill").addEventListener("input", () => { $("fill-words").textContent = `${$("fill").value} %`; set.fill = Number($("fill").value) / 100; look(); });
$("engine").addEventListener("change", () => { set.engine = Number($("engine").value) || 0; look(); });
$("whole").addEventListener("change", () => { chose = true; fit($("whole").checked); });
$("again").addEventListener("click", () => { set = { fill: set.fill }; look(); });
$("keep").addEventListener("click", keep);
look();
