// Charts come drawn; here values are read off them by pointer and by keys.

import { $, draw, make, picture, say, tabs } from "./page.js";

export class Charts {
  #charts = {};
  #name = "loads";
  #at = null;

  constructor(fill) {
    this.fill = fill;
    this.place = $("chart");
    tabs($("chart-tabs"), (tab) => { this.#name = tab.dataset.chart; this.place.setAttribute("aria-labelledby", tab.id); this.#draw(); });
    this.place.addEventListener("pointermove", (event) => this.#point(event));
    this.place.addEventListener("pointerleave", () => this.#read(null));
    this.place.addEventListener("keydown", (event) => this.#key(event));
  }

  show(charts) { this.#charts = charts; this.#draw(); }

  #draw() {
    const text = this.#charts[this.#name];
    this.#at = null;
    if (!text) { this.place.replaceChildren(make("p", { class: "soft" }, "This chart cannot be drawn: inputs are missing.")); return; }
    const svg = picture(typeof text === "string" ? text : text.svg);
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
    this.place.replaceChildren(svg);
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
    this.#at = index;
    this.marks?.replaceChildren();
    if (index === null || !this.order[index]) { $("readout").textContent = "Point at the chart, or use the arrow keys on it, to read values."; return; }
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
