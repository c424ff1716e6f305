// The text of the draft with line numbers; what is wrong stands below with the way to its line.

import { $, make } from "./page.js";

const LINE = 18;

export class Editor {
  #later = 0;
  #frame = 0;
  #wrong = new Set();

  constructor({ keep }) {
    this.area = $("text");
    this.keep = keep;
    this.area.addEventListener("input", () => { this.#soon(); clearTimeout(this.#later); this.#later = setTimeout(() => this.flush(), 500); });
    this.area.addEventListener("blur", () => this.flush());
    this.area.addEventListener("scroll", () => { $("gutter").scrollTop = this.area.scrollTop; });
  }

  show(text) {
    if (this.area.value === text) return;
    const { selectionStart: start, selectionEnd: end, scrollTop: top } = this.area;
    this.area.value = text;
    if (document.activeElement === this.area) this.area.setSelectionRange(start, end);
    this.area.scrollTop = top;
    this.saved = text;
    this.#gutter();
  }

  flush() {
    clearTimeout(this.#later);
    if (this.saved === undefined || this.area.value === this.saved) return;
    this.saved = this.area.value;
    this.keep(this.area.value);
  }

  get typing() { return this.saved !== undefined && this.area.value !== this.saved; }

  wrong(problems) {
    this.#wrong = new Set(problems.map((one) => one.line).filter(Boolean));
    $("problems").replaceChildren(...problems.map((one) => make("li", {},
      one.line ? make("button", { type: "button", class: "link", onclick: () => this.reach(one.line) }, `line ${one.line}`) : null,
      one.line ? " " : null, one.path ? make("code", {}, one.path) : null, ` ${one.message}`,
      one.given ? make("small", {}, `given: ${one.given}`) : null, one.allowed ? make("small", {}, `allowed: ${one.allowed}`) : null,
      one.example ? make("small", {}, `example: ${one.example}`) : null)));
    const tab = $("tab-text");
    tab.textContent = problems.length ? `Text, ${problems.length} to mend` : "Text";
    this.#gutter();
  }

  reach(line) {
    const lines = this.area.value.split("\n");
    const start = lines.slice(0, line - 1).reduce((sum, one) => sum + one.length + 1, 0);
    this.area.focus();
    this.area.setSelectionRange(start, start + (lines[line - 1]?.length || 0));
    this.area.scrollTop = Math.max(0, (line - 6) * LINE);
  }

  /** Once a picture: a long text that is put in comes as one input a line. */
  #soon() {
    cancelAnimationFrame(this.#frame);
    this.#frame = requestAnimationFrame(() => this.#gutter());
  }

  #gutter() {
    const count = this.area.value.split("\n").length;
    const parts = [];
    for (let i = 1; i <= count; i += 1) parts.push(this.#wrong.has(i) ? make("b", {}, String(i)) : String(i), "\n");
    $("gutter").replaceChildren(...parts);
    $("gutter").scrollTop = this.area.scrollTop;
  }
}
