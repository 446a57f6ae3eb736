// The next piece is fetched while this one is read, so that it is on screen as soon as the key is
// pressed. The save goes its way meanwhile; when it fails, this piece comes back as it was.
import { signedIn } from "./signed-in.js";

let ahead = null; // the next page: {address, main, title}
let saving = false;
let pressed = null; // a save that was asked for while another was on its way

function page(html) {
  return new DOMParser().parseFromString(html, "text/html");
}

function place(address) {
  return new URL(address, location.href).pathname;
}

async function fetchAhead() {
  const link = document.querySelector("[data-following]");
  if (!link || place(link.href) === place(ahead?.address ?? "")) return;
  ahead = null;
  try {
    const answer = await fetch(link.href);
    if (!answer.ok || answer.redirected) return;
    const next = page(await answer.text());
    if (document.querySelector("[data-following]") !== link) return;
    // Taken into this document, so that its pictures are loaded already.
    ahead = {
      address: link.href,
      main: document.adoptNode(next.querySelector("main")),
      title: next.title,
    };
  } catch {
    ahead = null; // The link still leads there.
  }
}

function show(next, push = true) {
  const before = {
    address: location.href,
    main: document.querySelector("main"),
    title: document.title,
  };
  before.main.replaceWith(next.main);
  document.title = next.title;
  if (push) history.pushState({}, "", next.address);
  else history.replaceState({}, "", next.address);
  window.scrollTo(0, 0);
  window.htmx?.process(next.main);
  document.dispatchEvent(new Event("portal:changed"));
  next.main.focus({ preventScroll: true });
  return before;
}

// What only the server knows after the save: the way to undo it, how many wait, what comes next.
function bringUpToDate(fresh) {
  const parts = [".messages", "[data-saved]", "[data-way-back]", "[data-way-on]", "[data-phrases]"];
  for (const name of parts) {
    const now = fresh.querySelector(name);
    if (now) document.querySelector(name)?.replaceWith(document.adoptNode(now));
  }
  window.htmx?.process(document.querySelector("main"));
  document.dispatchEvent(new Event("portal:changed"));
}

async function answered(answer, before) {
  const fresh = page(await answer.text());
  const main = fresh.querySelector("main");
  const went = new URL(answer.url).pathname;
  if (!main || answer.status >= 500 || answer.status === 403) throw new Error(String(answer.status));
  if (!answer.redirected) {
    // Somebody was at it meanwhile, or something must be mended: the answer says so.
    comeBack({ ...before, main: document.adoptNode(main) });
  } else if (went === location.pathname) {
    bringUpToDate(fresh);
  } else if (went.includes("/look/")) {
    show({ address: answer.url, main: document.adoptNode(main), title: fresh.title }, false);
  } else {
    throw new Error("signed out");
  }
}

function comeBack(before) {
  const left = show(before, false);
  ahead = { ...left, address: left.address };
  document.querySelector("[data-first], .notice")?.scrollIntoView({ block: "center" });
}

// Say why nothing was saved; who has signed in again meanwhile has it saved now.
async function tellWhy(form, submitter) {
  const here = await signedIn().catch(() => null);
  if (here && !form.dataset.again) {
    form.dataset.again = "yes";
    return form.requestSubmit(submitter);
  }
  delete form.dataset.again;
  tell(here === false ? "signed-out" : "not-saved");
}

function tell(what) {
  for (const name of ["signed-out", "not-saved"]) {
    const told = document.querySelector(`[data-${name}]`);
    if (told) told.hidden = name !== what;
  }
}

// A save that loads a page anew is made once it is known that it will not end at the door.
async function saveHere(form, submitter) {
  saving = true;
  const here = await signedIn().catch(() => null);
  saving = false;
  if (!here) return tell(here === false ? "signed-out" : "not-saved");
  form.dataset.goes = "yes";
  form.requestSubmit(submitter);
}

async function saveAndShow(form, submitter) {
  saving = true;
  const data = new FormData(form, submitter);
  const next = ahead;
  ahead = null;
  const before = show(next);
  try {
    await answered(await fetch(form.action, { method: "POST", body: data }), before);
  } catch {
    comeBack(before);
    saving = false;
    pressed = null;
    await tellWhy(form, submitter);
    return;
  }
  delete form.dataset.again;
  saving = false;
  await fetchAhead();
  const again = pressed;
  pressed = null;
  if (again?.form.isConnected) again.form.requestSubmit(again.submitter);
}

document.addEventListener("submit", (event) => {
  const { target: form, submitter } = event;
  if (!form.matches("[data-look]") || form.dataset.goes) return;
  event.preventDefault();
  if (saving) pressed = { form, submitter };
  else if (ahead && submitter?.name === "next") saveAndShow(form, submitter);
  else saveHere(form, submitter);
});
document.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-following]");
  if (!link || !ahead || saving || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  const next = ahead;
  ahead = null;
  show(next);
  fetchAhead();
});
window.addEventListener("popstate", () => location.reload());
fetchAhead();
