// Looking at the draft: one quick request in flight, the newest wish wins; verdicts and charts follow when it is quiet.

import { post } from "./api.js";
import { api } from "./page.js";

const FIRST = ["side", "loads"];
const NEXT = ["rear"]; // at once where nothing newer is wanted; while something moves only when it is quiet
const SLOW = [["first"], ["findings"], ["charts"], ["frame"], ["remedies"]];
const QUIET = 220;
const STILL = 500; // what takes long begins only when nothing has moved for this much longer
const PAGE = crypto.getRandomValues(new Uint32Array(2)).join("-"); // this page's mark: its newer looks drop its older ones

export class Looks {
  #wish = null;
  #due = false; // verdicts are owed
  #running = false;
  #later = 0;
  #slow = null;
  #number = 0;
  #asked = -Infinity; // when
  #quick = Promise.resolve();

  /** show(answer, parts, wish) takes what has come; state() gives the load state; lost(): verdicts will not come. */
  constructor({ show, state, waiting, lost, failed }) {
    Object.assign(this, { show, state, waiting, lost, failed });
  }

  /** changes: not yet written; judge: verdicts depend on what has changed; text: a text not yet saved. */
  ask({ changes = [], judge = true, text = undefined, tag = null } = {}) {
    this.#number += 1;
    const moving = Boolean(tag) || performance.now() - this.#asked < QUIET;
    this.#asked = performance.now();
    this.#wish = { changes, text, tag, moving, number: this.#number };
    clearTimeout(this.#later);
    this.#slow?.abort();
    if (judge) this.waiting(true);
    this.#due ||= judge;
    if (!this.#running) this.#quick = this.#run();
    return this.#number;
  }

  /** When every quick look asked for is back. */
  settled() { return this.#quick; }

  async #run() {
    this.#running = true;
    let last = null;
    while (this.#wish) {
      last = this.#wish;
      this.#wish = null;
      try {
        const got = await this.#fetch(last, FIRST, { hurry: true });
        last.late = [...(got.later || []), ...(last.moving ? NEXT : [])];
        this.show(got, FIRST, last);
        if (got.problems?.length && !this.#wish) this.#settle();
        else if (!got.problems?.length && !last.moving && !this.#wish) this.show(await this.#fetch(last, NEXT), NEXT, last);
      } catch (error) {
        this.#fail(error);
        last = null;
      }
    }
    this.#running = false;
    if (last && (this.#due || last.late.length)) this.#later = setTimeout(() => this.#judge(last), QUIET);
  }

  /** Nothing is being worked out any more; verdicts stay owed. */
  #fail(error) {
    this.lost();
    this.failed(error);
  }

  #settle() {
    this.#due = false;
    this.waiting(false);
  }

  #fetch(wish, parts, { hurry = false, signal } = {}) {
    const body = { changes: wish.changes, state: this.state(), parts, hurry, page: PAGE };
    if (wish.text !== undefined) body.text = wish.text;
    return post(`${api}/look`, body, { signal });
  }

  async #judge(wish) {
    const stop = new AbortController();
    this.#slow = stop;
    try {
      for (const parts of [[...wish.late, "window"], ...(this.#due ? SLOW : [])]) {
        if (parts.includes("findings")) await still(stop.signal);
        const got = await this.#fetch(wish, parts, { signal: stop.signal });
        if (stop.signal.aborted) return;
        this.show(got, parts, wish);
        if (parts === SLOW.at(-1)) this.#settle();
        else if (parts.includes("findings")) this.waiting(false);
      }
    } catch (error) {
      if (error.name !== "AbortError") this.#fail(error);
    } finally {
      if (this.#slow === stop) this.#slow = null;
    }
  }
}

/** Waits until nothing has moved for a while; stops with an AbortError where something has. */
const still = (signal) => new Promise((done, stopped) => {
  const timer = setTimeout(done, STILL);
  signal.addEventListener("abort", () => { clearTimeout(timer); stopped(new DOMException("moved on", "AbortError")); });
});
