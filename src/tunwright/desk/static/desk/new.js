// A new build: from a layout, a file, a copy or a demo.

import { get, post } from "./api.js";
import { $, make } from "./page.js";

const LARGEST = 1_000_000;

async function wish(form) {
  const data = Object.fromEntries(new FormData(form));
  const from = form.dataset.from;
  if (from !== "text") return { from, ...(from === "copy" ? { build: data.build } : data) };
  const file = data.file;
  if (file.size > LARGEST) throw new Error(`${file.name} has ${(file.size / 1e6).toFixed(1)} MB; a build file has at most 1 MB.`);
  const text = new TextDecoder("utf-8", { fatal: true });
  try {
    return { from, name: file.name, text: text.decode(await file.arrayBuffer()) };
  } catch { throw new Error(`${file.name} is not UTF-8 text. A build file is a text file ending in .toml.`); }
}

function wrong(error) {
  const problems = error.problems || [];
  $("new-wrong").replaceChildren(make("section", { class: "panel" }, make("p", { class: "wrong" }, error.said || error.message),
    make("ol", {}, problems.map((one) => make("li", {}, one.line ? `line ${one.line}: ` : "", one.path ? make("code", {}, one.path) : "", ` ${one.message}`, one.allowed ? make("small", {}, ` Allowed: ${one.allowed}.`) : null, one.example ? make("small", {}, ` Example: ${one.example}`) : null)))));
  $("new-wrong").scrollIntoView({ block: "nearest" });
}

for (const form of document.querySelectorAll("form[data-from]")) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const button = form.querySelector("button");
    button.disabled = true;
    try {
      const { slug } = await post("/api/builds", await wish(form));
      location.href = `/b/${slug}/`;
    } catch (error) { wrong(error); button.disabled = false; }
  });
}

const drop = $("drop");
for (const name of ["dragover", "dragenter"]) drop.addEventListener(name, (event) => { event.preventDefault(); drop.classList.add("over"); });
drop.addEventListener("dragleave", () => drop.classList.remove("over"));
drop.addEventListener("drop", (event) => {
  event.preventDefault();
  drop.classList.remove("over");
  if (event.dataTransfer.files.length) $("new-file").files = event.dataTransfer.files;
});

get("/api/builds").then(({ builds }) => $("new-copy").append(...builds.map((one) => make("option", { value: one.slug }, one.title)))).catch(() => {});
