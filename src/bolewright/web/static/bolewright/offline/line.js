// One plain line: no signal and how much is kept, or what was sent.
import { entries, seen, sent } from "./store.js";
import { isMine, state } from "./send.js";

const NEXT = "bolewright-told";
const box = () => document.getElementById("signal");
const many = (n, word) => `${n} ${word === "entry" ? (n === 1 ? "entry" : "entries") : word}`;

const HEADS = {
  none: "No signal",
  "signed out": "You are signed out",
  trouble: "The server is in trouble",
  here: "Sending",
};

/** Says something now; a fault stands out. */
export function say(text, fault = false) {
  const told = document.getElementById("told");
  if (!told) return;
  told.hidden = !text;
  told.textContent = text;
  told.classList.toggle("fault", fault);
  if (fault) told.scrollIntoView({ block: "nearest" });
}

/** Says it on the page that comes next. */
export function tellNext(said) {
  if (said.length) sessionStorage.setItem(NEXT, said.join(" "));
}

export function tellNow() {
  const said = sessionStorage.getItem(NEXT);
  if (said) { sessionStorage.removeItem(NEXT); say(said); }
}

const part = (tag, text, more = {}) => Object.assign(document.createElement(tag), { textContent: text }, more);

/** The line as it stands now. */
export async function renew() {
  const line = box();
  if (!line) return;
  let kept, done;
  try { [kept, done] = await Promise.all([entries(), sent()]); } catch { return; }
  const open = kept.filter((entry) => entry.state !== "refused" && (entry.late || entry.state === "waiting"));
  const refused = kept.filter((entry) => entry.state === "refused");
  const late = done.filter((row) => row.late && !row.seen);
  const old = document.documentElement.dataset.keptAt;
  const rows = [];
  if (open.length) rows.push(part("strong", `${HEADS[state.signal]}: ${many(open.length, "entry")} kept on this tablet. `), link());
  else if (old && state.signal !== "here") rows.push(part("span", `No signal: this page is as it was kept at ${clock(old)}.`));
  else if (state.signal === "none" && !state.refuses) rows.push(part("span", "No signal. What you enter is kept on this tablet."));
  else if (old) rows.push(part("span", `There is signal again; this page is as it was kept at ${clock(old)}.`), anew());
  if (state.refuses) rows.push(part("strong", ` ${state.signal === "none" && !open.length ? "No signal. " : ""}This tablet can keep no more: leave the page open, and what stands in it is sent when there is signal.`));
  const others = [...new Set(open.filter((entry) => !isMine(entry)).map((entry) => entry.person))];
  if (others.length) rows.push(part("span", ` Some were entered by ${others.join(", ")}, who must sign in again to send them.`));
  else if (state.signal === "signed out" && open.length) rows.push(part("span", " "), part("a", "Sign in, then they are sent", { href: signIn() }));
  if (refused.length) rows.push(part("strong", ` ${many(refused.length, "entry")} not taken by the server: `), part("a", "look at why", { href: "/kept" }));
  if (!open.length && late.length) rows.push(...sentRows(late));
  for (const note of document.querySelectorAll(".needs-signal")) note.hidden = state.signal === "here";
  line.hidden = !rows.length;
  line.replaceChildren(...rows);
}

const clock = (iso) => new Date(iso).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
const anew = () => part("a", "Load it anew", { href: location.href });
const signIn = () => `/sign-in?next=${encodeURIComponent(location.pathname === "/sign-in" ? "/kept" : location.pathname + location.search)}`;
const link = () => part("a", "Look at them", { href: "/kept" });

function sentRows(late) {
  const told = part("details", "");
  told.append(part("summary", `Sent: ${many(late.length, "entry")} kept without signal`), list(late));
  const away = part("button", "Seen", { className: "plain", type: "button" });
  away.addEventListener("click", () => seen().then(renew));
  const both = late.filter((row) => row.place?.includes("/both/"));
  const met = both.map((row) => part("a", " One met a change by somebody else; both are kept: look at both and choose.", { href: row.place }));
  return [told, ...met, away];
}

function list(rows) {
  const found = part("ul", "");
  for (const row of rows) found.append(part("li", `${clock(row.made)} ${row.words}${row.said?.length ? `: ${row.said.join(" ")}` : ""}`));
  return found;
}
