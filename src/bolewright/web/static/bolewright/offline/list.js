// The page of what is kept on this device: every entry, why one was not taken, and what was sent.
import { entries, sent } from "./store.js";
import { letGo, sendAgain, sendAll } from "./send.js";

const part = (tag, text, more = {}) => Object.assign(document.createElement(tag), { textContent: text, ...more });
const when = (iso) => new Date(iso).toLocaleString([], { dateStyle: "medium", timeStyle: "medium" });
const WORDS = { trying: "being sent", waiting: "waits for signal", refused: "not taken by the server" };

export async function list() {
  const place = document.getElementById("kept-list");
  if (!place) return;
  const [kept, done] = await Promise.all([entries(), sent()]);
  place.replaceChildren(...(kept.length ? kept.map(row) : [part("li", "Nothing: everything entered here was taken in by the server.")]));
  document.getElementById("sent-list").replaceChildren(...done.slice(-60).reverse().map((one) => part("li", `${when(one.made)} ${one.words}${one.said?.length ? `: ${one.said.join(" ")}` : ""}`)));
  const now = document.getElementById("send-now");
  now.hidden = !kept.some((entry) => entry.state !== "refused");
  now.onclick = () => sendAll();
}

function row(entry) {
  const item = part("li", "", { className: `view ${entry.state === "refused" ? "missing" : ""}` });
  item.append(part("strong", entry.words), part("span", ` ${when(entry.made)}, ${WORDS[entry.state]}`));
  for (const said of entry.said ?? []) item.append(part("p", said, { className: "fault" }));
  if (entry.state !== "refused") return item;
  const again = part("button", "Send again", { type: "button", className: "plain" });
  again.onclick = () => sendAgain(entry.n);
  const away = part("button", "Let it go", { type: "button", className: "plain" });
  away.onclick = () => { if (away.dataset.sure) letGo(entry.n); else { away.dataset.sure = "1"; away.textContent = "Yes, it is not needed"; } };
  const both = part("p", "");
  both.append(again, " ", away);
  item.append(both);
  return item;
}
