// Small help for the sheet: Enter goes on to the next cell, and an entry the server has not taken is said and sent again.
"use strict";
(() => {
  const sheet = () => document.getElementById("sheet");
  const say = (text) => { const p = document.getElementById("said"); if (p) { p.textContent = text; p.classList.toggle("fault", text.startsWith("NOT SAVED")); } };
  const cellOf = (input) => input.closest(".cell");
  const waiting = new Set();

  document.querySelector(".stages [aria-current]")?.scrollIntoView({ inline: "center", block: "nearest" });

  document.addEventListener("keydown", (event) => {
    const input = event.target;
    if (event.key !== "Enter" || input.tagName !== "INPUT" || !sheet()?.contains(input)) return;
    event.preventDefault();
    const all = [...sheet().querySelectorAll("input:not([type=hidden]), select, textarea")];
    const next = all[all.indexOf(input) + 1];
    if (next) next.focus(); else input.blur();
  });

  const failed = (event, why) => {
    const input = event.detail.elt;
    if (!input.name || !sheet()?.contains(input)) return;
    cellOf(input)?.classList.add("unsent");
    waiting.add(input.id);
    say(why);
  };
  // After signing in again in another tab this page's own token is old; the cookie's is not.
  document.addEventListener("htmx:configRequest", (event) => {
    const token = document.cookie.match(/(?:^|; )csrftoken=([^;]+)/);
    if (token) event.detail.headers["x-csrftoken"] = token[1];
  });
  document.addEventListener("htmx:sendError", (event) => failed(event,
    "NOT SAVED: the server does not answer. What you typed stands in the page and is sent again by itself."));
  document.addEventListener("htmx:timeout", (event) => failed(event,
    "NOT SAVED: the server is slow. What you typed stands in the page and is sent again by itself."));
  document.addEventListener("htmx:responseError", (event) => failed(event,
    event.detail.xhr.status === 401
      ? "NOT SAVED: you are signed out. Sign in in another tab: what you typed stands in the page and is sent again by itself."
      : event.detail.xhr.status === 403
      ? "NOT SAVED: this page is older than the server. Copy what you typed, load the page again, and enter it there."
      : "NOT SAVED: the server refused it. What you typed stands in the page."));
  document.addEventListener("htmx:afterRequest", (event) => {
    const input = event.detail.elt;
    if (event.detail.successful && input.id) { waiting.delete(input.id); cellOf(input)?.classList.remove("unsent"); }
  });

  // Somebody else added or took away rows: the page is renewed, and what was typed but not saved is told again.
  const KEPT = "bolewright-not-saved";
  document.addEventListener("rows-moved", () => {
    const typed = [...sheet().querySelectorAll("input:not([type=hidden]), textarea")]
      .filter((input) => input.value !== input.defaultValue)
      .map((input) => `${input.getAttribute("aria-label")}: ${input.value}`);
    sessionStorage.setItem(KEPT, typed.join("; "));
    waiting.clear();
    location.reload();
  });
  const kept = sessionStorage.getItem(KEPT);
  if (kept !== null && document.getElementById("said")) {
    sessionStorage.removeItem(KEPT);
    say("Somebody else added or took away rows, so the page was renewed. Your last entry was saved or is kept beside it. "
      + (kept ? `Look whether these stand, and enter them again if not: ${kept}` : ""));
  }

  const again = () => {
    for (const id of waiting) {
      const input = document.getElementById(id);
      if (input) htmx.trigger(input, "change"); else waiting.delete(id);
    }
  };
  window.addEventListener("online", again);
  setInterval(() => { if (waiting.size && navigator.onLine) again(); }, 5000);
  window.addEventListener("beforeunload", (event) => { if (waiting.size) event.preventDefault(); });
})();
