// What is kept on this device: entries not yet taken in by the server, and what was sent. IndexedDB outlives the browser.

const NAME = "bolewright";
const ENTRIES = "entries";
const SENT = "sent";
const SHOW_SENT = 60;

let opened;

function database() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(ENTRIES, { keyPath: "n", autoIncrement: true });
      request.result.createObjectStore(SENT, { keyPath: "n", autoIncrement: true });
    };
    request.onsuccess = () => { request.result.onclose = () => { opened = undefined; }; resolve(request.result); };
    request.onerror = () => { opened = undefined; reject(request.error); };
    request.onblocked = () => reject(new Error("blocked"));
  });
  return opened;
}

/** Runs `work` on one table and gives back its result once everything is on the disk. */
async function within(table, mode, work) {
  const base = await database();
  return new Promise((resolve, reject) => {
    const turn = base.transaction(table, mode, { durability: "strict" });
    const request = work(turn.objectStore(table));
    turn.oncomplete = () => resolve(request?.result);
    turn.onabort = turn.onerror = () => reject(turn.error ?? request?.error ?? new Error("aborted"));
  });
}

/** A key nobody else makes; also where the page did not come over a secure line. */
export function newKey() {
  if (crypto.randomUUID) return crypto.randomUUID();
  return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
}

/** Keeps an entry and gives back its number. Rejects with a sentence when there is no room or no storage. */
export async function keep(entry) {
  try {
    return await within(ENTRIES, "readwrite", (table) => table.add(entry));
  } catch (fault) {
    const full = fault?.name === "QuotaExceededError";
    throw new Error(full
      ? "NOT KEPT: the storage of this tablet is full. Write it on paper too; it stands in the page. Make room on the tablet."
      : "NOT KEPT: this browser keeps nothing on the tablet (a private window?). Write it on paper too; it stands in the page until there is signal.");
  }
}

/** Everything not yet taken in, in the order it was made. */
export const entries = () => within(ENTRIES, "readonly", (table) => table.getAll());

export const drop = (n) => within(ENTRIES, "readwrite", (table) => table.delete(n));

export async function change(n, changes) {
  const entry = await within(ENTRIES, "readonly", (table) => table.get(n));
  if (entry) await within(ENTRIES, "readwrite", (table) => table.put({ ...entry, ...changes }));
}

/** Writes down that an entry was taken in, and lets it go, both or neither. */
export async function taken(entry, told) {
  const base = await database();
  await new Promise((resolve, reject) => {
    const turn = base.transaction([ENTRIES, SENT], "readwrite", { durability: "strict" });
    turn.objectStore(SENT).add(told);
    turn.objectStore(ENTRIES).delete(entry.n);
    turn.oncomplete = resolve;
    turn.onabort = turn.onerror = () => reject(turn.error);
  });
}

/** What was sent, newest last. */
export const sent = () => within(SENT, "readonly", (table) => table.getAll());

/** What was sent is not told again; only the newest stay in the list. */
export async function seen() {
  const rows = await sent();
  await within(SENT, "readwrite", (table) => {
    for (const row of rows.slice(0, -SHOW_SENT)) table.delete(row.n);
    for (const row of rows.slice(-SHOW_SENT)) if (!row.seen) table.put({ ...row, seen: true });
    return undefined;
  });
}
