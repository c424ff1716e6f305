// The form: every key of the build by part, as typed, with where each figure comes from.

import { learn } from "./names.js";
import { $, draw, keyPath, make } from "./page.js";

export const ORIGINS = [["", "chosen"], ["measured", "measured"], ["maker", "from the maker"], ["assumed", "assumed"]];

/** The mark of an origin: a full, half, dashed or open circle. */
export function originMark(source) {
  const svg = draw("svg", { viewBox: "0 0 12 12", "aria-hidden": "true" }, draw("circle", { cx: 6, cy: 6, r: 5 }));
  const ring = svg.firstChild;
  if (source === "measured") ring.setAttribute("class", "ink");
  if (source === "maker") svg.append(draw("path", { d: "M6 1a5 5 0 0 1 0 10z", class: "ink" }));
  if (source === "assumed") ring.setAttribute("stroke-dasharray", "2.2 1.7");
  return svg;
}

const number = (text) => (/^[+-]?\d+(\.\d+)?$/.test(text) ? Number(text) : text);

/** What the text of a field stands for in the document. */
function meant(field, text) {
  if (text === "") return null;
  if (field.kind === "flag") return text === "true";
  if (field.kind === "number" || field.choices?.includes(text)) return number(text);
  if (field.kind !== "list") return text;
  const parts = text.split(",").map((one) => one.trim()).filter(Boolean);
  return parts.map((one) => (one.includes("/") ? one.split("/").map((each) => number(each.trim())) : one));
}

const said = (key) => key.replace(/_/g, " ");

export class Form {
  #inputs = new Map();
  #values = new Map();
  #shape = "";
  #open = new Set(["tank"]);
  #typing = 0;

  /** attempt(changes): look at values being typed; keep(changes, label): write them. */
  constructor(place, { attempt, keep }) {
    Object.assign(this, { place, attempt, keep });
    place.addEventListener("toggle", (event) => {
      const name = event.target.dataset?.part;
      if (!name) return;
      if (event.target.open) this.#open.add(name); else this.#open.delete(name);
    }, true);
    place.addEventListener("focusin", (event) => { $("form-help").textContent = this.#inputs.get(event.target.dataset.path)?.field.label || ""; });
  }

  value(path) { return this.#values.get(keyPath(path)); }

  show(parts) {
    this.place.removeAttribute("aria-busy");
    learn(parts);
    const fields = [];
    const walk = (part) => {
      for (const field of part.fields || []) fields.push(field);
      for (const inner of [...(part.tables || []), ...(part.entries || [])]) walk(inner);
    };
    parts.forEach(walk);
    this.#values = new Map(fields.map((field) => [keyPath(field.path), field.value]));
    const shape = fields.map((field) => `${keyPath(field.path)}:${field.kind}:${field.value !== "" || field.required}`).join(";");
    if (shape === this.#shape) {
      for (const field of fields) this.#refresh(field);
      return;
    }
    this.#shape = shape;
    const focused = document.activeElement?.dataset?.path;
    const top = this.place.parentElement.scrollTop;
    this.#inputs.clear();
    this.place.replaceChildren(...parts.map((part) => this.#part(part, keyPath(part.path))));
    this.place.parentElement.scrollTop = top;
    if (focused) this.#inputs.get(focused)?.input.focus({ preventScroll: true });
  }

  #part(part, name) {
    const count = part.entries ? make("span", { class: "count" }, String(part.entries.length || "none")) : part.given === false ? make("span", { class: "count" }, "none") : null;
    const box = make("details", { class: "part", "data-part": name, open: this.#open.has(name) },
      make("summary", {}, make("span", {}, part.title), count, make("span", { class: "flag", "data-flag": name })));
    box.append(...(part.entries ? this.#list(part) : this.#table(part, name)));
    return box;
  }

  #table(part, name) {
    const there = (one) => (one.entries ? one.entries.length > 0 : one.given !== false);
    const fields = (wanted) => part.fields.filter((field) => (field.value !== "" || field.required) === wanted).map((field) => this.#line(field));
    const tables = (wanted) => (part.tables || []).filter((one) => there(one) === wanted).map((one) => this.#part(one, keyPath(one.path)));
    const usual = [...fields(true), ...tables(true)];
    const rest = [...fields(false), ...tables(false)];
    if (part.given === false || !rest.length) return [...usual, ...rest];
    return [...usual, this.#more(`${name}:more`, rest)];
  }

  #more(name, rest) {
    return make("details", { class: "part", "data-part": name, open: this.#open.has(name) },
      make("summary", {}, make("span", { class: "count" }, `${rest.length} more`)), ...rest);
  }

  #list(part) {
    const entries = part.entries.map((entry) => {
      const box = this.#part(entry, keyPath(entry.path));
      box.append(make("div", { class: "entry-buttons" }, make("button", {
        type: "button", class: "link", onclick: () => this.keep([{ path: entry.path, value: null }], `${entry.title} taken out`),
      }, `take out ${entry.title}`)));
      return box;
    });
    const word = said(String(part.path.at(-1)));
    const add = make("div", { class: "entry-buttons" }, make("button", { type: "button", class: "link", onclick: () => this.#add(part, word) }, `add ${/^[aeiou]/.test(word) ? "an" : "a"} ${word}`));
    return [...entries, add];
  }

  #add(part, word) {
    const path = [...part.path, part.entries.length];
    this.#open.add(keyPath(part.path)).add(keyPath(path));
    this.keep([{ path, value: part.new }], `${word} added`);
  }

  #line(field) {
    const key = keyPath(field.path);
    const id = `f-${key.replace(/[^a-z0-9]+/gi, "-")}`;
    const long = field.kind === "text" || field.kind === "list";
    const input = this.#input(field, id);
    const wrong = make("p", { class: "wrong", id: `${id}-wrong` });
    const help = make("span", { class: "unseen", id: `${id}-help` }, `${field.label}${field.example ? `; for example ${field.example}` : ""}`);
    input.setAttribute("aria-describedby", `${id}-help ${id}-wrong`);
    const origin = field.kind === "quantity" ? this.#origin(field) : make("span", {});
    const line = make("div", { class: `line${long ? " long" : ""}`, title: field.label }, make("label", { for: id }, said(field.key), help), input, origin, wrong);
    this.#inputs.set(key, { field, input, wrong, line, origin });
    return line;
  }

  #input(field, id) {
    const shared = { id, "data-path": keyPath(field.path), onchange: () => this.#changed(field), oninput: () => this.#typed(field) };
    if (field.kind === "flag") {
      const box = make("input", { ...shared, type: "checkbox" });
      box.checked = (field.value || field.default) === "true";
      return box;
    }
    if (field.choices?.length && field.kind !== "list") {
      const none = field.required ? [] : [make("option", { value: "" }, field.default ? `${field.default} (if not said)` : "–")];
      const known = field.value === "" || field.choices.includes(field.value) ? [] : [make("option", { value: field.value }, field.value)];
      const box = make("select", shared, none, known, field.choices.map((one) => make("option", { value: one }, one)));
      box.value = field.value;
      return box;
    }
    return make("input", { ...shared, type: "text", value: field.value, placeholder: field.default || (field.required ? "must be given" : "–"), autocomplete: "off", spellcheck: "false", inputmode: field.kind === "number" ? "decimal" : null });
  }

  #origin(field) {
    const source = field.source || "";
    const key = keyPath(field.path);
    const box = make("select", { "data-path": key, "aria-label": `${said(field.key)}: where it comes from`, onchange: (event) => this.#sourced(field, event.target.value) },
      ORIGINS.map(([value, words]) => make("option", { value }, words)));
    box.value = source;
    box.disabled = field.value === "";
    const name = ORIGINS.find(([value]) => value === source)?.[1] || source;
    return make("span", { class: "origin", title: `${name}${field.note ? `: ${field.note}` : ""}` }, originMark(source), box);
  }

  #refresh(field) {
    const known = this.#inputs.get(keyPath(field.path));
    if (!known) return;
    known.field = Object.assign(known.field, field);
    if (known.input.type === "checkbox") known.input.checked = (field.value || field.default) === "true";
    else if (document.activeElement !== known.input || !known.dirty) known.input.value = field.value;
    if (field.kind === "quantity") {
      const fresh = this.#origin(field);
      const had = known.origin.contains(document.activeElement);
      known.origin.replaceWith(fresh);
      known.origin = fresh;
      if (had) fresh.querySelector("select").focus();
    }
  }

  #read(field) {
    const { input } = this.#inputs.get(keyPath(field.path));
    return input.type === "checkbox" ? String(input.checked) : input.value.trim();
  }

  #typed(field) {
    const known = this.#inputs.get(keyPath(field.path));
    known.dirty = true;
    clearTimeout(this.#typing);
    if (known.input.type === "checkbox" || known.input.tagName === "SELECT") return;
    const value = this.#read(field);
    if (value) this.#typing = setTimeout(() => this.attempt([{ path: field.path, value: meant(field, value) }]), 260);
  }

  async #changed(field) {
    clearTimeout(this.#typing);
    const known = this.#inputs.get(keyPath(field.path));
    known.dirty = false;
    const value = this.#read(field);
    if (value === field.value) { this.attempt([]); return; }
    await this.keep([{ path: field.path, value: meant(field, value) }], `${said(field.key)} ${value || "taken out"}`);
  }

  async #sourced(field, source) {
    const change = source ? { path: field.path, source } : { path: [...field.path, "from"], value: null };
    await this.keep([change], `${said(field.key)}: ${source || "chosen"}`);
  }

  /** Errors to the fields they belong to; those that belong to none stand above. */
  wrong(problems) {
    for (const known of this.#inputs.values()) {
      known.wrong.textContent = "";
      known.line.classList.remove("has-wrong");
      known.input.removeAttribute("aria-invalid");
    }
    for (const flag of this.place.querySelectorAll("[data-flag]")) flag.textContent = "";
    const loose = problems.filter((problem) => !this.#mark(problem));
    $("form-wrong").textContent = loose.slice(0, 3).map((one) => `${one.line ? `Line ${one.line}: ` : ""}${one.message}`).join(" ");
  }

  #mark(problem) {
    const known = this.#inputs.get(problem.path) || this.#inputs.get(problem.path.replace(/\.value$/, ""));
    for (let name = problem.path; name; name = name.includes(".") || name.includes("[") ? name.replace(/(\.[^.[\]]+|\[\d+\])$/, "") : "") {
      const flag = this.place.querySelector(`[data-flag="${CSS.escape(name)}"]`);
      if (flag) flag.textContent = "to mend";
    }
    if (!known) return false;
    known.wrong.textContent = `${problem.message}${problem.allowed ? ` Allowed: ${problem.allowed}.` : ""}${problem.example ? ` Example: ${problem.example}` : ""}`;
    known.line.classList.add("has-wrong");
    known.input.setAttribute("aria-invalid", "true");
    return true;
  }

  /** Opens the way to a key and puts the cursor there. */
  reach(path) {
    const known = this.#inputs.get(path);
    if (!known) return false;
    for (let box = known.line.closest("details"); box; box = box.parentElement.closest("details")) box.open = true;
    known.input.focus();
    known.line.scrollIntoView({ block: "center" });
    return true;
  }
}
