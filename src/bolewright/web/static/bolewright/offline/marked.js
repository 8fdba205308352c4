// What was drawn on a photograph here and is not sent yet: over the picture, in the list, and the scale lengths are read by.
import { letGo } from "./send.js";

const SVG = "http://www.w3.org/2000/svg";
const value = (entry, name) => entry.fields.find((field) => field[0] === name)?.[1] ?? "";
const NAMES = { arrow: "arrow", text: "words", scale: "scale", length: "length" };
const labelOf = (entry) => [value(entry, "kind") === "scale" ? `scale ${value(entry, "measure")}` : "", value(entry, "words")].filter(Boolean).join(", ");

export function showMarks(mine) {
  const form = document.getElementById("draw");
  if (!form) return;
  const here = new URL(form.action, location.href).pathname;
  const open = mine.filter((entry) => entry.url.startsWith(here) && entry.state !== "refused" && (entry.late || entry.state === "waiting"));
  const drawn = open.filter((entry) => entry.kind === "mark");
  const gone = new Set(open.filter((entry) => entry.kind === "mark-back").map((entry) => value(entry, "mark")));
  for (const line of document.querySelectorAll("[data-mark]")) line.classList.toggle("kept-away", gone.has(line.dataset.mark));
  over(drawn);
  list(drawn);
  scale(form, drawn);
}

const make = (name, facts, text = "") => {
  const made = document.createElementNS(SVG, name);
  for (const [key, fact] of Object.entries(facts)) made.setAttribute(key, fact);
  made.textContent = text;
  return made;
};

/** As crosses and lines; the drawing itself is made by the server once they are sent. */
function over(drawn) {
  const crosses = document.getElementById("crosses");
  const [, , width, height] = crosses.getAttribute("viewBox").split(" ").map(Number);
  const sheet = document.getElementById("kept-marks") ?? crosses.parentNode.insertBefore(make("svg", { id: "kept-marks", viewBox: `0 0 ${width} ${height}`, "aria-hidden": "true" }), crosses);
  const size = Math.max(width, height) / 30;
  sheet.replaceChildren();
  for (const entry of drawn) {
    const [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map((name, n) => Number(value(entry, name)) / 100 * (n % 2 ? height : width));
    if (value(entry, "kind") !== "text") sheet.append(make("path", { d: `M${x1} ${y1}L${x2} ${y2}${ends(value(entry, "kind"), [x1, y1], [x2, y2], size)}` }));
    const label = labelOf(entry);
    if (label) sheet.append(make("text", { x: x1, y: y1 - size / 3, "font-size": size }, label));
  }
}

/** The head of an arrow, or a bar across either end. */
function ends(kind, [x1, y1], [x2, y2], size) {
  const far = Math.hypot(x2 - x1, y2 - y1) || 1, [u, v] = [(x2 - x1) / far * size, (y2 - y1) / far * size];
  if (kind === "arrow") return `M${x2 - u - v / 2} ${y2 - v + u / 2}L${x2} ${y2}L${x2 - u + v / 2} ${y2 - v - u / 2}`;
  return [[x1, y1], [x2, y2]].map(([x, y]) => `M${x - v / 2} ${y + u / 2}L${x + v / 2} ${y - u / 2}`).join("");
}

function list(drawn) {
  const place = document.getElementById("drawn-here");
  place.hidden = !drawn.length;
  place.replaceChildren(...drawn.map((entry) => {
    const row = Object.assign(document.createElement("li"), { className: "kept", textContent: `${[NAMES[value(entry, "kind")], labelOf(entry)].filter(Boolean).join(": ")}, kept on this tablet ` });
    const away = Object.assign(document.createElement("button"), { type: "button", className: "plain", textContent: "Let it go" });
    away.addEventListener("click", async () => {
      for (const one of drawn) if (one.n === entry.n || value(one, "scale") === entry.key) await letGo(one.n); // and lengths read by it
    });
    row.append(away);
    return row;
  }));
}

/** A length drawn after a scale that is still here is read by that one, whatever others draw meanwhile. */
function scale(form, drawn) {
  const told = document.getElementById("by-scale"), field = form.elements.scale;
  told.dataset.served ??= told.textContent;
  field.dataset.served ??= field.value;
  const newest = drawn.filter((entry) => value(entry, "kind") === "scale").at(-1);
  field.setAttribute("value", newest?.key ?? field.dataset.served);
  told.textContent = newest ? `Lengths are read by the scale of ${value(newest, "measure")}, kept on this tablet.` : told.dataset.served;
}
