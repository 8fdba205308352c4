// A stop takes effect on this device at once, whatever the line does. The mark is written at once, without waiting for a disk.

const place = () => `bolewright-stopped-${document.body.dataset.job ?? ""}`;

/** "since" when work was stopped here, "on" when it was said here that it goes on, "" when nothing was said here. */
export const saidHere = () => { try { return localStorage.getItem(place()) ?? ""; } catch { return ""; } };

function mark(value) {
  try { if (value) localStorage.setItem(place(), value); else localStorage.removeItem(place()); } catch { /* no room: the sheet still shows */ }
}

export function stopHere(since) { mark(since); show(); cover(); }

export function goOnHere() { mark("on"); show(); uncover(); }

/** The server knows: what it says counts again. */
export const forget = () => mark("");

export const isStopped = () => {
  const here = saidHere();
  return here ? here !== "on" : "stopped" in document.body.dataset;
};

const clock = (iso) => new Date(iso).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });

/** The band on every page, and whether steps may be ticked. */
export function show() {
  const stopped = isStopped();
  document.body.classList.toggle("stopped-here", stopped);
  const here = saidHere();
  const band = document.getElementById("stopped-band");
  if (band) {
    band.hidden = !(stopped && here);
    if (stopped && here) band.querySelector("[data-since]").textContent = clock(here);
  }
  const served = document.querySelector(".is-stopped:not(#stopped-band)");
  if (served) served.hidden = here !== "";
  document.dispatchEvent(new Event("stop-changed"));
}

function cover() {
  if (document.querySelector(".stop-cover")) return;
  const from = document.getElementById("stopped-here");
  if (!from) return;
  document.body.append(from.content.cloneNode(true));
  const sheet = document.querySelector(".stop-cover");
  sheet.querySelector("[data-look]").addEventListener("click", uncover);
  sheet.querySelector("[data-time]").textContent = clock(saidHere() || new Date().toISOString());
  sheet.focus();
}

function uncover() { document.querySelector(".stop-cover")?.remove(); }
