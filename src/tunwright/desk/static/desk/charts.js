// Charts come drawn, for several widths; here the fitting one is shown and values are read off it by pointer and by keys.

import { $, draw, make, picture, say, tabs } from "./page.js";

const LEAST = 3.55; // pixels a millimetre at which the letters of a chart are 11 pixels high
const HINT = "Point at the chart, or use the arrow keys on it, to read values.";

export class Charts {
  #charts = {};
  #frame = null;
  #name = "loads";
  #at = null;
  #width = 0;

  constructor(fill) {
    this.fill = fill;
    this.place = $("chart");
    tabs($("chart-tabs"), (tab) => { this.#name = tab.dataset.chart; this.place.setAttribute("aria-labelledby", tab.id); this.#draw(); });
    this.place.addEventListener("pointermove", (event) => this.#point(event));
    this.place.addEventListener("pointerleave", () => this.#read(null));
    this.place.addEventListener("keydown", (event) => this.#key(event));
    new ResizeObserver(() => { if (this.svg && this.#fitting() !== this.#width) this.#draw(); }).observe(this.place);
  }

  /** charts: by name, each by its width in millimetres, or in one width only. */
  show(charts) {
    const kept = Object.entries(charts).map(([name, drawn]) => [name, typeof drawn === "string" ? { 190: drawn } : drawn]);
    this.#charts = { frame: this.#charts.frame, ...Object.fromEntries(kept) };
    if (this.#name !== "frame") this.#draw();
  }

  /** The loaded frame: its drawing, or words on what to measure, and its cases. */
  frame(got) {
    this.#frame = got;
    this.#charts.frame = got.svg ? { 190: got.svg } : undefined;
    if (this.#name === "frame") this.#draw();
  }

  /** The widest drawing whose letters can be read here. */
  #fitting() {
    const widths = Object.keys(this.#charts[this.#name] || {}).map(Number).sort((a, b) => a - b);
    return widths.filter((width) => width * LEAST <= this.place.clientWidth).at(-1) ?? widths[0];
  }

  #draw() {
    this.#width = this.#fitting();
    const text = this.#charts[this.#name]?.[this.#width];
    this.#at = null;
    this.svg = null;
    const frame = this.#name === "frame" ? this.#frame || { words: "The frame is being loaded.", cases: [] } : null;
    this.place.classList.toggle("wide", Boolean(frame && text));
    $("readout").textContent = !text ? "" : frame ? frame.words : HINT;
    if (!text) { this.place.replaceChildren(make("p", { class: "soft" }, frame ? frame.words : "This chart cannot be drawn: inputs are missing.")); return; }
    const svg = picture(text);
    svg.setAttribute("tabindex", "0");
    for (const title of svg.querySelectorAll(".series title")) title.parentElement.dataset.words = title.textContent;
    for (const title of svg.querySelectorAll(".series circle title")) title.remove();
    this.svg = svg;
    this.plot = (svg.dataset.plot || "").trim().split(/[ ,]+/).map(Number);
    this.places = new Map();
    for (const spot of svg.querySelectorAll(".series circle[data-words]")) {
      const x = Number(spot.getAttribute("cx")).toFixed(1);
      if (!this.places.has(x)) this.places.set(x, []);
      this.places.get(x).push(spot);
    }
    this.order = [...this.places.keys()].sort((a, b) => a - b);
    this.marks = draw("g", { class: "reads", "aria-hidden": "true" });
    svg.append(this.marks);
    this.place.replaceChildren(svg, ...(frame ? [cases(frame.cases)] : []));
    if (frame && this.place.scrollWidth > this.place.clientWidth + 4) $("readout").append(" The drawing is wider than the page: move it sideways.");
    this.now();
  }

  /** Where the water stands now, in the chart over the water. */
  now() {
    this.svg?.querySelector(".now")?.remove();
    if (this.#name !== "loads" || !this.svg) return;
    const net = this.svg.querySelector("g.mark path")?.getAttribute("d")?.match(/^M\s*(-?[\d.]+)/);
    if (!net || this.plot.length < 4) return;
    const x = this.plot[0] + (Number(net[1]) - this.plot[0]) * this.fill();
    this.svg.append(draw("path", { class: "now", d: `M${x.toFixed(2)} ${this.plot[1]}V${this.plot[3]}`, fill: "none" }));
  }

  #point(event) {
    if (!this.svg || !this.order.length) return;
    const box = this.svg.getBoundingClientRect();
    const x = ((event.clientX - box.left) / box.width) * this.svg.viewBox.baseVal.width;
    let best = 0;
    this.order.forEach((one, i) => { if (Math.abs(one - x) < Math.abs(this.order[best] - x)) best = i; });
    this.#read(best);
  }

  #key(event) {
    if (!this.order?.length) return;
    const last = this.order.length - 1;
    const at = this.#at ?? -1;
    const to = { ArrowRight: at + 1, ArrowLeft: at < 0 ? last : at - 1, Home: 0, End: last, PageUp: at + 5, PageDown: at - 5 }[event.key];
    if (to === undefined) { if (event.key === "Escape") this.#read(null); return; }
    event.preventDefault();
    this.#read(Math.min(Math.max(to, 0), last));
    say($("readout").textContent);
  }

  #read(index) {
    if (!this.svg) return;
    this.#at = index;
    this.marks?.replaceChildren();
    if (this.#name === "frame") return;
    if (index === null || !this.order[index]) { $("readout").textContent = HINT; return; }
    const x = this.order[index];
    const spots = this.places.get(x);
    this.marks.append(draw("path", { class: "read", d: `M${x} ${this.plot[1]}V${this.plot[3]}`, fill: "none" }));
    for (const spot of spots) this.marks.append(draw("circle", { cx: spot.getAttribute("cx"), cy: spot.getAttribute("cy"), r: 1.1 }));
    const words = spots.map((spot) => spot.dataset.words);
    const place = words[0]?.split(" at ").at(-1);
    const values = words.map((one) => one.slice(0, one.lastIndexOf(" at ")));
    $("readout").replaceChildren(make("b", {}, place || ""), ...(values.map((one) => ` · ${one}`)));
  }
}

/** The cases the frame is tried with, as a table. */
function cases(found) {
  const shown = (value) => (value === null ? "–" : `${Math.round(value)}`);
  const head = make("tr", {}, ...["case", "rails, MPa", "subframe, MPa"].map((word) => make("th", { scope: "col" }, word)));
  const rows = found.map((one) => make("tr", one.lost ? { title: one.lost } : {}, make("th", { scope: "row" }, one.words), make("td", {}, one.lost ? "not held" : shown(one.rail_mpa)), make("td", {}, one.lost ? "" : shown(one.subframe_mpa))));
  return make("table", { class: "cases" }, make("caption", {}, "Greatest stress of each case, over all fills"), make("thead", {}, head), make("tbody", {}, ...rows));
}
