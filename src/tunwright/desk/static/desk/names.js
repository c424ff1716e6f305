// Inputs by their words: what a key of the build file means, and in which table it stands.

import { keyPath } from "./page.js";

const names = new Map();
const fields = new Set();
const said = (place, what) => [place.join(", "), what.split(";", 1)[0]].filter(Boolean).join(": ");

/** What an entry of a list is called: axle “front”, or baffle 2 where it has no name. */
function called(entry) {
  const [word, at] = [String(entry.path.at(-2)).replace(/_/g, " "), entry.path.at(-1) + 1];
  return entry.title === `${word} ${at}` ? entry.title : `${word} “${entry.title}”`;
}

function walk(part, place) {
  for (const field of part.fields || []) {
    names.set(keyPath(field.path), said(place, field.label));
    fields.add(keyPath(field.path));
  }
  for (const entry of part.entries || []) walk(entry, [...place, called(entry)]);
  for (const table of part.tables || []) {
    names.set(keyPath(table.path), said(place, table.help || table.title));
    walk(table, table.entries ? place : [...place, table.title]);
  }
}

/** The parts of the form, as the desk gives them. */
export function learn(parts) {
  names.clear();
  fields.clear();
  for (const part of parts) {
    names.set(keyPath(part.path), said([], part.help || part.title));
    walk(part, part.entries || part.key === "chassis" ? [] : [part.title.toLowerCase()]);
  }
}

/** Whether a path leads to a field of the form. */
export const known = (path) => fields.has(path);
export const nameOf = (path) => names.get(path) || path;
