// The service worker: pages come from the server, and from what is kept when there is none. VERSION, SHELL and LATER stand above.
"use strict";
const SHELL_CACHE = `shell-${VERSION}`;
const MOST_JOBS = 5;
const PATIENCE = 8000; // milliseconds for a page that is kept too

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(SHELL_CACHE).then((cache) => cache.addAll(SHELL)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith("shell-") && name !== SHELL_CACHE) await caches.delete(name);
    await self.clients.claim();
  })());
});

const ours = (path) => SHELL.includes(path) || LATER.includes(path);
const jobOf = (path) => path.match(/^\/job\/([^/]+)\//)?.[1];

/** Under which address a page is kept: only the plan and the step looked at make another page. */
function placeOf(address) {
  const url = new URL(address, self.location.origin);
  const asked = ["plan", "step"].filter((name) => url.searchParams.get(name)).map((name) => `${name}=${encodeURIComponent(url.searchParams.get(name))}`);
  return url.pathname + (asked.length ? `?${asked.join("&")}` : "");
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== self.location.origin) return;
  if (request.method === "POST" && request.mode === "navigate") {
    const copy = request.clone();
    event.respondWith(fetch(request).catch(async () => said("This needs signal", "Nothing was changed. What you typed comes with this page: send it once more when there is signal.", 503, jobOf(url.pathname), await carried(copy).catch(() => ""))));
    return;
  }
  if (request.method !== "GET" || url.pathname.endsWith("/to-keep") || url.pathname === "/worker.js") return;
  if (url.searchParams.has("what")) { // a change that is tried: the server works it out, and no kept page may stand for the answer
    if (request.mode === "navigate") event.respondWith(fetch(request).catch(() => said("This needs signal", "A change is worked out by the server, so nothing was tried. The job as it is can be read without signal.", 503, jobOf(url.pathname))));
    return;
  }
  if (request.mode === "navigate" || jobOf(url.pathname) || ours(url.pathname)) event.respondWith(answer(event));
});

async function answer(event) {
  const { request } = event;
  const known = await keptPage(request);
  const fresh = fetch(request).then((response) => { event.waitUntil(keepPage(request, response.clone()).catch(() => undefined)); return response; });
  if (!known) return fresh.catch(() => notKept(request));
  const patience = new Promise((resolve) => { setTimeout(() => resolve(known), PATIENCE); });
  return Promise.race([fresh, patience]).catch(() => known).then((found) => (found === known ? marked(known) : found));
}

async function keptPage(request) {
  const cache = await cacheFor(request.url);
  return cache?.match(placeOf(request.url), { ignoreVary: true });
}

function cacheFor(address) {
  const path = new URL(address, self.location.origin).pathname;
  const job = jobOf(path);
  return caches.open(job ? `job-${job}` : SHELL_CACHE);
}

async function keepPage(request, response) {
  const path = new URL(request.url).pathname;
  if (!response.ok || response.redirected || response.type !== "basic" || response.status === 206) return;
  if (!jobOf(path) && path !== "/" && !ours(path)) return;
  const cache = await cacheFor(request.url);
  await cache.put(placeOf(request.url), await dated(response));
}

async function dated(response) {
  const headers = new Headers(response.headers);
  headers.set("Kept-At", new Date().toISOString());
  return new Response(await response.blob(), { status: response.status, headers });
}

/** A kept page says when it was kept. */
async function marked(response) {
  if (!response.headers.get("content-type")?.includes("text/html")) return response;
  const text = (await response.text()).replace("<html ", `<html data-kept-at="${response.headers.get("Kept-At")}" `);
  return new Response(text, { status: 200, headers: response.headers });
}

async function notKept(request) {
  if (request.mode !== "navigate") return Response.error();
  return said("This page is not kept on this tablet", "There is no signal, and this page was not open here before. What you entered is kept; the other pages of the job are here.", 503, jobOf(new URL(request.url).pathname));
}

const SECRET = ["password", "again", "old", "code", "login"]; // as on the server: never written into a page
const escaped = (text) => text.replace(/[&<>"]/g, (letter) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[letter]);

/** The form that could not be sent, to be sent once more by one button; "" when it holds a secret. Files are chosen again. */
async function carried(request) {
  const sent = [...await request.formData()];
  if (sent.some(([name]) => SECRET.includes(name))) return "";
  const typed = sent.filter(([, value]) => typeof value === "string"), files = sent.filter(([, value]) => typeof value !== "string" && value.size);
  const again = files.map(([name, file]) => `<p><label>Choose again: ${escaped(file.name)} <input type="file" name="${escaped(name)}"></label></p>`).join("");
  return `<form method="post" action="${escaped(new URL(request.url).pathname)}"${files.length ? ' enctype="multipart/form-data"' : ""}>
${typed.map(([name, value]) => `<input type="hidden" name="${escaped(name)}" value="${escaped(value)}">`).join("")}${again}<p><button>Send it once more</button></p></form>`;
}

/** The work can be stopped from here too: kept on the tablet, sent before everything else. */
const stopBar = (job) => (job ? `<form method="post" action="/job/${escaped(job)}/stop" class="stopbar" data-kept="STOP WORK" data-kind="stop"><button class="stop">STOP WORK</button></form>` : "");
const STOPPED = '<p id="stopped-band" class="is-stopped" role="status" hidden><strong>WORK IS STOPPED</strong> on this tablet since <span data-since></span>; not sent yet.</p>';

function said(head, text, status, job = "", more = "") {
  const page = `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${head} · Bolewright</title><link rel="stylesheet" href="/static/bolewright/sheet.css"><script src="/static/bolewright/offline/main.js" type="module"></script></head>
<body${job ? ` data-job="${escaped(job)}"` : ""}><div id="signal" class="signal" role="status" hidden></div><p id="told" role="alert" hidden></p>${job ? STOPPED : ""}<main id="main"><h1>${head}</h1>
<p class="fault">${text}</p>${more}<p><a class="button" href="/">Jobs</a> <a class="button" href="/kept">Kept on this tablet</a></p></main>${stopBar(job)}</body></html>`;
  return new Response(page, { status, headers: { "Content-Type": "text/html; charset=utf-8" } });
}

self.addEventListener("message", (event) => {
  const asked = event.data?.keep;
  if (asked) event.waitUntil(keepJob(asked).then((kept) => event.ports[0]?.postMessage({ kept })));
  if (event.data?.forget) event.waitUntil(forgetJobs());
});

/** Fetches every page of a job, one after the other so that nothing else has to wait. Whether it came to the end. */
async function keepJob({ job, pages }) {
  const cache = await caches.open(`job-${job}`);
  for (const place of pages) {
    try {
      const shared = ours(new URL(place, self.location.origin).pathname) ? await caches.open(SHELL_CACHE) : null;
      if (shared && await shared.match(placeOf(place))) continue;
      const response = await fetch(place, { cache: "no-cache", credentials: "same-origin" });
      if (response.ok && !response.redirected) await (shared ?? cache).put(placeOf(place), await dated(response));
    } catch { return false; }
  }
  await onlyNewest(job);
  return true;
}

async function onlyNewest(job) {
  const others = (await caches.keys()).filter((name) => name.startsWith("job-") && name !== `job-${job}`);
  for (const name of others.slice(0, Math.max(0, others.length + 1 - MOST_JOBS))) await caches.delete(name);
}

/** Somebody signed out: pages of jobs are not left lying on the device. What was entered and not sent stays. */
async function forgetJobs() {
  for (const name of await caches.keys()) if (name.startsWith("job-")) await caches.delete(name);
  await (await caches.open(SHELL_CACHE)).delete("/");
}
