// Turn a picture where it stands: <form data-turn data-state="address of the piece's state">.
// Every picture of the piece on this page is fetched again as soon as it is turned.
const FIRST = 700;
const LONGEST = 8000; // milliseconds: a clip may take a minute
const asked = new Map(); // address of the state → how often it was turned from this page

async function piece(address, options = {}) {
  const answer = await fetch(address, { ...options, headers: { "HX-Request": "true" } });
  if (!answer.ok) throw new Error(String(answer.status));
  const holder = document.createElement("template");
  holder.innerHTML = (await answer.text()).trim();
  return holder.content.firstElementChild;
}

const pause = (time) => new Promise((done) => setTimeout(done, time));

async function finished(state, fresh, number) {
  let time = FIRST;
  while (fresh.dataset.poll && asked.get(state) === number) {
    await pause(time);
    time = Math.min(LONGEST, time * 1.4);
    fresh = await piece(state);
  }
}

function showAnew(state, turn) {
  const files = state.replace(/state\/$/, "");
  for (const part of document.querySelectorAll("img, video")) {
    for (const name of ["src", "poster"]) {
      const address = part.getAttribute(name);
      if (!address?.startsWith(files)) continue;
      const changed = new URL(address, location.href);
      changed.searchParams.set("turn", turn);
      part.setAttribute(name, changed.pathname + changed.search);
      part.removeAttribute("width"); // they were those of the picture before
      part.removeAttribute("height");
    }
  }
}

async function turn(form) {
  const { state, turning, turned, failed } = form.dataset;
  const status = form.querySelector("[role=status]");
  const degrees = form.elements.turn.value;
  const number = (asked.get(state) ?? 0) + 1;
  asked.set(state, number);
  status.textContent = turning;
  try {
    const fresh = await piece(form.action, { method: "POST", body: new FormData(form) });
    form.elements.turn.value = fresh.querySelector("[name=turn]").value;
    await finished(state, fresh, number);
    if (asked.get(state) !== number) return; // pressed again: the last one shows it
    showAnew(state, degrees);
    status.textContent = turned;
  } catch {
    status.textContent = failed;
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target.closest("form[data-turn]");
  if (!form) return;
  event.preventDefault();
  turn(form);
});
