// What is kept on this device, shown on the pages of the job: ticks, lines of the log, photographs.
import { entries } from "./store.js";
import { showMarks } from "./marked.js";
import { forget, isStopped, saidHere, show } from "./stop.js";

const clock = (iso) => new Date(iso).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", second: "2-digit" });
const value = (entry, name) => entry.fields.find((field) => field[0] === name)?.[1];
const urls = [];

export async function showKept() {
  const job = document.body.dataset.job;
  if (!job) return;
  const mine = (await entries()).filter((entry) => entry.job === job);
  const said = mine.filter((entry) => entry.urgent && entry.state !== "refused");
  if (!said.length && saidHere()) forget(); // the server has taken them: what it says counts
  show();
  const views = mine.filter((entry) => ["photo", "waive"].includes(entry.kind) && entry.state !== "refused");
  steps(mine.filter((entry) => entry.kind === "tick" && entry.state !== "refused"), new Set(views.map((entry) => value(entry, "view"))), mine.some((entry) => entry.kind === "unsigned" && entry.state !== "refused"));
  log(mine.filter((entry) => entry.kind !== "cell"));
  photos(mine.filter((entry) => entry.kind === "photo"));
  showMarks(mine);
}

/** Steps ticked here and not yet sent; the step ahead opens once all before it are ticked and its views are kept here. */
function steps(ticked, views, letOn) {
  const card = document.querySelector("[data-step]");
  if (!card) return;
  const done = new Set(card.dataset.done.split(",").filter(Boolean));
  for (const entry of ticked) {
    if (value(entry, "answer") !== card.dataset.answer || value(entry, "plan") !== card.dataset.plan) continue;
    if (value(entry, "undo")) done.delete(value(entry, "step")); else done.add(value(entry, "step"));
  }
  const all = card.dataset.all.split(",");
  const next = all.find((step) => !done.has(step));
  const here = card.dataset.step;
  const later = document.getElementById("tick-later");
  const form = document.getElementById("tick");
  const wanted = (later?.dataset.wants ?? "").split(" ").filter((view) => view && !views.has(view));
  const waits = "unsigned" in card.dataset && !letOn; // changed work, for its change order
  const open = next === here && !isStopped() && !wanted.length && !waits;
  if (open && !form && later) later.before(later.content.cloneNode(true));
  if (form) form.hidden = !open;
  const note = document.getElementById("ahead");
  if (!note) return;
  note.hidden = next === here;
  note.replaceChildren(next ? Object.assign(document.createElement("a"), { href: `${location.pathname}?step=${next}`, textContent: `Step ${next} comes next` })
    : `All ${all.length} steps are ticked on this tablet.`);
}

function log(kept) {
  const list = document.querySelector("ol.log.day");
  if (!list) return;
  for (const line of list.querySelectorAll(".kept")) line.remove();
  for (const entry of kept) {
    const line = Object.assign(document.createElement("li"), { className: "kept", textContent: `${clock(entry.made)} ${entry.words} (kept on this tablet)` });
    list.prepend(line);
  }
}

function photos(kept) {
  for (const url of urls.splice(0)) URL.revokeObjectURL(url);
  for (const old of document.querySelectorAll(".thumbs .kept")) old.remove();
  for (const entry of kept) {
    const place = document.querySelector(`[data-view="${CSS.escape(value(entry, "view") ?? "")}"] .thumbs`);
    const file = entry.fields.map(([, held]) => held).find((held) => held instanceof Blob);
    if (!place || !file) continue;
    urls.push(URL.createObjectURL(file));
    const figure = Object.assign(document.createElement("figure"), { className: "kept" });
    figure.append(Object.assign(document.createElement("img"), { src: urls.at(-1), alt: `${entry.words}, kept on this tablet` }),
      Object.assign(document.createElement("figcaption"), { textContent: "kept on this tablet" }));
    place.append(figure);
  }
}
