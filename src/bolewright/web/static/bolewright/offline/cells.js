// Cells of the sheet: each is kept on the device before it is sent, and stays there until the server has taken it.
import { change, drop, entries, keep, newKey } from "./store.js";
import { changed, sendAll, state } from "./send.js";

const sheet = () => document.getElementById("sheet");
const base = () => document.getElementById("base")?.value ?? "";
const pathOf = (address) => new URL(address, location.href).pathname;
const inSheet = (input) => Boolean(input?.name?.includes("/") && sheet()?.contains(input));
const told = (text) => { const p = document.getElementById("said"); if (p) { p.textContent = text; p.classList.toggle("fault", text.startsWith("NOT")); } };

let sheetKey = newKey();
let through = false; // once one entry of this page had to be kept, all later ones go the same way, so that none overtakes another
let kept = 0;
const unkept = new Set(); // inputs whose entry this device could not keep; they stand in the page and are sent from there

const shownValue = (input) => input.selectedOptions?.[0]?.textContent ?? input.value;
const wordsOf = (input) => `${input.getAttribute("aria-label")?.replace(/, plain numbers are.*/, "") ?? input.name}: ${shownValue(input) || "taken out"}`;

function entryOf(fields, words) {
  return {
    key: newKey(), sheet: sheetKey, job: document.body.dataset.job, url: pathOf(sheet().action), fields: [["base", base()], ...fields],
    words, kind: "cell", urgent: false, made: new Date().toISOString(), state: "trying", late: false,
    person: document.body.dataset.person ?? "",
  };
}

document.addEventListener("htmx:configRequest", (event) => {
  const input = event.detail.elt;
  if (!inSheet(input)) return;
  const entry = entryOf([[input.name, input.value]], wordsOf(input));
  event.detail.headers["Entry-Key"] = entry.key;
  event.detail.headers["Entry-Sheet"] = entry.sheet;
  input.entry = entry;
});

document.addEventListener("htmx:beforeRequest", (event) => {
  const input = event.detail.elt;
  if (!inSheet(input) || !input.entry) return;
  if (through) { event.preventDefault(); keepOne(input.entry, input); return; }
  input.entry.saved = put(input.entry);
});

const WHY = {
  none: "No signal: kept on this tablet, and sent by itself when there is signal.",
  "signed out": "You are signed out: kept on this tablet, and sent once you have signed in again.",
  trouble: "The server is in trouble: kept on this tablet, and tried again by itself.",
};

/** Puts an entry away; resolves to its number, or to a sentence why not. */
function put(entry) {
  const { saved: _, ...plain } = entry;
  return keep(plain).catch((fault) => fault.message);
}

async function keepOne(entry, input, now = true) {
  through = true;
  const number = await (entry.saved ?? (entry.saved = put({ ...entry, state: "waiting", late: true })));
  if (typeof number === "string") return notKept(number, input);
  inHand(input);
  await change(number, { state: "waiting", late: true }).catch(() => undefined); // no room for that word: it is sent all the same
  kept += 1;
  input?.closest(".cell")?.classList.add("unsent");
  if (input) freshRowAfter(input);
  told(WHY[state.signal] ?? WHY.none);
  changed();
  return now ? sendAll() : undefined;
}

/** The device refused it: said, and what was typed stands in its cell until the server takes it. */
function notKept(why, input) {
  state.refuses = true;
  told(why);
  if (input) { unkept.add(input); input.closest(".cell")?.classList.add("unsent"); }
  changed();
}

function inHand(input) {
  unkept.delete(input);
  if (!unkept.size) state.refuses = false;
}

/** There is signal again and nothing waits before them: what could not be kept goes past the storage. */
async function sendUnkept() {
  if (!unkept.size || state.signal !== "here" || (await entries().catch(() => [])).some((entry) => entry.kind === "cell" && entry.state !== "refused")) return;
  through = false;
  for (const input of [...unkept]) { inHand(input); window.htmx?.trigger(input, "change"); }
}

window.addEventListener("beforeunload", (event) => { if (unkept.size) event.preventDefault(); });

const lost = (event) => { const input = event.detail.elt; if (inSheet(input) && input.entry) { state.signal = "none"; keepOne(input.entry, input, false); } };
document.addEventListener("htmx:sendError", lost);
document.addEventListener("htmx:timeout", lost);

document.addEventListener("htmx:afterRequest", async (event) => {
  const input = event.detail.elt, entry = input?.entry;
  if (!inSheet(input) || !entry?.saved || through && !event.detail.xhr?.status) return;
  const { status, responseURL } = event.detail.xhr ?? {};
  if (!status) return; // told as lost
  if (responseURL && pathOf(responseURL) !== entry.url || status === 401 || status === 403 || status >= 500) {
    state.signal = status >= 500 ? "trouble" : status === 401 ? "signed out" : state.signal;
    keepOne(entry, input);
    return;
  }
  const number = await entry.saved;
  if (typeof number === "number") await drop(number);
  if (status >= 400) told("NOT SAVED: the server refused it. What you typed stands in the page.");
  else input.closest(".cell")?.classList.remove("unsent");
  document.dispatchEvent(new Event("page-changed"));
});

// A row taken away is an entry like any other; undo needs the server.
document.addEventListener("submit", (event) => {
  if (event.target !== sheet() || event.submitter?.name !== "remove") return;
  event.preventDefault();
  const row = event.submitter.closest(".row");
  const entry = entryOf([["remove", event.submitter.value]], `${row?.querySelector("legend")?.textContent ?? "row"}: taken away`);
  takeAway(entry, row);
});

async function takeAway(entry, row) {
  const number = await put(entry);
  if (typeof number === "string" && !navigator.onLine) return told(number);
  if (typeof number === "string") return bareRemoval(entry);
  row.hidden = true;
  await sendAll();
  if ((await entries()).some((one) => one.key === entry.key)) { through = true; kept += 1; changed(); return undefined; }
  return location.reload();
}

function bareRemoval(entry) {
  const input = Object.assign(document.createElement("input"), { type: "hidden", name: "remove", value: entry.fields[1][1] });
  sheet().append(input);
  HTMLFormElement.prototype.submit.call(sheet());
}

/** One empty row more once the last one is begun, as the server would have sent it. */
function freshRowAfter(input) {
  const row = input.closest(".row.fresh");
  if (!row || row.dataset.begun) return;
  const [whole, from, n] = input.name.match(/^(.*?)\/(\d+)\//) ?? [];
  if (!whole) return;
  row.dataset.begun = "1";
  const next = row.cloneNode(true);
  delete next.dataset.begun;
  const here = `${from}/${n}/`, there = `${from}/${Number(n) + 1}/`;
  const id = (text) => `c-${text.replace(/[/_]/g, "-")}`;
  for (const part of next.querySelectorAll("*")) {
    for (const { name, value } of [...part.attributes]) part.setAttribute(name, value.replaceAll(here, there).replaceAll(id(here), id(there)));
    part.classList.remove("unsent");
    if (part.matches("input, textarea")) part.value = "";
    if (part.matches("select")) part.value = "";
  }
  row.after(next);
  window.htmx?.process(next);
}

const findCell = (name) => sheet().querySelector(`[name="${CSS.escape(name)}"]`);

/** Puts what is kept for this page back into its cells, as it was typed. */
async function lay() {
  const mine = (await entries()).filter((entry) => entry.kind === "cell" && entry.url === pathOf(sheet().action) && entry.state !== "refused");
  for (const entry of mine) {
    if (entry.fields[0][1] !== base()) continue;
    sheetKey = entry.sheet;
    through = true;
    kept += 1;
    for (const [name, value] of entry.fields.slice(1)) layOne(name, value);
  }
}

function layOne(name, value) {
  if (name === "remove") {
    const button = sheet().querySelector(`button[name=remove][value="${CSS.escape(value)}"]`);
    if (button) button.closest(".row").hidden = true;
    return;
  }
  const input = findCell(name);
  if (!input) return;
  input.value = value;
  input.closest(".cell")?.classList.add("unsent");
  freshRowAfter(input);
}

/** Everything of this page was taken in: show what is saved now, once nobody is in the middle of a number. */
async function renewWhenSent() {
  if (!kept || !sheet() || unkept.size) return;
  const left = (await entries()).filter((entry) => entry.kind === "cell" && entry.url === pathOf(sheet().action));
  if (left.length) return;
  const active = document.activeElement;
  if (inSheet(active) && active.value !== active.defaultValue && !active.closest(".unsent")) { active.addEventListener("blur", () => setTimeout(renewWhenSent, 400), { once: true }); return; }
  kept = 0;
  if (inSheet(active)) sessionStorage.setItem("bolewright-cell", active.name);
  location.reload();
}

export async function startCells() {
  if (!sheet()) return;
  const name = sessionStorage.getItem("bolewright-cell");
  sessionStorage.removeItem("bolewright-cell");
  await lay().catch(() => undefined);
  if (name) findCell(name)?.focus();
  document.addEventListener("kept-changed", () => { sendUnkept(); renewWhenSent(); });
}
