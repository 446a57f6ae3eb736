// Thirty boxes in a row: Enter keeps one and goes to the next, and what is left is kept by itself.
// Where fingers type, Enter begins a new line, and the button keeps.
const form = document.querySelector("[data-words]");
const byFinger = matchMedia("(pointer: coarse)");
const turns = new Map(); // one request at a time for each box: its version has to be known

function parts(box) {
  const named = (name) => box.querySelector(`[name$="-${name}"]`);
  return { text: box.querySelector("[data-word]"), version: named("version"), was: named("was") };
}

function say(box, words) {
  box.querySelector("[data-state]").textContent = words;
}

async function send(box, more = {}) {
  const { text, version, was } = parts(box);
  const sent = text.value;
  const data = new FormData();
  data.set("csrfmiddlewaretoken", form.querySelector("[name=csrfmiddlewaretoken]").value);
  data.set("box", box.dataset.box);
  for (const each of [version, was, text]) data.set(each.name, each.value);
  for (const [name, value] of Object.entries(more)) data.set(name, value);
  say(box, form.dataset.keeping);
  try {
    const answer = await fetch(location.href, { method: "POST", body: data, keepalive: true });
    if (![200, 409, 422].includes(answer.status) || answer.redirected) throw new Error("not kept");
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const state = document.adoptNode(page.querySelector("[data-state]"));
    if (state.dataset.version !== undefined) version.value = state.dataset.version;
    was.value = answer.status === 200 ? sent : `${sent} `;
    box.querySelector("[data-state]").replaceWith(state);
  } catch {
    was.value = `${sent} `; // It differs, so that leaving the box again, or the page, tells.
    say(box, form.dataset.failed);
  }
}

function keep(box, more) {
  const turn = (turns.get(box) ?? Promise.resolve()).then(() => send(box, more));
  turns.set(box, turn);
}

function keepIfChanged(box) {
  const { text, was } = parts(box);
  if (text.value !== was.value) keep(box);
}

function next(box) {
  box.nextElementSibling?.querySelector("[data-word]").focus();
}

if (form) {
  form.querySelectorAll("[data-word]").forEach((text) => {
    text.addEventListener("change", () => keepIfChanged(text.closest("[data-box]")));
  });
  form.addEventListener("keydown", (event) => {
    if (!event.target.matches("[data-word]") || event.key !== "Enter" || event.isComposing) return;
    if (event.shiftKey || event.ctrlKey || event.altKey || event.metaKey || byFinger.matches) return;
    event.preventDefault();
    const box = event.target.closest("[data-box]");
    const { text, was, version } = parts(box);
    if (text.value !== was.value || version.value === "0") keep(box);
    // What "change" would keep once more when the box is left is on its way already.
    was.value = text.value;
    next(box);
  });
  form.addEventListener("click", (event) => {
    const box = event.target.closest("[data-box]");
    if (!box) return;
    const undo = event.target.closest("[data-undo]");
    if (undo) {
      parts(box).text.value = undo.dataset.undo;
      keep(box, { undone: "yes" });
      parts(box).text.focus();
    } else if (event.target.closest("[name=keep]")) {
      event.preventDefault();
      keep(box);
      next(box);
    }
  });
  let goes = false;
  form.addEventListener("submit", () => (goes = true));
  window.addEventListener("beforeunload", (event) => {
    const open = [...form.querySelectorAll("[data-box]")].some((box) => {
      const { text, was } = parts(box);
      return text.value !== was.value;
    });
    if (open && !goes) event.preventDefault();
  });
  document.querySelector("[data-with-script]").hidden = byFinger.matches;
}
