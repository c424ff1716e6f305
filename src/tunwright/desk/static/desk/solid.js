// The vehicle as a solid that can be turned and cut; fetched only when somebody opens it.

import { get } from "./api.js";
import { $, api, make } from "./page.js";
import { Eye, VIEWS } from "./solid_eye.js";
import { Model } from "./solid_gl.js";
import { hands } from "./solid_hands.js";
import { colours, styled } from "./solid_style.js";

const CUTS = [["", "none"], ["-1", "lengthwise, from the left"], ["1", "lengthwise, from the right"], ["0", "across, from the rear"], ["-0", "across, from the front"], ["2", "level, from above"]];
const USUAL = "-1";
const NOT_HERE = "This browser draws no 3-D here: WebGL 2 is off or missing. The side, rear and plan views show the same vehicle; the words below say what the model holds.";
const HOW = "Drag or use the arrow keys to turn; wheel, pinch, + or − to come nearer; [ and ] to move the cut; Home to reset. The lines on the road are a metre apart.";
const INCH = 0.0254;

const mesh = (state, only) => get(`${api}/mesh?${new URLSearchParams({ ...state, only })}`);

function button(label, act, words) {
  return make("button", { type: "button", onclick: act, "aria-label": words || null, title: words || null }, label);
}

class Solid {
  constructor(state, got) {
    Object.assign(this, { state: { ...state }, got });
    this.canvas = make("canvas", { tabindex: "0", role: "application", "aria-roledescription": "3-D model", "aria-label": got.title, "aria-describedby": "solid-seen solid-how" });
    this.seen = make("p", { class: "solid-seen", id: "solid-seen", role: "status" });
    this.stage = make("div", { class: "solid-stage" }, this.canvas, this.seen);
    this.dialog = make("dialog", { class: "solid", "aria-labelledby": "solid-head" },
      make("header", {}, make("h2", { id: "solid-head" }, "3-D view"), make("p", { class: "soft" }, got.title), button("Close", () => this.dialog.close())),
      this.stage, this.#bar(), this.#words());
    document.body.append(this.dialog);
    this.dialog.addEventListener("close", () => this.#end());
    this.dialog.showModal();
    this.#begin();
  }

  #bar() {
    const view = (name, label) => button(label, () => this.eye.to(VIEWS[name]));
    this.fill = make("input", { type: "range", min: "0", max: "100", step: "1", value: String(Math.round(100 * this.state.fill)), id: "solid-fill", oninput: () => this.#refill() });
    this.filled = make("output", { for: "solid-fill" });
    this.axis = make("select", { "aria-label": "cut", oninput: () => this.#choose() }, CUTS.map(([value, words]) => make("option", { value }, words)));
    this.place = make("input", { type: "range", step: "0.01", disabled: true, "aria-label": "place of the cut", id: "solid-place", oninput: () => this.#ask() });
    this.where = make("output", { for: "solid-place" });
    this.closed = make("input", { type: "checkbox", oninput: () => this.#ask() });
    return make("div", { class: "solid-bar" },
      make("div", { class: "views" },
        make("div", { class: "buttons", role: "group", "aria-label": "Seen from" }, view("side", "Side"), view("front", "Front"), view("rear", "Rear"), view("top", "Top"), view("start", "Reset")),
        make("div", { class: "buttons" }, button("−", () => this.eye.by({ zoom: 1 / 1.25 }), "further away"), button("+", () => this.eye.by({ zoom: 1.25 }), "nearer")),
        make("label", {}, this.closed, " shell opaque")),
      make("div", { class: "slide" }, make("label", { for: "solid-fill" }, "fill"), this.fill, this.filled),
      make("div", { class: "slide cut" }, make("label", {}, make("span", {}, "cut"), this.axis), this.place, this.where));
  }

  #words() {
    const { got } = this;
    const lists = [["Shown", got.parts.map((part) => part.name)], ["Drawn from usual sizes until measured", got.guesses], ["Weighed but not drawn, no sizes given", got.left_out]];
    return make("div", { class: "solid-words" },
      make("p", { class: "soft", id: "solid-how" }, HOW),
      make("details", {}, make("summary", {}, "What the model holds, in words"), lists.filter(([, names]) => names.length).map(([head, names]) => make("p", {}, make("b", {}, `${head}: `), `${names.join(", ")}.`))));
  }

  #begin() {
    try {
      this.model = new Model(this.canvas, this.got.parts);
    } catch {
      this.#without();
      return;
    }
    this.eye = new Eye(this.model.low, this.model.high, () => this.#ask());
    hands(this.canvas, this.eye, (way) => this.#move(way));
    this.canvas.addEventListener("webglcontextlost", () => { if (this.model) this.#without(); });
    this.dark = matchMedia("(prefers-color-scheme: dark)");
    this.recolour = () => { this.colours = colours(this.stage); this.#ask(); };
    this.dark.addEventListener("change", this.recolour);
    this.watch = new ResizeObserver(() => this.#ask());
    this.watch.observe(this.stage);
    this.recolour();
    this.#holds(this.got);
    this.canvas.focus({ focusVisible: false });
  }

  #without() {
    this.model = null;
    this.stage.replaceChildren(make("p", { class: "solid-none", role: "alert" }, NOT_HERE));
    this.dialog.querySelector(".solid-bar").hidden = true;
    this.dialog.querySelector("#solid-how").hidden = true;
    this.dialog.querySelector("details").open = true;
  }

  /** Fetch the water of the fill that is set; while one is on its way, only the newest is asked for after it. */
  async #refill() {
    this.state.fill = Number(this.fill.value) / 100;
    this.filled.textContent = `${this.fill.value} %`;
    if (this.fetching) { this.again = true; return; }
    this.fetching = true;
    try {
      do {
        this.again = false;
        const got = await mesh(this.state, "water");
        if (!this.model) return;
        this.model.water(got.parts);
        this.#holds(got);
      } while (this.again);
    } catch (error) {
      this.held = error.said || error.message;
    } finally {
      this.fetching = false;
      this.#ask();
    }
  }

  #holds({ state_words: words, water }) {
    this.held = `${words[0].toUpperCase()}${words.slice(1)}, ${water}`;
    if (!this.again) this.filled.textContent = `${this.fill.value} % · ${water}`;
    this.fill.setAttribute("aria-valuetext", this.filled.textContent);
    this.#ask();
  }

  /** Another way to cut: through the middle at first. */
  #choose() {
    const { value } = this.axis;
    const i = Math.abs(Number(value));
    this.place.disabled = !value;
    if (value) {
      const [low, high] = [this.model.low[i], this.model.high[i]].map((one) => Math.round(100 * one) / 100);
      Object.assign(this.place, { min: low, max: high });
      if (i !== this.cutting) this.place.value = (low + high) / 2;
      this.cutting = i;
    }
    this.#ask();
  }

  #move(way) {
    if (this.axis.value) this.place.value = Number(this.place.value) + 0.05 * way;
    else this.axis.value = USUAL;
    this.#choose();
  }

  /** The plane that cuts: normal and bound; none where nothing is cut. */
  get cut() {
    const { value } = this.axis;
    if (!value) return null;
    const i = Math.abs(Number(value));
    const way = value.startsWith("-") ? -1 : 1;
    return [0, 1, 2].map((axis) => (axis === i ? way : 0)).concat(way * Number(this.place.value));
  }

  /** The sentence that says what is shown, once the hands rest. */
  #tell() {
    const at = Number(this.place.value);
    const place = this.axis.value ? `${"xyz"[this.cutting]} = ${this.got.units === "us" ? `${(at / INCH).toFixed(1)} in` : `${at.toFixed(2)} m`}` : "";
    this.where.textContent = place;
    this.place.setAttribute("aria-valuetext", place);
    const cut = place ? `Cut ${this.axis.selectedOptions[0].textContent}, at ${place}.` : "Not cut.";
    clearTimeout(this.telling);
    this.telling = setTimeout(() => { this.seen.textContent = `${this.held}. ${this.eye.words}. ${cut}`; }, 250);
  }

  #ask() {
    if (this.asked || !this.model) return;
    this.asked = requestAnimationFrame(() => { this.asked = 0; this.#draw(); });
  }

  #draw() {
    const { clientWidth: width, clientHeight: height } = this.stage;
    if (!width || !height || !this.model) return;
    const fine = Math.min(2, devicePixelRatio || 1);
    const size = [Math.round(width * fine), Math.round(height * fine)];
    if (this.canvas.width !== size[0] || this.canvas.height !== size[1]) [this.canvas.width, this.canvas.height] = size;
    this.model.draw({ look: this.eye.look(width, height), cut: this.cut, colours: this.colours, closed: this.closed.checked });
    this.#tell();
  }

  /** Give everything back; the bench takes over the fill. */
  #end() {
    cancelAnimationFrame(this.asked);
    clearTimeout(this.telling);
    this.watch?.disconnect();
    this.dark?.removeEventListener("change", this.recolour);
    this.dialog.remove();
    const { model } = this;
    this.model = null;
    model?.end();
    const bench = $("fill");
    if (bench && bench.value !== this.fill.value) {
      bench.value = this.fill.value;
      bench.dispatchEvent(new Event("input"));
    }
  }
}

let opening = false;

/** Open the model of the draft in a load state; one at a time. */
export async function open(state) {
  if (opening || document.querySelector("dialog.solid")) return;
  opening = true;
  try {
    const [got] = await Promise.all([mesh(state, "all"), styled()]);
    new Solid(state, got);
  } finally {
    opening = false;
  }
}
