// On every page of a family: today's card opens without a line, and what waits on this phone is
// told of. Nothing is left here for whoever comes in next.
import * as shelf from "./shelf.js";

const owner = shelf.owner();
// The first page, as it came; later ones are kept on their way here.
const html = navigator.serviceWorker?.controller ? ""
  : `<!doctype html>${document.documentElement.outerHTML}`;

// Offer to go on where a walk was left; false where this page does not lead there.
function goesOn({ place, at }) {
  const link = [...document.querySelectorAll("a[data-go-on]")].find((each) => each.pathname === place);
  if (!link || !at) return false;
  const begin = link.nextElementSibling;
  if (at.said) link.firstElementChild.textContent = link.dataset.goOn.replace("PLACE", at.said);
  link.hash = at.step;
  link.hidden = false;
  begin.classList.replace("button-large", "button-plain");
  begin.firstElementChild.textContent = begin.dataset.again;
  return true;
}

async function tellWhatWaits() {
  const part = document.querySelector("[data-waiting]");
  const elsewhere = (await shelf.all("drafts")).filter(
    ({ place, label }) => label && place !== location.pathname,
  );
  const drafts = elsewhere.filter((draft) => !goesOn(draft));
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
  await navigator.serviceWorker.register("/sw.js", { updateViaCache: "all" });
  const { active } = await navigator.serviceWorker.ready;
  const pages = [...document.querySelectorAll("a[data-keep]")].map((link) => link.pathname);
  const here = location.pathname;
  active.postMessage({ keep: [here, ...pages], here, html });
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
  shelf.settleIn(owner).then(tellWhatWaits).catch(() => {});
  window.addEventListener("load", () => keepToday().catch(() => {}));
}
