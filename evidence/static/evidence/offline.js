// On every page of a family: today's card opens without a line, and what waits on this phone is
// told of. Nothing is left here for whoever comes in next.
import * as shelf from "./shelf.js";

const owner = shelf.owner();

async function settleIn() {
  const before = await shelf.get("facts", "owner");
  if (before && before !== owner) await shelf.clear();
  await shelf.put("facts", "owner", owner);
}

async function tellWhatWaits() {
  const part = document.querySelector("[data-waiting]");
  const drafts = (await shelf.all("drafts")).filter(({ place }) => place !== location.pathname);
  if (!part || !drafts.length) return;
  const list = part.querySelector("ul");
  for (const { place, label } of drafts) {
    const link = Object.assign(document.createElement("a"), { href: place, textContent: label });
    const line = document.createElement("li");
    line.append(link);
    list.append(line);
  }
  part.hidden = false;
}

async function keepToday() {
  if (!navigator.serviceWorker) return;
  await navigator.serviceWorker.register("/sw.js");
  const { active } = await navigator.serviceWorker.ready;
  const pages = [...document.querySelectorAll("a[data-keep]")].map((link) => link.pathname);
  active.postMessage({ keep: [location.pathname, ...pages] });
}

// The answer to signing out has the browser clear this as well; older ones do not know how.
document.querySelector("form.account")?.addEventListener("submit", async (event) => {
  if (event.target.dataset.cleared) return;
  event.preventDefault();
  event.target.dataset.cleared = "yes";
  await shelf.clear().catch(() => {});
  event.target.requestSubmit();
});

if (owner) {
  settleIn().then(tellWhatWaits).catch(() => {});
  window.addEventListener("load", () => keepToday().catch(() => {}));
}
