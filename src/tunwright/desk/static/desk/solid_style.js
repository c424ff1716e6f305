// The colours of the page for the picture, and its style sheet.

import { make } from "./page.js";

const ROLES = ["paper", "ink", "edge", "tread", "level", "shell", "plate", "fitting", "frame", "tyre", "rim", "cab", "item", "water", "surface", "still", "ground"];

/** Colours by role; a pixel is painted with each, so that any way to write a colour will do. */
export function colours(place) {
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

/** When the style sheet of the view is there. */
export function styled() {
  const href = new URL("solid.css", import.meta.url).href;
  if ([...document.styleSheets].some((one) => one.href === href)) return Promise.resolve();
  return new Promise((done) => document.head.append(make("link", { rel: "stylesheet", href, onload: done, onerror: done })));
}
