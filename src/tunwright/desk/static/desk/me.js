// Settings are kept as soon as they are chosen; the password is changed by its button.

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

const FIELDS = ["old", "new", "again"];

/** What is missing before the desk is asked: [field, sentence], or nothing. */
function lacking() {
  if (!$("old").value) return ["old", "Type your present password."];
  if (!$("new").value) return ["new", "Type the new password."];
  if ($("new").value !== $("again").value) return ["again", "The two new passwords are not the same. Type the new one again."];
  return null;
}

/** Say what is wrong, at the field it is wrong in. */
function wrong(field, words) {
  for (const one of FIELDS) {
    const told = [one === "new" ? "new-help" : "", one === field ? "password-wrong" : ""].join(" ").trim();
    if (told) $(one).setAttribute("aria-describedby", told);
    else $(one).removeAttribute("aria-describedby");
    $(one).setAttribute("aria-invalid", String(one === field));
  }
  $("password-said").textContent = "";
  $("password-wrong").textContent = words;
  if (field) $(field).focus();
}

let asking = false;
$("password")?.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (asking) return;
  const lacks = lacking();
  if (lacks) { wrong(...lacks); return; }
  asking = true;
  try {
    await put("/api/me/password", { old: $("old").value, new: $("new").value });
    wrong(null, "");
    $("password").reset();
    $("password-said").textContent = "The password is changed. Other devices you are logged in on must log in again.";
  } catch (error) {
    wrong(FIELDS.find((one) => one === error.problems?.[0]?.path) ?? null, error.said || error.message);
  } finally { asking = false; }
});
