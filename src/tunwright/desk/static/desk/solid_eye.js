// Where the picture is seen from: turned about the middle of the vehicle, nearer or further.

const LENS = (17 * Math.PI) / 180;
export const START = { turn: -0.92, lift: 0.34, zoom: 1 };
export const VIEWS = {
  start: START,
  side: { turn: -Math.PI / 2, lift: 0.03, zoom: 1 },
  front: { turn: Math.PI, lift: 0.03, zoom: 1 },
  rear: { turn: 0, lift: 0.03, zoom: 1 },
  top: { turn: -Math.PI / 2, lift: 1.565, zoom: 1 },
};

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => { const size = Math.hypot(...a); return a.map((one) => one / size); };

export class Eye {
  /** low, high: corners of the box that is to be seen; moved() is called when it has changed. */
  constructor(low, high, moved) {
    this.corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [0, 1, 2].map((axis) => ((i >> axis) & 1 ? high : low)[axis]));
    this.middle = low.map((one, i) => (one + high[i]) / 2);
    this.round = Math.hypot(...low.map((one, i) => high[i] - one)) / 2 + 2; // with the lines on the road
    this.moved = moved;
    Object.assign(this, START);
  }

  by({ turn = 0, lift = 0, zoom = 1 }) {
    cancelAnimationFrame(this.going);
    this.turn += turn;
    this.lift = Math.min(1.565, Math.max(-0.5, this.lift + lift));
    this.zoom = Math.min(12, Math.max(0.4, this.zoom * zoom));
    this.moved();
  }

  /** To a view, over a quarter of a second unless the person wants no motion. */
  to(view) {
    cancelAnimationFrame(this.going);
    const from = { turn: this.turn, lift: this.lift, zoom: this.zoom };
    const round = 2 * Math.PI;
    const turn = ((((view.turn - from.turn + Math.PI) % round) + round) % round) - Math.PI;
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const start = performance.now();
    const step = (now) => {
      const part = still ? 1 : Math.min(1, Math.max(0, (now - start) / 260));
      const eased = part * part * (3 - 2 * part);
      this.turn = from.turn + turn * eased;
      this.lift = from.lift + (view.lift - from.lift) * eased;
      this.zoom = from.zoom * (view.zoom / from.zoom) ** eased;
      this.moved();
      if (part < 1) this.going = requestAnimationFrame(step);
    };
    step(start);
  }

  /** In words, for those who cannot see the picture. */
  get words() {
    const degrees = Math.round(((((this.turn * 180) / Math.PI) % 360) + 360) % 360);
    const sides = ["behind", "behind on the right", "the right", "the front on the right", "the front", "the front on the left", "the left", "behind on the left"];
    const up = Math.round((this.lift * 180) / Math.PI);
    const high = up > 2 ? `, ${up}° up` : up < -2 ? `, ${-up}° from below` : "";
    const near = Math.abs(this.zoom - 1) > 0.02 ? `, ${this.zoom > 1 ? "nearer" : "further away"}` : "";
    return `Seen from ${this.lift > 1.3 ? "above" : sides[Math.round(degrees / 45) % 8] + high}${near}`;
  }

  /** The matrix for a picture of a width and height, the place of the eye, metres to a pixel in the middle and from the nearest
      to the furthest. */
  look(width, height) {
    const aspect = width / height;
    const back = [Math.cos(this.turn) * Math.cos(this.lift), Math.sin(this.turn) * Math.cos(this.lift), Math.sin(this.lift)];
    const across = unit(cross([0, 0, 1], back));
    const up = cross(back, across);
    const tall = Math.tan(LENS / 2);
    let away = 0;
    for (const corner of this.corners) { // as near as shows every corner of the box
      const p = corner.map((one, i) => one - this.middle[i]);
      away = Math.max(away, dot(p, back) + (1.06 * Math.abs(dot(p, across))) / (tall * aspect), dot(p, back) + (1.06 * Math.abs(dot(p, up))) / tall);
    }
    away /= this.zoom;
    const eye = this.middle.map((one, i) => one + back[i] * away);
    const near = Math.max(0.02 * away, away - this.round), far = away + this.round;
    const rows = [across.map((one) => one / (tall * aspect)), up.map((one) => one / tall)];
    const depth = -(far + near) / (far - near);
    const view = new Float32Array(16);
    for (let i = 0; i < 3; i += 1) {
      view[4 * i] = rows[0][i];
      view[4 * i + 1] = rows[1][i];
      view[4 * i + 2] = depth * back[i];
      view[4 * i + 3] = -back[i];
    }
    view[12] = -dot(rows[0], eye);
    view[13] = -dot(rows[1], eye);
    view[14] = -depth * dot(back, eye) - (2 * far * near) / (far - near);
    view[15] = dot(back, eye);
    return { view, eye, metre: (2 * tall * away) / height, deep: far - near };
  }
}
