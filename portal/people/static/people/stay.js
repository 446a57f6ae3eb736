// Warns before one's time runs out, so that what is being typed is not lost (WCAG 2.2, 2.2.1).
const dialog = document.querySelector("[data-stay]");
const MINUTE = 60_000;
let timer;

function start() {
  clearTimeout(timer);
  timer = setTimeout(warn, (dialog.dataset.stay - 2) * MINUTE);
}

function warn() {
  dialog.querySelector("[data-stay-soon]").hidden = false;
  dialog.querySelector("[data-stay-over]").hidden = true;
  dialog.showModal();
  timer = setTimeout(over, 2 * MINUTE);
}

function over() {
  dialog.querySelector("[data-stay-soon]").hidden = true;
  dialog.querySelector("[data-stay-over]").hidden = false;
}

async function stay(event) {
  event.preventDefault();
  const form = event.target;
  const answer = await fetch(form.action, { method: "POST", body: new FormData(form), redirect: "manual" });
  if (answer.status !== 204) {
    over();
    return;
  }
  dialog.close();
  start();
}

if (dialog) {
  dialog.querySelector("form").addEventListener("submit", stay);
  document.addEventListener("htmx:afterRequest", start);
  start();
}
