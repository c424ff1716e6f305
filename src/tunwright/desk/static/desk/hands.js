// What can be taken hold of in the side view: the tank, its ends, baffles and fittings; by pointer and by keys alike.

import { readLength, signed, steps, writeLength } from "./lengths.js";
import { $, draw, say } from "./page.js";
import { extent } from "./view.js";

const IDLE = 650;

/** Everything that may be moved, from the values of the form. */
function movable(value) {
  const length = (path) => { const text = value(path); const got = readLength(text); return got && { path, text, at: got.metres }; };
  const one = (key, label, path) => {
    const own = length(path);
    return own && { key, label, lead: own, changes: (d) => [{ path, value: writeLength(own.at + d, own.text) }] };
  };
  const middle = length(["tank", "middle"]);
  const long = length(["tank", "length"]);
  const end = (key, label, sign) => middle && long && {
    key, label, lead: long, sign,
    changes: (d) => [
      { path: long.path, value: writeLength(long.at + sign * d, long.text) },
      { path: middle.path, value: writeLength(middle.at + d / 2, middle.text) },
    ],
  };
  const found = [one("tank", "middle of the tank", ["tank", "middle"])];
  for (let i = 0; value(["tank", "baffle", i, "at"]) !== undefined; i += 1) found.push(one(`baffle-${i}`, `baffle ${i + 1}`, ["tank", "baffle", i, "at"]));
  for (let i = 0; value(["item", i, "at"]) !== undefined; i += 1) found.push(one(`item-${i}`, value(["item", i, "name"]) || `fitting ${i + 1}`, ["item", i, "at"]));
  found.push(end("front", "front end of the tank, its length", -1), end("rear", "rear end of the tank, its length", 1));
  return found.filter(Boolean);
}

export class Hands {
  #hands = new Map();
  #held = null;
  #idle = 0;

  /** attempt(changes, tag): look at it; settled(): all looks are back; keep(changes, label): write it; value(path): as typed. */
  constructor(view, { value, attempt, settled, keep }) {
    Object.assign(this, { view, value, attempt, settled, keep });
    this.svg = draw("svg", { class: "hands", role: "group", "aria-label": "Handles on the side view" });
    view.place.append(this.svg);
    view.placed = (box) => { this.svg.setAttribute("viewBox", box.map((one) => one.toFixed(2)).join(" ")); this.place(); };
    this.svg.addEventListener("pointerdown", (event) => this.#down(event));
    this.svg.addEventListener("pointermove", (event) => this.#move(event));
    this.svg.addEventListener("pointerup", (event) => this.#up(event));
    this.svg.addEventListener("pointercancel", () => this.drop());
    this.svg.addEventListener("keydown", (event) => this.#key(event));
    this.svg.addEventListener("focusout", () => { if (this.#held?.keys) this.#commit(); });
  }

  get holding() { return this.#held !== null; }

  /** New values in the form. */
  renew() {
    if (this.#held) return;
    this.things = new Map(movable(this.value).map((one) => [one.key, one]));
    this.place();
  }

  /** Handles to where the parts are drawn now. */
  place() {
    const { svg, way } = this.view;
    if (!svg || !this.things) return;
    const tank = extent(svg, way, '[data-part="tank"] > .outline');
    const spots = new Map();
    if (tank) {
      spots.set("tank", tank);
      const reach = 3.2 / way.mm;
      const z = 0.5 * (tank.top + tank.bottom);
      for (const [key, x] of [["front", tank.left], ["rear", tank.right]]) spots.set(key, { left: x - reach, right: x + reach, top: z + 9 / way.mm, bottom: z - 9 / way.mm });
    }
    for (const one of svg.querySelectorAll('[data-part="tank"] [data-part="baffle"]')) {
      const found = this.#around(one, way, 2 / way.mm);
      spots.set(`baffle-${one.dataset.baffle}`, found);
    }
    for (const one of svg.querySelectorAll('[data-part="item"]')) spots.set(`item-${Number(one.dataset.item.replace(/\D+/g, "")) - 1}`, this.#around(one, way, 0));
    for (const [key, hand] of this.#hands) if (!spots.has(key) || !this.things.has(key)) { hand.remove(); this.#hands.delete(key); }
    for (const key of this.things.keys()) if (spots.has(key)) this.#put(key, spots.get(key), way);
  }

  #around(element, way, more) {
    const box = element.getBBox();
    const rect = way.rect(box.x, box.y, box.width, box.height);
    return { ...rect, left: rect.left - more, right: rect.right + more };
  }

  #put(key, rect, way) {
    const thing = this.things.get(key);
    const [x, y, width, height] = way.box(rect);
    let hand = this.#hands.get(key);
    if (!hand) {
      const quiet = key === "tank" || key.startsWith("baffle") || key.startsWith("item");
      hand = draw("g", { tabindex: 0, role: "slider", "aria-orientation": "horizontal", "data-hand": key, class: quiet ? "quiet" : "end" },
        draw("rect", { class: "reach" }), draw("rect", { class: "ring", rx: 0.8 }), draw("rect", { class: "grip", rx: 0.5 }));
      this.#hands.set(key, hand);
      this.svg.append(hand);
    }
    const [reach, ring, grip] = hand.children;
    const pixels = this.view.pixels || 3;
    const [wide, tall] = this.#finger(key).map((one) => one / pixels);
    const [across, up] = [Math.max(0, wide - width) / 2, Math.max(0, tall - height) / 2];
    this.#box(reach, x - across, y - up, width + 2 * across, height + 2 * up);
    this.#box(ring, x - 0.6, y - 0.6, width + 1.2, height + 1.2);
    const long = key === "front" || key === "rear" ? 10 : 5;
    this.#box(grip, x + width / 2 - 1, y + height / 2 - long / 2, 2, long);
    const shown = this.#held?.key === key ? this.#held.words : thing.lead.text;
    hand.setAttribute("aria-label", thing.label);
    hand.setAttribute("aria-valuetext", shown);
    const at = this.#held?.key === key ? thing.lead.at + this.#held.moved * (thing.sign || 1) : thing.lead.at;
    hand.setAttribute("aria-valuenow", at.toFixed(3));
    hand.setAttribute("aria-valuemin", "-20");
    hand.setAttribute("aria-valuemax", "40");
  }

  /** What a handle takes at least, across and up [pixels]: a finger's worth where the view is narrow. */
  #finger(key) {
    if (key === "tank") return [0, 0];
    if (!this.view.narrow) return [22, 0];
    return key === "front" || key === "rear" ? [40, 40] : [28, 40];
  }

  #box(rect, x, y, width, height) {
    for (const [name, value] of Object.entries({ x, y, width, height })) rect.setAttribute(name, Math.max(value, name === "width" || name === "height" ? 0.1 : -1e6).toFixed(2));
  }

  // pointer

  #down(event) {
    const hand = event.target.closest("[data-hand]");
    if (!hand || event.button !== 0 || this.#held) return;
    hand.focus({ preventScroll: true });
    hand.setPointerCapture(event.pointerId);
    this.#take(hand.dataset.hand);
    this.#held.from = event.clientX;
  }

  #move(event) {
    if (!this.#held || this.#held.from === undefined || this.#held.closing) return;
    const metres = (event.clientX - this.#held.from) / this.view.pixels / this.view.way.mm;
    const fine = event.altKey;
    const step = steps(this.#held.thing.lead.text);
    this.#to(metres, fine ? step.fine : step.usual);
  }

  #up() { if (this.#held && !this.#held.keys) this.#commit(); }

  // keys

  #key(event) {
    const key = event.target.closest("[data-hand]")?.dataset.hand;
    if (event.key === "Escape" && this.#held) { event.preventDefault(); this.drop(); return; }
    if (event.key === "Enter" && this.#held) { event.preventDefault(); this.#commit(); return; }
    const way = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
    if (!key || !way || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    if (!this.#held) { this.#take(key); this.#held.keys = true; }
    if (this.#held.closing || this.#held.key !== key) return;
    const step = steps(this.#held.thing.lead.text);
    const size = event.shiftKey ? step.large : event.altKey ? step.fine : step.usual;
    this.#to(this.#held.moved + way * size, 0);
    clearTimeout(this.#idle);
    this.#idle = setTimeout(() => this.#commit(), IDLE);
  }

  // one way for both

  #take(key) {
    const thing = this.things.get(key);
    this.#held = { key, thing, moved: 0, words: thing.lead.text, shown: 0 };
    this.#hands.get(key)?.classList.add("held");
    this.view.hold(true);
  }

  #to(metres, grid) {
    const held = this.#held;
    const sign = held.thing.sign || 1;
    const lead = held.thing.lead.at;
    let moved = metres;
    if (grid) moved = sign * (Math.round((lead + sign * metres) / grid) * grid - lead);
    if (Math.abs(moved - held.moved) < 1e-6) return;
    held.moved = moved;
    held.changes = held.thing.changes(moved);
    held.words = held.changes[0].value;
    held.bad = false;
    this.#tell(`${held.thing.label} ${held.words}  (${signed(sign * moved, held.thing.lead.text)})`);
    this.svg.classList.add("moving");
    this.#slide();
    this.attempt(held.changes, { key: held.key, moved });
    if (held.keys) say(`${held.thing.label} ${held.words}`);
  }

  /** A new drawing has come for a place tried. */
  drawn(tag) {
    if (!this.#held || tag?.key !== this.#held.key) return;
    this.#held.shown = tag.moved;
    this.#slide();
  }

  /** The place tried cannot be. */
  refused(problem, tag) {
    if (!this.#held || tag?.key !== this.#held.key) return;
    this.#held.bad = true;
    this.#tell(`not there: ${problem.message}`, true);
    say(problem.message);
  }

  /** Until the new drawing is there, the part itself follows the pointer. */
  #slide() {
    const { key, moved, shown } = this.#held;
    const ahead = (moved - shown) * this.view.way.mm;
    const name = key === "tank" ? '[data-part="tank"]' : key.startsWith("baffle") ? `[data-part="tank"] [data-baffle="${key.slice(7)}"]` : key.startsWith("item") ? `[data-item="item.${Number(key.slice(5)) + 1}"]` : null;
    if (name) this.view.svg.querySelector(name)?.setAttribute("transform", `translate(${ahead.toFixed(2)} 0)`);
    this.#hands.get(key)?.setAttribute("transform", `translate(${ahead.toFixed(2)} 0)`);
  }

  #tell(words, bad = false) {
    const box = $("held-words");
    box.hidden = false;
    box.textContent = words;
    box.classList.toggle("bad", bad);
  }

  #end() {
    clearTimeout(this.#idle);
    const held = this.#held;
    this.#held = null;
    $("held-words").hidden = true;
    this.svg.classList.remove("moving");
    const hand = this.#hands.get(held.key);
    hand?.classList.remove("held");
    hand?.removeAttribute("transform");
    return held;
  }

  async #commit() {
    if (this.#held.closing) return;
    clearTimeout(this.#idle);
    this.#held.closing = true;
    if (this.#held.changes) await this.settled(); // what cannot be is not written
    if (!this.#held) return;
    const held = this.#end();
    if (!held.changes || Math.abs(held.moved) < 1e-6) { this.view.hold(false); return; }
    if (held.bad) {
      say(`${held.thing.label} stays at ${held.thing.lead.text}`);
      this.attempt([], null);
      this.view.hold(false);
      return;
    }
    try {
      await this.keep(held.changes, `${held.thing.label} to ${held.words}`);
      say(`${held.thing.label} now ${held.words}`);
    } finally { this.view.hold(false); }
  }

  drop() {
    if (!this.#held) return;
    const held = this.#end();
    this.attempt([], null);
    this.view.hold(false);
    say(`${held.thing.label} stays at ${held.thing.lead.text}`);
  }
}
