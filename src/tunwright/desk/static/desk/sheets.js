// Sheets are made in the background; each says how far it is.

import { get, post } from "./api.js";
import { $, api, make, notice, say } from "./page.js";

const jobs = {};
const pause = (ms) => new Promise((done) => { setTimeout(done, ms); });

function parts(row) {
  return { how: row.querySelector(".how"), open: row.querySelector("a"), load: row.querySelector("a[download]"), button: row.querySelector("button"), name: row.querySelector("h3").textContent };
}

function source() {
  const value = $("source").value;
  return value === "draft" ? { draft: true } : { revision: Number(value) };
}

const from = () => $("source").selectedOptions[0].textContent;

async function start(row) {
  const { how, open, load, button } = parts(row);
  open.hidden = true;
  load.hidden = true;
  button.disabled = true;
  how.textContent = "waiting …";
  try {
    const { job } = await post(`${api}/sheets`, { kind: row.dataset.kind, ...source() });
    jobs[row.dataset.kind] = { id: typeof job === "string" ? job : job.id, of: from() };
    await follow(row);
  } catch (error) {
    how.replaceChildren(make("span", { class: "wrong" }, `${error.said || error.message}${error.problems?.[0] ? ` ${error.problems[0].message}` : ""}`));
  } finally { button.disabled = false; }
}

async function follow(row, told = true) {
  const { how, open, load, name } = parts(row);
  const { id, of } = jobs[row.dataset.kind];
  const bar = make("progress", { max: "1", "aria-label": `${name}: how far it is` });
  for (let wait = 150; ; wait = Math.min(900, wait * 1.4)) {
    const job = await get(`/api/jobs/${id}`);
    if (job.state === "done") {
      how.textContent = `made from ${of}`;
      open.href = job.url || `/api/jobs/${id}/file`;
      open.hidden = false;
      load.href = `${open.getAttribute("href")}?download=1`;
      load.hidden = false;
      load.setAttribute("aria-label", `Download ${name}`);
      open.setAttribute("aria-label", `Open ${name}`);
      if (told) say(`${name} is made`);
      return;
    }
    if (job.state === "failed") { how.replaceChildren(make("span", { class: "wrong" }, job.words || "could not be made")); return; }
    if (job.progress) bar.value = job.progress;
    how.replaceChildren(bar, make("span", {}, job.words || (job.state === "waiting" ? "waiting …" : "being made …")));
    await pause(wait);
  }
}

for (const row of document.querySelectorAll("[data-kind]")) {
  row.querySelector("button").addEventListener("click", () => start(row));
}
get(`${api}/sheets`).then(({ jobs: made }) => {
  for (const job of [...made].reverse()) jobs[job.kind] = { id: job.id, of: job.of === "draft" ? "the draft" : job.of.replace(/^r(\d+)$/, "revision $1") };
  for (const row of document.querySelectorAll("[data-kind]")) if (jobs[row.dataset.kind]) follow(row, false).catch(() => { parts(row).how.textContent = ""; });
}).catch(() => {});
get(api).then(({ revisions }) => {
  $("source").append(...[...revisions].sort((a, b) => b.number - a.number).map((one) => make("option", { value: one.number }, `revision ${one.number}${one.note ? `, ${one.note.slice(0, 40)}` : ""}`)));
}).catch((error) => notice("failed", error.said || error.message, [], true));
