// Settings are kept as soon as they are chosen.

import { put } from "./api.js";
import { $ } from "./page.js";

$("me").addEventListener("change", async () => {
  const wish = Object.fromEntries(new FormData($("me")));
  if (wish.theme === "auto") delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = wish.theme;
  try {
    await put("/api/me", wish);
    $("me-said").textContent = "Kept.";
  } catch (error) { $("me-said").textContent = error.said || error.message; }
});
$("me").addEventListener("submit", (event) => event.preventDefault());
