// Mouse, fingers and keys at the picture.

import { VIEWS } from "./solid_eye.js";

const STEP = Math.PI / 24;
const KEYS = {
  ArrowLeft: { turn: -STEP }, ArrowRight: { turn: STEP }, ArrowUp: { lift: STEP }, ArrowDown: { lift: -STEP },
  "+": { zoom: 1.15 }, "=": { zoom: 1.15 }, "-": { zoom: 1 / 1.15 }, "_": { zoom: 1 / 1.15 },
};

/** One finger or the mouse turns, two fingers or the wheel come nearer; cut(way) moves the plane. */
export function hands(canvas, eye, cut) {
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
  for (const kind of ["pointerup", "pointercancel"]) canvas.addEventListener(kind, (event) => held.delete(event.pointerId));
  canvas.addEventListener("wheel", (event) => { event.preventDefault(); eye.by({ zoom: Math.exp(-event.deltaY * (event.deltaMode ? 0.04 : 0.0014)) }); }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (KEYS[event.key]) eye.by(KEYS[event.key]);
    else if (event.key === "Home" || event.key === "0") eye.to(VIEWS.start);
    else if (event.key === "[" || event.key === "]") cut(event.key === "[" ? -1 : 1);
    else return;
    event.preventDefault();
  });
}
