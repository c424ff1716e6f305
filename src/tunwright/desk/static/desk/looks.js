// Looking at the draft: one quick request in flight, the newest wish wins; verdicts and charts follow when it is quiet.

import { post } from "./api.js";
import { api } from "./page.js";

const QUICK = ["side", "rear", "loads"];
const DRAGGED = ["side", "loads"]; // along the frame: the rear view waits
const SLOW = [["rear", "findings"], ["window"], ["charts"], ["remedies"]];
const QUIET = 220;

export class Looks {
  #wish = null;
  #running = false;
  #later = 0;
  #slow = null;
  #number = 0;
  #quick = Promise.resolve();

  /** show(answer, parts, wish) takes what has come; state() gives the load state. */
  constructor({ show, state, waiting, failed }) {
    Object.assign(this, { show, state, waiting, failed });
  }

  /** changes: not yet written; judge: verdicts depend on what has changed; text: a text not yet saved. */
  ask({ changes = [], judge = true, text = undefined, tag = null } = {}) {
    this.#number += 1;
    this.#wish = { changes, judge: judge || (this.#wish?.judge ?? false), text, tag, number: this.#number };
    clearTimeout(this.#later);
    if (judge || this.#slow) {
      this.#wish.judge = true;
      this.#slow?.abort();
      this.waiting(true);
    }
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
        const parts = last.tag ? DRAGGED : QUICK;
        const got = await this.#fetch(last, parts);
        this.show(got, parts, last);
        if (got.problems?.length) last = { ...last, judge: false, broken: true };
      } catch (error) {
        this.failed(error);
        last = null;
      }
    }
    this.#running = false;
    if (last?.broken) this.waiting(false);
    if (last?.judge) this.#later = setTimeout(() => this.#judge(last), QUIET);
  }

  #fetch(wish, parts, signal) {
    const body = { changes: wish.changes, state: this.state(), parts };
    if (wish.text !== undefined) body.text = wish.text;
    return post(`${api}/look`, body, { signal });
  }

  async #judge(wish) {
    const stop = new AbortController();
    this.#slow = stop;
    try {
      for (const parts of SLOW) {
        const got = await this.#fetch(wish, parts, stop.signal);
        if (stop.signal.aborted) return;
        this.show(got, parts, wish);
        if (parts.includes("findings")) this.waiting(false);
      }
    } catch (error) {
      if (error.name !== "AbortError") this.failed(error);
    } finally {
      if (this.#slow === stop) this.#slow = null;
    }
  }
}
