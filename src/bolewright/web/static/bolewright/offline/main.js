// Working without signal: pages of the open job are kept on the device, entries too, and are sent when there is signal.
import { changed, sendAll, state } from "./send.js";
import { renew, tellNow } from "./line.js";
import { showKept } from "./shown.js";
import { startCells } from "./cells.js";
import { list } from "./list.js";
import "./forms.js";

const EVERY = 5000; // milliseconds between tries while something waits
const QUIET = 6000; // after the last entry, before the pages are kept again
const MARK = "bolewright-kept-pages";
const job = document.body.dataset.job;

async function renewAll() {
  await Promise.all([renew(), showKept(), list()].map((work) => work.catch(() => undefined)));
}

document.addEventListener("kept-changed", renewAll);
window.addEventListener("online", () => { state.signal = "here"; sendAll().then(() => document.dispatchEvent(new Event("kept-changed"))); });
window.addEventListener("offline", () => { state.signal = "none"; renewAll(); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) sendAll().then(renewAll); });
setInterval(() => sendAll().catch(() => undefined), EVERY);

/** Has the pages of this job kept, when any may have changed since. */
async function keepPages() {
  const worker = navigator.serviceWorker?.controller;
  if (!worker || !job || state.signal !== "here") return;
  const [of, known] = (localStorage.getItem(MARK) ?? "").split(" ");
  const answer = await fetch(`/job/${job}/to-keep?mark=${of === job ? known : ""}`, { cache: "no-store" });
  if (!answer.ok || answer.redirected) return;
  const asked = await answer.json();
  if (localStorage.getItem(MARK) === `${job} ${asked.mark}`) return;
  const reply = new MessageChannel();
  reply.port1.onmessage = ({ data }) => {
    if (data.kept) { localStorage.setItem(MARK, `${job} ${asked.mark}`); document.documentElement.dataset.ready = "1"; }
  };
  worker.postMessage({ keep: { job, pages: asked.pages } }, [reply.port2]);
}

// Whoever signs out leaves no pages of jobs on the device; entries not yet sent stay until they sign in again.
document.addEventListener("submit", (event) => {
  if (event.target.action?.endsWith("/sign-out")) navigator.serviceWorker?.controller?.postMessage({ forget: true });
});

let quiet;
const keepSoon = (after = QUIET) => { clearTimeout(quiet); quiet = setTimeout(() => keepPages().catch(() => undefined), after); };
document.addEventListener("page-changed", () => keepSoon());

async function start() {
  tellNow();
  await startCells();
  await renewAll();
  changed();
  sendAll().then(renewAll).catch(() => undefined);
  if (!("serviceWorker" in navigator)) return;
  navigator.storage?.persist?.().catch(() => undefined);
  await navigator.serviceWorker.register("/worker.js");
  await navigator.serviceWorker.ready;
  if (!navigator.serviceWorker.controller) await new Promise((go) => navigator.serviceWorker.addEventListener("controllerchange", go, { once: true }));
  document.documentElement.dataset.worker = "1";
  keepSoon(300);
}

start().catch(() => undefined);
