// The draft: one text that form, editor and drawing all change; every write is saved, every state can be come back to.

import { get, post, put } from "./api.js";
import { api, slug } from "./page.js";

const MOST = 60;
const ROOM = 2_500_000;

export class Draft extends EventTarget {
  #tail = Promise.resolve();

  constructor() {
    super();
    this.text = "";
    this.version = 0;
    this.base = 0;
    this.busy = 0;
    this.past = [];
    this.at = -1;
  }

  async load() {
    const got = await get(`${api}/draft`);
    this.#take(got);
    this.#recall();
    return got;
  }

  #take(got) {
    if (got.text !== undefined) this.text = got.text;
    this.version = got.version;
    if (got.base !== undefined) this.base = got.base;
    if (got.updated !== undefined) this.updated = got.updated;
  }

  /** Changes of single values; the remarks in the text stay. */
  set(changes, label) {
    return this.#write(label, async () => {
      const got = await post(`${api}/draft/set`, { version: this.version, changes });
      this.#take(got);
      return got;
    });
  }

  /** The whole text. */
  put(text, label, { remember = true, base = undefined } = {}) {
    return this.#write(remember ? label : null, async () => {
      const got = await put(`${api}/draft`, { text, version: this.version, base });
      this.#take({ base, ...got, text });
      return got;
    });
  }

  /** After somebody else has written: go on from what stands there. */
  adopt(theirs) {
    this.#take(theirs);
    this.#remember("what was written elsewhere");
    this.#tell("changed", { whole: true });
  }

  #write(label, act) {
    const turn = this.#tail.then(async () => {
      this.busy += 1;
      this.#tell("saving");
      try {
        const got = await act();
        this.updated = new Date().toISOString();
        if (label !== null) this.#remember(label);
        this.#tell("changed", { label });
        return got;
      } catch (error) {
        this.#tell(error.status === 409 ? "conflict" : "failed", { error });
        throw error;
      } finally {
        this.busy -= 1;
        this.#tell("saved");
      }
    });
    this.#tail = turn.catch(() => {});
    return turn;
  }

  settled() { return this.#tail; }

  #tell(name, detail = {}) { this.dispatchEvent(new CustomEvent(name, { detail })); }

  // going back and forth

  #remember(label) {
    if (this.past[this.at]?.text === this.text) return;
    this.past.splice(this.at + 1);
    this.past.push({ text: this.text, label: label || "a change" });
    while (this.past.length > MOST) this.past.shift();
    this.at = this.past.length - 1;
    this.#keep();
  }

  #keep() {
    try {
      let kept = JSON.stringify({ past: this.past, at: this.at });
      while (kept.length > ROOM && this.past.length > 2) {
        this.past.shift();
        this.at -= 1;
        kept = JSON.stringify({ past: this.past, at: this.at });
      }
      sessionStorage.setItem(`past of ${slug}`, kept);
    } catch { /* a full or forbidden store only costs going back after a reload */ }
  }

  #recall() {
    try {
      const kept = JSON.parse(sessionStorage.getItem(`past of ${slug}`) || "null");
      if (kept?.past?.[kept.at]?.text === this.text) Object.assign(this, kept);
    } catch { /* nothing kept */ }
    if (this.at < 0) this.#remember("the draft as it was opened");
  }

  get undoable() { return this.at > 0; }

  get redoable() { return this.at < this.past.length - 1; }

  async step(way) {
    const to = this.at + way;
    if (to < 0 || to >= this.past.length) return null;
    const label = way < 0 ? this.past[this.at].label : this.past[to].label;
    await this.put(this.past[to].text, null, { remember: false });
    this.at = to;
    this.#keep();
    this.#tell("changed", { label: null, whole: true });
    return label;
  }
}
