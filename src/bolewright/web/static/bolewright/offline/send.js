// Sending what is kept, in order, one at a time, each under its own key. Stops go first.
import { change, drop, entries, sent, taken } from "./store.js";

const SHORT = 20000; // milliseconds
const LONG = 180000; // with a photograph
const MOST_FAILURES = 4;
const OPEN = new Set(["waiting", "trying"]);

/** signal: "here" | "none" | "signed out" | "trouble"; refuses: this device could not keep what was entered last */
export const state = { signal: navigator.onLine && !document.documentElement.dataset.keptAt ? "here" : "none", refuses: false };

const other = "BroadcastChannel" in window ? new BroadcastChannel("bolewright-kept") : null;
if (other) other.onmessage = () => document.dispatchEvent(new Event("kept-changed"));

/** Tells this page and the others that what is kept has changed. */
export function changed() {
  document.dispatchEvent(new Event("kept-changed"));
  other?.postMessage(0);
}

/** Each person's entries go out under that person's name: others' wait until they sign in again. */
export const isMine = (entry) => !entry.person || entry.person === document.body.dataset.person;

/** Entries still to be sent, stops first, else in the order they were made. */
export async function toSend() {
  const open = (await entries()).filter((entry) => OPEN.has(entry.state) && isMine(entry));
  return [...open.filter((entry) => entry.urgent), ...open.filter((entry) => !entry.urgent)];
}

let again = false;
let running = null;

/** Sends until nothing waits or nobody answers. One page at a time does this. */
export function sendAll() {
  again = true;
  running ??= guarded().finally(() => { running = null; });
  return running;
}

function guarded() {
  if (!navigator.locks) return drain();
  return navigator.locks.request("bolewright-send", drain);
}

async function drain() {
  while (again) {
    again = false;
    for (let left = await toSend(); left.length; left = await toSend()) {
      if (!await sendOne(left[0])) return;
    }
    await ask();
  }
}

/** Nothing waits: is there signal again? */
async function ask() {
  if (state.signal === "here") return;
  const found = await fetch("/worker.js", { method: "HEAD", cache: "no-store" }).catch(() => null);
  if (found) state.signal = "here"; else if (state.signal !== "none") state.signal = "none"; else return;
  document.dispatchEvent(new Event("kept-changed"));
}

/** Whether the next one may be tried. */
async function sendOne(entry) {
  let answer;
  try {
    answer = await post(entry);
  } catch {
    return stay("none");
  }
  if (answer.status === 401 || answer.redirected) return stay("signed out");
  if (answer.status === 403 && !entry.renewed) {
    await change(entry.n, { renewed: true });
    await renewToken();
    return true;
  }
  if (answer.status >= 500) return failed(entry);
  const told = await read(answer);
  state.signal = "here";
  if (told.taken) {
    await taken(entry, { ...told, key: entry.key, words: entry.words, made: entry.made, job: entry.job, at: new Date().toISOString(), late: entry.late });
  } else {
    await change(entry.n, { state: "refused", said: told.said, late: true });
  }
  changed();
  return true;
}

async function stay(signal) {
  state.signal = signal;
  for (const entry of await toSend()) if (!entry.late) await change(entry.n, { state: "waiting", late: true });
  changed();
  return false;
}

/** The server itself is in trouble: wait, but one entry does not hold up the rest for ever. */
async function failed(entry) {
  const failures = (entry.failures ?? 0) + 1;
  const gaveUp = failures >= MOST_FAILURES;
  await change(entry.n, gaveUp
    ? { state: "refused", failures, late: true, said: ["The server failed on this entry. It stays here: send it again later."] }
    : { state: "waiting", failures, late: true });
  state.signal = "trouble";
  changed();
  return gaveUp;
}

async function read(answer) {
  const plain = { taken: false, said: [`The server did not take it (${answer.status}). It stays here.`], place: "" };
  if (answer.status === 413) plain.said = ["This is too large for the server. The original stays where it was taken."];
  if (!answer.headers.get("content-type")?.includes("json")) return plain;
  return answer.json().then((told) => ({ ...plain, ...told, said: told.said?.length || told.taken ? told.said ?? [] : plain.said }));
}

function post(entry) {
  const body = new FormData();
  let large = false;
  for (const [name, value] of entry.fields) {
    if (value instanceof Blob) { body.append(name, value, value.name || "photograph"); large = true; } else body.append(name, value);
  }
  const headers = { "X-CSRFToken": token(), "Entry-Key": entry.key, "Entry-Sheet": entry.sheet, Accept: "application/json" };
  if (entry.late) headers["Entry-Made"] = entry.made;
  const stop = new AbortController();
  const clock = setTimeout(() => stop.abort(), large ? LONG : SHORT);
  const asked = { method: "POST", body, headers, signal: stop.signal, keepalive: !large && entry.urgent, cache: "no-store" };
  return fetch(entry.url, asked).finally(() => clearTimeout(clock));
}

/** The token of forms as the cookie has it now: a page kept for days has an old one. */
const token = () => document.cookie.match(/(?:^|;\s*)csrftoken=([^;]*)/)?.[1] ?? "";

const renewToken = () => fetch("/kept", { cache: "no-store" }).catch(() => undefined);

/** What became of an entry: {state: "sent", place, said} | {state: "refused", said} | {state: "waiting"} */
export async function fate(key) {
  const left = (await entries()).find((entry) => entry.key === key);
  if (left) return { state: left.state === "refused" ? "refused" : "waiting", said: left.said ?? [], n: left.n };
  const told = (await sent()).find((row) => row.key === key);
  return { state: "sent", place: told?.place ?? "", said: told?.said ?? [] };
}

export const letGo = async (n) => { await drop(n); changed(); };

export async function sendAgain(n) {
  await change(n, { state: "waiting", failures: 0, renewed: false });
  changed();
  return sendAll();
}
