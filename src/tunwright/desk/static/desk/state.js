// The load state shown: fill, grade, side slope, braking, crew.

import { $, firm, make, slug } from "./page.js";

const percent = (value) => `${Number((100 * value).toFixed(1))} %`;

function options(select, rows) {
  select.replaceChildren(...rows.map(([value, words]) => make("option", { value }, words)));
  select.value = "0";
}

export class State {
  constructor(changed) {
    const tried = (id, otherwise) => Number($(id).dataset.tried) || otherwise;
    const grade = tried("grade", 0.12);
    const slope = tried("slope", 0.05);
    const braking = tried("braking", 0.5);
    options($("grade"), [[grade, `${percent(grade)} uphill`], [grade / 2, `${percent(grade / 2)} uphill`], [0, "level"], [-grade / 2, `${percent(grade / 2)} downhill`], [-grade, `${percent(grade)} downhill`]]);
    options($("slope"), [[slope, `${percent(slope)} right high`], [0, "level"], [-slope, `${percent(slope)} left high`]]);
    options($("braking"), [[0, "none"], [braking / 2, `${braking / 2} g`], [braking, `${braking} g`]]);
    this.#recall();
    for (const id of ["fill", "grade", "slope", "braking", "crew"]) $(id).addEventListener("input", () => { this.#keep(); this.words(); changed(id); });
    this.words();
  }

  get fill() { return Number($("fill").value) / 100; }

  read() {
    return { fill: this.fill, grade: Number($("grade").value), slope: Number($("slope").value), braking: Number($("braking").value), crew: $("crew").checked };
  }

  words(water) {
    if (water !== undefined) this.water = water;
    const words = firm(`${$("fill").value} %${this.water ? ` · ${this.water}` : ""}`);
    $("fill-words").textContent = words;
    $("fill").setAttribute("aria-valuetext", words);
  }

  #keep() { try { sessionStorage.setItem(`state of ${slug}`, JSON.stringify(this.read())); } catch { /* only forgotten */ } }

  #recall() {
    try {
      const kept = JSON.parse(sessionStorage.getItem(`state of ${slug}`) || "null");
      if (!kept) return;
      $("fill").value = String(Math.round(100 * kept.fill));
      for (const id of ["grade", "slope", "braking"]) if ([...$(id).options].some((one) => Number(one.value) === kept[id])) $(id).value = String(kept[id]);
      $("crew").checked = kept.crew;
    } catch { /* nothing kept */ }
  }
}
