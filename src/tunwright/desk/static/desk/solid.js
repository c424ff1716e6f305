// The vehicle as a solid that can be turned and cut; fetched only when somebody opens it.

import { get } from "./api.js";
import { api, make } from "./page.js";
import { Eye, VIEWS } from "./solid_eye.js";
import { Model } from "./solid_gl.js";

const ROLES = ["paper", "ink", "edge", "tread", "level", "shell", "plate", "fitting", "frame", "tyre", "rim", "cab", "item", "water", "surface", "ground"];
const CUTS = [["", "none"], ["0", "across, from the rear"], ["-0", "across, from the front"], ["1", "lengthwise, from the right"], ["-1", "lengthwise, from the left"], ["2", "level, from above"]];
const NOT_HERE = "This browser draws no 3-D here (WebGL 2 is off or missing). The side, rear and plan views show the same vehicle; the words below say what the model holds.";
const STEP = Math.PI / 24;
const KEYS = {
  ArrowLeft: { turn: -STEP }, ArrowRight: { turn: STEP }, ArrowUp: { lift: STEP }, ArrowDown: { lift: -STEP },
  "+": { zoom: 1.15 }, "=": { zoom: 1.15 }, "-": { zoom: 1 / 1.15 }, "_": { zoom: 1 / 1.15 },
};

/** Colours of the page by role; a pixel is painted with each, so that any way to write a colour will do. */
function colours(place) {
  const brush = make("canvas", { width: 1, height: 1 }).getContext("2d", { willReadFrequently: true });
  const probe = make("i", { hidden: true });
  place.append(probe);
  const found = {};
  for (const role of ROLES) {
    probe.style.color = `var(--solid-${role})`;
    brush.fillStyle = getComputedStyle(probe).color;
    brush.fillRect(0, 0, 1, 1);
    found[role] = [...brush.getImageData(0, 0, 1, 1).data.slice(0, 3)].map((one) => one / 255);
  }
  probe.remove();
  return found;
}

function styled() {
  const href = new URL("solid.css", import.meta.url).href;
  if ([...document.styleSheets].some((one) => one.href === href)) return Promise.resolve();
  return new Promise((done) => document.head.append(make("link", { rel: "stylesheet", href, onload: done, onerror: done })));
}

function button(label, act, words) {
  return make("button", { type: "button", onclick: act, "aria-label": words || null, title: words || null }, label);
}

class Solid {
  constructor(got) {
    this.got = got;
    this.canvas = make("canvas", { tabindex: "0", role: "application", "aria-roledescription": "3-D model", "aria-label": `${got.title}, ${got.state_words}`, "aria-describedby": "solid-how solid-seen" });
    this.seen = make("p", { class: "unseen", id: "solid-seen", role: "status" });
    this.where = make("output", { class: "soft" });
    this.axis = make("select", {}, CUTS.map(([value, words]) => make("option", { value }, words)));
    this.place = make("input", { type: "range", min: "0", max: "1000", value: "500", disabled: true, "aria-label": "place of the cut" });
    this.closed = make("input", { type: "checkbox" });
    this.stage = make("div", { class: "solid-stage" }, this.canvas);
    this.dialog = make("dialog", { class: "solid", "aria-labelledby": "solid-head" },
      make("header", {}, make("h2", { id: "solid-head" }, "3-D view"), make("p", { class: "soft" }, got.state_words), button("Close", () => this.dialog.close())),
      this.stage, this.#bar(), this.seen, this.#words());
    document.body.append(this.dialog);
    this.dialog.addEventListener("close", () => this.#end());
    this.dialog.showModal();
    this.#begin();
  }

  #bar() {
    const view = (name, label) => button(label, () => this.eye?.to(VIEWS[name]));
    return make("div", { class: "solid-bar" },
      make("div", { class: "buttons", role: "group", "aria-label": "Seen from" }, view("start", "Reset"), view("left", "Left"), view("rear", "Rear"), view("above", "Above"),
        button("−", () => this.eye?.by({ zoom: 1 / 1.25 }), "further away"), button("+", () => this.eye?.by({ zoom: 1.25 }), "nearer")),
      make("label", {}, "cut ", this.axis), this.place, this.where,
      make("label", {}, this.closed, " shell opaque"));
  }

  #words() {
    const { got } = this;
    const lists = [["Shown", got.parts.map((part) => part.name)], ["Drawn from usual sizes until measured", got.guesses], ["Weighed but not drawn, no sizes given", got.left_out]];
    return make("div", { class: "solid-words" },
      make("p", { class: "soft", id: "solid-how" }, "Drag or use the arrow keys to turn; wheel, pinch, + or − to come nearer; 0 to reset. The lines on the road are a metre apart."),
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
    this.#hands();
    this.dark = matchMedia("(prefers-color-scheme: dark)");
    this.recolour = () => { this.colours = colours(this.stage); this.#ask(); };
    this.dark.addEventListener("change", this.recolour);
    this.watch = new ResizeObserver(() => this.#ask());
    this.watch.observe(this.stage);
    this.recolour();
    this.canvas.focus({ focusVisible: false });
  }

  #without() {
    this.stage.replaceChildren(make("p", { class: "solid-none", role: "alert" }, NOT_HERE));
    this.dialog.querySelector(".solid-bar").hidden = true;
    this.dialog.querySelector("#solid-how").hidden = true;
    this.dialog.querySelector("details").open = true;
  }

  #hands() {
    const { canvas, eye } = this;
    const held = new Map();
    const apart = () => { const [a, b] = [...held.values()]; return Math.hypot(a[0] - b[0], a[1] - b[1]); };
    canvas.addEventListener("pointerdown", (event) => { canvas.setPointerCapture(event.pointerId); held.set(event.pointerId, [event.clientX, event.clientY]); });
    canvas.addEventListener("pointermove", (event) => {
      const was = held.get(event.pointerId);
      if (!was) return;
      const before = held.size > 1 ? apart() : 0;
      held.set(event.pointerId, [event.clientX, event.clientY]);
      if (held.size > 1) eye.by({ zoom: apart() / (before || 1) });
      else eye.by({ turn: -(event.clientX - was[0]) * 0.008, lift: (event.clientY - was[1]) * 0.008 });
    });
    for (const kind of ["pointerup", "pointercancel"]) canvas.addEventListener(kind, (event) => { held.delete(event.pointerId); this.#tell(); });
    canvas.addEventListener("wheel", (event) => { event.preventDefault(); eye.by({ zoom: Math.exp(-event.deltaY * (event.deltaMode ? 0.04 : 0.0014)) }); }, { passive: false });
    canvas.addEventListener("keydown", (event) => {
      const step = KEYS[event.key];
      if (event.ctrlKey || event.metaKey || event.altKey || (!step && event.key !== "0" && event.key !== "Home")) return;
      event.preventDefault();
      if (step) eye.by(step);
      else eye.to(VIEWS.start);
      this.#tell();
    });
    canvas.addEventListener("webglcontextlost", () => this.#without());
    for (const one of [this.axis, this.place, this.closed]) one.addEventListener("input", () => this.#ask());
  }

  /** The plane that cuts: normal, bound and where it stands. */
  get cut() {
    const { value } = this.axis;
    this.place.disabled = !value;
    this.where.textContent = "";
    if (!value) return null;
    const i = Math.abs(Number(value));
    const way = value.startsWith("-") ? -1 : 1;
    const [low, high] = [this.model.low[i] - 0.01, this.model.high[i] + 0.01];
    const at = low + (high - low) * (Number(this.place.value) / 1000);
    this.where.textContent = `${"xyz"[i]} = ${at.toFixed(2)} m`;
    this.place.setAttribute("aria-valuetext", `${at.toFixed(2)} m`);
    return [0, 1, 2].map((axis) => (axis === i ? way : 0)).concat(way * at);
  }

  #tell() { this.seen.textContent = this.eye.words; }

  #ask() {
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => { this.asked = 0; this.#draw(); });
  }

  #draw() {
    const { clientWidth: width, clientHeight: height } = this.stage;
    if (!width || !height || !this.model) return;
    const fine = Math.min(2, devicePixelRatio || 1);
    const size = [Math.round(width * fine), Math.round(height * fine)];
    if (this.canvas.width !== size[0] || this.canvas.height !== size[1]) [this.canvas.width, this.canvas.height] = size;
    this.model.draw({ ...this.eye.look(width / height), cut: this.cut, colours: this.colours, closed: this.closed.checked });
  }

  #end() {
    cancelAnimationFrame(this.asked);
    this.watch?.disconnect();
    this.dark?.removeEventListener("change", this.recolour);
    this.dialog.remove();
    this.model?.end();
    this.model = null;
  }
}

/** Open the model of the draft in a load state. */
export async function open(state) {
  const [got] = await Promise.all([get(`${api}/mesh?${new URLSearchParams(state)}`), styled()]);
  return new Solid(got);
}
