// A drawing in the page: the picture is exchanged, the window it is seen through stands still.

import { picture } from "./page.js";

const PARTS = ["cab", "tank", "frame", "subframe", "axle", "item"];
const NARROW = 560; // pixels under which the side view goes without its lettering
const LEAST = 3.55; // pixels a millimetre at which the smallest letters of a drawing are 11 pixels high
const SCALES = [40, 45, 50, 55, 60, 65, 70, 80];
const BESIDE = 60; // what the lettering before and behind a vehicle may take [mm]

/** The way back from picture to thing: metres for view box units, and the other way round. */
export class Way {
  constructor(svg) {
    const box = svg.viewBox.baseVal;
    this.scale = Number(svg.dataset.scale);
    this.left = Number(svg.dataset.left);
    this.top = Number(svg.dataset.top);
    this.mm = 1000 / this.scale;
    this.own = this.rect(box.x, box.y, box.width, box.height);
  }

  rect(x, y, width, height) {
    const left = this.left + x / this.mm;
    const top = this.top - y / this.mm;
    return { left, top, right: left + width / this.mm, bottom: top - height / this.mm };
  }

  box(rect) {
    return [(rect.left - this.left) * this.mm, (this.top - rect.top) * this.mm, (rect.right - rect.left) * this.mm, (rect.top - rect.bottom) * this.mm];
  }
}

export const union = (a, b) => (!a ? b : !b ? a : { left: Math.min(a.left, b.left), right: Math.max(a.right, b.right), top: Math.max(a.top, b.top), bottom: Math.min(a.bottom, b.bottom) });

/** The rectangle of what a selector finds [m]. */
export function extent(svg, way, selector) {
  let found = null;
  for (const one of svg.querySelectorAll(selector)) {
    const box = one.getBBox();
    if (box.width || box.height) found = union(found, way.rect(box.x, box.y, box.width, box.height));
  }
  return found;
}

/** The vehicle without its lettering [m]. */
export function bare(svg, way) {
  const found = extent(svg, way, PARTS.map((part) => `[data-part="${part}"]`).join(","));
  return found ? { left: found.left - 0.12, right: found.right + 0.12, top: found.top + 0.1, bottom: Math.min(found.bottom, 0) - 0.06 } : way.own;
}

export class View {
  /** follow: the view whose size it keeps to; outgrown(): the width has changed so that the letters want another scale. */
  constructor(place, { follow = null, outgrown = null } = {}) {
    this.place = place;
    this.window = null;
    this.follow = follow;
    this.svg = null;
    this.long = 8.5; // of a usual vehicle [m]
    if (follow) follow.followed = () => this.fit();
    let width = 0;
    new ResizeObserver(() => {
      this.fit();
      if (this.svg && place.clientWidth !== width && this.scale !== this.way.scale) outgrown?.();
      width = place.clientWidth;
    }).observe(place);
  }

  show(text) {
    const fresh = picture(text);
    if (!fresh) return;
    this.place.classList.remove("waiting", "old");
    if (this.svg) this.svg.replaceWith(fresh);
    else this.place.prepend(fresh);
    this.svg = fresh;
    this.way = new Way(fresh);
    const vehicle = bare(fresh, this.way);
    if (!this.still) this.long = Math.round(2 * (vehicle.right - vehicle.left)) / 2;
    this.fit();
  }

  /** 1:scale to ask the next drawing at, so that its letters can be read at the width there is. */
  get scale() {
    const width = this.place.clientWidth;
    if (width < NARROW) return SCALES[0];
    return SCALES.find((scale) => (BESIDE + (1000 * this.long) / scale) * LEAST <= width) ?? SCALES.at(-1);
  }

  /** still: the window does not move, because something is being dragged. */
  hold(still) {
    this.still = still;
    if (!still) this.fit();
  }

  fit() {
    if (!this.svg || !this.place.clientWidth) return;
    const narrow = this.place.clientWidth < NARROW && !this.follow;
    this.place.classList.toggle("compact", narrow);
    const wanted = narrow ? bare(this.svg, this.way) : this.way.own;
    if (!this.window || this.narrow !== narrow || (!this.still && !this.#suits(wanted))) {
      this.window = { ...wanted };
      this.narrow = narrow;
    }
    const box = this.way.box(this.window);
    this.svg.setAttribute("viewBox", box.map((one) => one.toFixed(2)).join(" "));
    this.place.style.setProperty("--ratio", String(box[2] / box[3]));
    if (this.follow) this.place.style.width = `${(box[2] * (this.follow.narrow ? LEAST : this.follow.pixels || LEAST)).toFixed(1)}px`;
    this.pixels = this.place.clientWidth / box[2];
    this.placed?.(box);
    this.followed?.();
  }

  #suits(wanted) {
    const w = this.window;
    const spare = [wanted.left - w.left, w.right - wanted.right, w.top - wanted.top, wanted.bottom - w.bottom];
    return spare.every((one) => one > -0.001 && one < 0.35);
  }
}
