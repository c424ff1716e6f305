// Others at the same build: looked for now and then, while the page is in sight.

import { get } from "./api.js";
import { $, api, notice, when } from "./page.js";

const EVERY = 20_000;

export function watch(draft, first, { conflict }) {
  let told = "";
  draft.newest = first.newest;
  const tell = (got) => {
    const others = (got.others || []).map((one) => `${one.owner}, ${when(one.updated)}`).join("; ");
    const newer = got.newest && got.newest > draft.base;
    const words = [
      newer ? `Revision ${got.newest} has been saved since this draft was begun on revision ${draft.base}.` : "",
      others ? `Also at work on this build: ${others}.` : "",
    ].filter(Boolean).join(" ");
    if (words === told) return;
    told = words;
    notice("others", words, newer ? [
      ["Compare", () => { location.href = `${location.pathname.replace(/\/$/, "")}/revisions?from=${got.newest}&to=draft`; }],
      ["Keep mine, over it", () => draft.put(draft.text, `kept over revision ${got.newest}`, { base: got.newest }).then(() => { told = ""; notice("others", ""); }, () => {})],
    ] : []);
  };
  tell(first);
  setInterval(async () => {
    if (document.hidden || draft.busy) return;
    const version = draft.version;
    const got = await get(`${api}/draft`).catch(() => null);
    if (!got || draft.busy || version !== draft.version) return;
    if (got.version !== version && got.text !== draft.text) conflict(got);
    else if (got.version !== version) draft.version = got.version;
    if (!$("notice-conflict")) tell(got);
  }, EVERY);
}
