// Small helpers every page uses.

export const $ = (id) => document.getElementById(id);
export const slug = document.body.dataset.build || "";
export const api = slug ? `/api/builds/${encodeURIComponent(slug)}` : "/api";

const UNIT = /(\d) (?=(?:kg|lb|t|L|mm|cm|m|in|ft|ga|US gal|%|g|bar|kPa|psi|kN|N|Nm)(?!\w))/g;

/** Words whose figures stay whole on a narrow page: no break between thousands, nor between a figure and its unit or sign. */
export const firm = (words) => words.replace(/(\d)\u2009(?=\d)/g, "$1\u00a0").replace(UNIT, "$1\u00a0").replace(/([≤≥]) /g, "$1\u00a0").replace(/US gal/g, "US\u00a0gal");

/** An element: make("p", { class: "soft", onclick: f }, "words", child) */
export function make(name, attributes = {}, ...inside) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
    else if (key === "value") element.value = value;
    else element.setAttribute(key, value === true ? "" : value);
  }
  const wanted = inside.flat().filter((one) => one !== null && one !== undefined && one !== false);
  element.append(...wanted.map((one) => (typeof one === "string" ? firm(one) : one)));
  return element;
}

const SVG = "http://www.w3.org/2000/svg";

export function draw(name, attributes = {}, ...inside) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...inside);
  return element;
}

/** The picture in an SVG text, with ids of its own so that two pictures in a page never share one. */
export function picture(text) {
  const found = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (found.nodeName !== "svg") return null;
  return document.importNode(found, true);
}

const MARKS = {
  fails: "M3 3l10 10M13 3L3 13", close: "M8 2.500v7M8 13v.3", open: "M8 3.500a4.500 4.500 0 1 0 .01 0", holds: "M3 8.500l3.400 3.800L13 4",
};
export const ORDER = ["fails", "open", "close", "holds"];

export function mark(verdict) {
  return draw("svg", { class: `mark v-${verdict}`, viewBox: "0 0 16 16", "aria-hidden": "true" }, draw("path", { d: MARKS[verdict] || MARKS.open }));
}

export function tally(counts = {}) {
  const words = { fails: "fail", open: "open", close: "close", holds: "hold" };
  return ORDER.filter((one) => counts[one]).map((one) => make("span", { class: `verdict v-${one}` }, mark(one), `${counts[one]} ${words[one]}`));
}

let sayLater = 0;
export function say(words) {
  clearTimeout(sayLater);
  sayLater = setTimeout(() => { $("say").textContent = words; }, 60);
}

/** A sentence over the page with what may be done about it; one of each name at a time. */
export function notice(name, words, buttons = [], bad = false) {
  $(`notice-${name}`)?.remove();
  if (!words) return;
  const box = make("div", { class: `notice${bad ? " bad" : ""}`, id: `notice-${name}`, role: bad ? "alert" : "status" }, make("p", {}, words));
  for (const [label, act] of buttons) box.append(make("button", { type: "button", onclick: act }, label));
  box.append(make("button", { type: "button", class: "bare", onclick: () => box.remove() }, "Close"));
  $("notices").append(box);
}

export function when(text) {
  const date = new Date(text);
  if (Number.isNaN(date.getTime())) return text || "";
  const today = date.toDateString() === new Date().toDateString();
  const clock = date.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  return today ? `today ${clock}` : `${date.getDate()} ${date.toLocaleString("en-GB", { month: "short" })} ${date.getFullYear()}, ${clock}`;
}

/** Tabs with arrow keys; `pick(button)` is called with the chosen one. */
export function tabs(list, pick) {
  const all = [...list.querySelectorAll('[role="tab"]')];
  const choose = (one) => {
    for (const tab of all) {
      tab.setAttribute("aria-selected", String(tab === one));
      tab.tabIndex = tab === one ? 0 : -1;
    }
    pick(one);
  };
  list.addEventListener("click", (event) => { const one = event.target.closest('[role="tab"]'); if (one) choose(one); });
  list.addEventListener("keydown", (event) => {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!step) return;
    event.preventDefault();
    const next = all[(all.indexOf(document.activeElement) + step + all.length) % all.length];
    next.focus();
    choose(next);
  });
  return choose;
}

/** "chassis.axle[2].kerb_load" for ["chassis", "axle", 1, "kerb_load"] */
export const keyPath = (path) => path.reduce((said, step) => (typeof step === "number" ? `${said}[${step + 1}]` : said ? `${said}.${step}` : step), "");
