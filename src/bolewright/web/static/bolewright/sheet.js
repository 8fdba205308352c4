// Small help for the sheet: Enter goes on to the next cell, and a page whose rows have moved is renewed.
"use strict";
(() => {
  const sheet = () => document.getElementById("sheet");
  const say = (text) => { const p = document.getElementById("said"); if (p) { p.textContent = text; p.classList.toggle("fault", text.startsWith("NOT SAVED")); } };

  document.querySelector(".stages [aria-current]")?.scrollIntoView({ inline: "center", block: "nearest" });

  document.addEventListener("keydown", (event) => {
    const input = event.target;
    if (event.key !== "Enter" || input.tagName !== "INPUT" || !sheet()?.contains(input)) return;
    event.preventDefault();
    const all = [...sheet().querySelectorAll("input:not([type=hidden]), select, textarea")];
    const next = all[all.indexOf(input) + 1];
    if (next) next.focus(); else input.blur();
  });

  // After signing in again in another tab this page's own token is old; the cookie's is not.
  document.addEventListener("htmx:configRequest", (event) => {
    const token = document.cookie.match(/(?:^|; )csrftoken=([^;]+)/);
    if (token) event.detail.headers["x-csrftoken"] = token[1];
  });

  // Somebody else added or took away rows: the page is renewed, and what was typed but not saved is told again.
  const KEPT = "bolewright-not-saved";
  document.addEventListener("rows-moved", () => {
    const typed = [...sheet().querySelectorAll("input:not([type=hidden]), textarea")]
      .filter((input) => input.value !== input.defaultValue)
      .map((input) => `${input.getAttribute("aria-label")}: ${input.value}`);
    sessionStorage.setItem(KEPT, typed.join("; "));
    location.reload();
  });
  const kept = sessionStorage.getItem(KEPT);
  if (kept !== null && document.getElementById("said")) {
    sessionStorage.removeItem(KEPT);
    say("Somebody else added or took away rows, so the page was renewed. Your last entry was saved or is kept beside it. "
      + (kept ? `Look whether these stand, and enter them again if not: ${kept}` : ""));
  }

})();
