// The list of builds: small side views, all to one scale.

import { get, post } from "./api.js";
import { $, make, mark, notice, picture, say, when } from "./page.js";
import { bare, Way } from "./view.js";

const SCALE = () => (window.innerWidth < 420 ? 24 : 27); // pixels a metre

async function thumb(place, url) {
  const text = await fetch(url, { credentials: "same-origin" }).then((answer) => (answer.ok ? answer.text() : "")).catch(() => "");
  const svg = text && picture(text);
  if (!svg) return;
  place.classList.add("compact");
  place.replaceChildren(svg);
  if (!svg.dataset.scale) { svg.setAttribute("height", "80"); svg.removeAttribute("width"); return; }
  const way = new Way(svg);
  const rect = bare(svg, way);
  const box = way.box(rect);
  svg.setAttribute("viewBox", box.map((one) => one.toFixed(2)).join(" "));
  svg.setAttribute("width", ((rect.right - rect.left) * SCALE()).toFixed(0));
  svg.setAttribute("height", ((rect.top - rect.bottom) * SCALE()).toFixed(0));
}

function row(build) {
  const view = make("div", { class: "thumb" });
  if (build.side_svg_url) thumb(view, `${build.side_svg_url}${build.side_svg_url.includes("?") ? "&" : "?"}theme=css`);
  const archive = make("button", { type: "button", onclick: () => put(build, !build.archived) }, build.archived ? "Take back" : "Archive");
  archive.setAttribute("aria-label", `${archive.textContent}: ${build.title}`);
  return make("li", {}, view,
    make("div", {}, make("a", { class: "title", href: `/b/${build.slug}/` }, build.title),
      make("p", { class: "who" }, build.revision ? `revision ${build.revision}` : "no revision yet", build.author ? ` by ${build.author}` : "", `, ${when(build.updated)}`),
      make("span", { class: "stage" }, `stage: ${build.stage}${build.archived ? ", archived" : ""}`)),
    make("div", {}, build.verdict ? make("span", { class: `verdict v-${build.verdict}` }, mark(build.verdict), build.verdict) : make("span", { class: "soft" }, "not judged yet"),
      make("p", { class: "stage" }, rest(build))),
    make("div", { class: "buttons no-print" }, build.revision ? make("a", { class: "button", href: `/api/builds/${build.slug}/revisions/${build.revision}/text`, download: `${build.slug}-r${build.revision}.toml`, "aria-label": `Export ${build.title}` }, "Export") : null, archive));
}

const rest = (build) => Object.entries(build.counts || {}).filter(([, count]) => count).map(([name, count]) => `${count} ${{ fails: "fail", holds: "hold" }[name] || name}`).join(", ");

async function put(build, archived) {
  try {
    await post(`/api/builds/${build.slug}/archive`, { archived });
    say(`${build.title} ${archived ? "archived" : "taken back"}`);
    await fill();
  } catch (error) { notice("archive", error.said || error.message, [], true); }
}

async function fill() {
  try {
    const { builds } = await get(`/api/builds${$("archived").checked ? "?archived=1" : ""}`);
    $("builds").replaceChildren(...(builds.length ? builds.map(row) : [make("li", { class: "empty" }, "No builds yet. ", make("a", { href: "/new" }, "Begin one"), ".")]));
  } catch (error) {
    $("builds").replaceChildren(make("li", { class: "empty" }, error.said || error.message));
  }
  $("builds").removeAttribute("aria-busy");
}

$("archived").addEventListener("change", fill);
$("scale-bar").style.setProperty("--metres", `${5 * SCALE()}px`);
fill();
