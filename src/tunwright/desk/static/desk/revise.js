// Saving a revision: a text for good, with a note.

import { post } from "./api.js";
import { $, api, notice, say } from "./page.js";

export class Revise {
  #over = false;

  constructor(draft, flush) {
    Object.assign(this, { draft, flush });
    $("revise").addEventListener("click", () => this.#ask());
    $("revise-no").addEventListener("click", () => $("revise-dialog").close());
    $("revise-over").addEventListener("click", () => { this.#over = true; this.#save(); });
    $("revise-form").addEventListener("submit", (event) => { event.preventDefault(); this.#over = false; this.#save(); });
  }

  #ask() {
    this.flush();
    $("revise-wrong").textContent = "";
    $("revise-over").hidden = true;
    $("revise-dialog").showModal();
    $("note").focus();
  }

  async #save() {
    await this.draft.settled();
    $("revise-yes").disabled = true;
    const body = { version: this.draft.version, note: $("note").value.trim(), base: this.draft.base };
    if (this.#over) body.over = true;
    try {
      const { number } = await post(`${api}/revisions`, body);
      this.draft.base = number;
      if (this.draft.newest !== undefined) this.draft.newest = number;
      $("note").value = "";
      $("revise-dialog").close();
      $("build-words").textContent = `revision ${number}`;
      notice("revised", `Saved as revision ${number}.`);
      say(`Saved as revision ${number}`);
      this.draft.dispatchEvent(new CustomEvent("saved"));
    } catch (error) {
      const first = error.problems?.[0];
      $("revise-wrong").textContent = `${error.said || error.message}${first ? ` ${first.line ? `Line ${first.line}: ` : ""}${first.message}` : ""}`;
      $("revise-over").hidden = error.status !== 409;
    } finally { $("revise-yes").disabled = false; }
  }
}
