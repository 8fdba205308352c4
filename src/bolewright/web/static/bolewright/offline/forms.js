// Forms that must not get lost (marked data-kept) are kept on the device first and sent from there.
import { drop, keep, newKey } from "./store.js";
import { changed, fate, sendAll } from "./send.js";
import { say, tellNext } from "./line.js";
import { stopHere, goOnHere } from "./stop.js";

const sheetKey = newKey();

/** The words of an entry; {name} stands for what is typed there. */
const wordsOf = (form, fields) => form.dataset.kept.replace(/\{(\w+)\}/g, (_, name) => {
  const value = fields.find((field) => field[0] === name)?.[1] ?? "";
  const chosen = form.elements[name]?.selectedOptions?.[0];
  return chosen ? chosen.textContent : String(value);
}).replace(/\s+/g, " ").trim();

/** One entry for the form, and one more for each photograph in it: a large file never holds up what goes with it. */
export function entriesOf(form, submitter) {
  const all = [...new FormData(form, submitter)].filter(([name]) => name !== "csrfmiddlewaretoken");
  const files = all.filter(([, value]) => value instanceof File && value.size);
  const typed = all.filter(([, value]) => !(value instanceof File));
  const own = form.dataset.kind === "photo" ? [] : [entryOf(form, form.action, typed, wordsOf(form, typed))];
  const about = form.dataset.photosTo ? photoFields(form) : typed;
  const to = form.dataset.photosTo ?? form.action;
  return [...own, ...files.map(([name, file]) => entryOf(form, to, [...about, [name, file]], `Photograph ${file.name}`, "photo"))];
}

const photoFields = (form) => [["view", form.dataset.photosView ?? ""], ["note", form.dataset.photosNote ?? ""]];

function entryOf(form, address, fields, words, kind = form.dataset.kind) {
  return {
    key: newKey(), sheet: sheetKey, job: document.body.dataset.job ?? "", url: new URL(address, location.href).pathname,
    fields, words, kind, urgent: kind === "stop" || kind === "go-on", made: new Date().toISOString(), state: "trying", late: false,
    person: document.body.dataset.person ?? "",
  };
}

function tooLarge(form, made) {
  const most = Number(form.dataset.largest ?? 40000000);
  const file = made.flatMap((entry) => entry.fields).map(([, value]) => value).find((value) => value instanceof File && value.size > most);
  return file && `${file.name} has ${Math.round(file.size / 1e6)} MB, the limit is ${Math.round(most / 1e6)} MB: send a smaller photograph. Nothing was kept of it; the original stays where it was taken.`;
}

async function take(form, submitter) {
  const made = entriesOf(form, submitter);
  if (form.dataset.kind === "stop") stopHere(made[0].made);
  if (form.dataset.kind === "go-on") goOnHere();
  const fault = tooLarge(form, made) ?? (made.length ? "" : "No photograph came: choose one and send it again.");
  if (fault) return say(fault, true);
  const numbers = [];
  try {
    for (const entry of made) numbers.push(await keep(entry));
  } catch (error) {
    await Promise.all(numbers.map(drop)).catch(() => undefined);
    const never = form.dataset.kind === "stop" || form.dataset.kind === "go-on"; // never held up by a full tablet
    return navigator.onLine || never ? bare(form, submitter) : say(error.message, true);
  }
  changed();
  await sendAll();
  const fates = await Promise.all(made.map((entry) => fate(entry.key)));
  return after(form, fates);
}

/** As the browser would have sent it. */
function bare(form, submitter) {
  if (submitter?.name) form.append(Object.assign(document.createElement("input"), { type: "hidden", name: submitter.name, value: submitter.value }));
  HTMLFormElement.prototype.submit.call(form);
}

async function after(form, fates) {
  const refused = fates.filter((one) => one.state === "refused").flatMap((one) => one.said);
  if (refused.length) {
    if (form.dataset.kind === "mark") await Promise.all(fates.map((one) => one.n && drop(one.n))); // it still stands in the form
    changed();
    return say(refused.join(" "), true);
  }
  if (fates.every((one) => one.state === "sent")) {
    tellNext(fates.flatMap((one) => one.said));
    const to = new URL(fates[0].place || location.href, location.href);
    if (to.href === location.href || to.pathname === location.pathname && !to.search) { history.replaceState(null, "", to.href); return location.reload(); }
    return location.assign(to.href);
  }
  form.reset();
  if (form.dataset.next && navigator.serviceWorker?.controller) return location.assign(form.dataset.next);
  return undefined;
}

/** What only the server can do: without signal it is said, and everything typed or drawn stays in the page. */
async function onlyWithSignal(form, submitter) {
  const stop = new AbortController(), clock = setTimeout(() => stop.abort(), 6000);
  const found = await fetch("/worker.js", { method: "HEAD", cache: "no-store", signal: stop.signal }).catch(() => null);
  clearTimeout(clock);
  if (found) bare(form, submitter); else say(form.dataset.needsSignal, true);
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.dataset.needsSignal && !event.defaultPrevented) { event.preventDefault(); onlyWithSignal(form, event.submitter); return; }
  if (!form.dataset.kept || event.defaultPrevented) return;
  if (form.dataset.keptBy && event.submitter?.name !== form.dataset.keptBy) return;
  event.preventDefault();
  if (form.dataset.busy) return;
  form.dataset.busy = "1";
  take(form, event.submitter).finally(() => { delete form.dataset.busy; });
});
