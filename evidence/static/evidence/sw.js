// Opens today's pages when there is no line. It keeps two or three pages of today, for the person
// signed in, until tomorrow, or until they sign out or are found to be signed out; and the styles,
// scripts and letters of pages.
const PAGES = "pages";
const PARTS = "parts";
const NO_LINE = "/no-line/";
const TODAYS = [/^\/today\/$/, /^\/children\/\d+\/(?:card|send)\/(\d{4}-\d\d-\d\d)\/$/];
const MOST_PARTS = 120;

function today() {
  const now = new Date();
  const two = (number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function isTodays(path) {
  const found = TODAYS.map((shape) => shape.exec(path)).find(Boolean);
  return Boolean(found) && (found[1] ?? today()) === today();
}

// Keep a page with the day it was kept on, once the parts it names are here as well.
async function keep(path, answer) {
  const html = await answer.text();
  const headers = new Headers(answer.headers);
  headers.set("X-Kept-On", today());
  const parts = await caches.open(PARTS);
  const named = [...html.matchAll(/ (?:src|href)="(\/static\/[^"#?\s]+)/g)].map(([, part]) => part);
  await Promise.all([...new Set(named)].map(async (part) => {
    if (!(await parts.match(part))) await parts.add(part).catch(() => {});
  }));
  const pages = await caches.open(PAGES);
  await pages.put(path, new Response(html, { headers }));
}

async function dropPages(isToGo) {
  const pages = await caches.open(PAGES);
  for (const request of await pages.keys()) {
    const isAboutNobody = new URL(request.url).pathname === NO_LINE;
    if (!isAboutNobody && isToGo(await pages.match(request))) await pages.delete(request);
  }
}

// Whatever page of the portal is opened wakes this worker, and then nothing of another day stays.
const dropOtherDays = () => dropPages((kept) => kept.headers.get("X-Kept-On") !== today());
const dropAll = () => dropPages(() => true);

// A page of today that leads elsewhere or is not there is told to nobody who was signed in: the
// session has ended, or the child is theirs no more.
async function dropIfSignedOut(answer) {
  const isElsewhere = answer.redirected || answer.type === "opaqueredirect";
  if (isElsewhere || answer.status === 404) await dropAll();
}

// *html*: the page as it came, where it is on the screen: then it need not come again.
async function fetchAndKeep(path, html) {
  const pages = await caches.open(PAGES);
  const kept = await pages.match(path);
  if (kept?.headers.get("X-Kept-On") === today()) return;
  const answer = await fetch(path, { credentials: "same-origin", method: html ? "HEAD" : "GET" });
  if (answer.ok && !answer.redirected) await keep(path, html ? new Response(html, answer) : answer);
  else await dropIfSignedOut(answer);
}

async function page(event) {
  const { pathname } = new URL(event.request.url);
  if (pathname.startsWith("/sign-in")) event.waitUntil(dropAll());
  try {
    const answer = await fetch(event.request);
    if (isTodays(pathname)) {
      event.waitUntil(answer.ok ? keep(pathname, answer.clone()) : dropIfSignedOut(answer));
    }
    return answer;
  } catch (fault) {
    const pages = await caches.open(PAGES);
    const kept = await pages.match(pathname);
    if (kept?.headers.get("X-Kept-On") === today()) return kept;
    const offered = await pages.match(NO_LINE);
    if (offered) return offered;
    throw fault;
  }
}

// The name of a part changes with what is in it, so one that is here is right.
async function part(request) {
  const parts = await caches.open(PARTS);
  const here = await parts.match(request);
  if (here) return here;
  const answer = await fetch(request);
  if (answer.status === 200) {
    await parts.put(request, answer.clone());
    const all = await parts.keys();
    if (all.length > MOST_PARTS) await parts.delete(all[0]);
  }
  return answer;
}

self.addEventListener("install", (event) => {
  self.skipWaiting();
  event.waitUntil(fetch(NO_LINE).then((answer) => keep(NO_LINE, answer)));
});
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("message", (event) => {
  const { keep: paths = [], here, html } = event.data ?? {};
  const asKept = (path) => fetchAndKeep(path, path === here ? html : "").catch(() => {});
  event.waitUntil(Promise.all(paths.filter(isTodays).map(asKept)));
});

// The message is empty. The words were kept here when somebody chose to be reminded.
async function remind() {
  const kept = await caches.match("/reminder-words");
  const words = kept ? await kept.json() : { title: "Number work", text: "For today" };
  await self.registration.showNotification(words.title, { body: words.text, tag: "reminder" });
}

self.addEventListener("push", (event) => event.waitUntil(remind()));
self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  event.waitUntil(self.clients.openWindow("/today/"));
});
self.addEventListener("fetch", (event) => {
  const { pathname, origin } = new URL(event.request.url);
  if (event.request.mode === "navigate") event.waitUntil(dropOtherDays());
  if (event.request.method !== "GET" || origin !== location.origin) return;
  if (event.request.mode === "navigate") event.respondWith(page(event));
  else if (pathname.startsWith("/static/")) event.respondWith(part(event.request));
});
