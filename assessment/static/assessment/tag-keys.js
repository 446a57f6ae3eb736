// The keys 1 to 4 belong to the goal at hand: the one last touched, at first the first.
const form = document.querySelector("[data-look]");
const rows = [...(form?.querySelectorAll("[data-goal]") ?? [])];
const KEYS = ["", "1", "2", "3", "4"];
let atHand = rows[0];

function choicesOf(row) {
  return [...row.querySelectorAll("label.choice")];
}

function give(row) {
  for (const each of rows) {
    each.classList.toggle("at-hand", each === row);
    choicesOf(each).forEach((label, index) => {
      if (each === row && KEYS[index]) {
        label.dataset.key = KEYS[index];
        label.dataset.keyName = label.textContent.trim();
      } else {
        delete label.dataset.key;
        label.removeAttribute("aria-keyshortcuts");
      }
    });
  }
  atHand = row;
}

function isShown(row) {
  return row.closest("details:not([open])") === null;
}

function next() {
  const shown = rows.filter(isShown);
  const row = shown[(shown.indexOf(atHand) + 1) % shown.length];
  give(row);
  (row.querySelector("input:checked") ?? row.querySelector("input")).focus();
}

function useSuggested() {
  for (const hint of form.querySelectorAll("[data-suggested]")) {
    const choices = [...hint.closest("[data-goal]").querySelectorAll("input")];
    choices.find((input) => input.value === hint.dataset.suggested)?.click();
  }
  form.querySelector("[data-key=s]").focus();
}

if (rows.length) {
  give(atHand);
  form.querySelector("[data-goal-tools]")?.removeAttribute("hidden");
  const use = form.querySelector("[data-use-suggested]");
  if (use) use.hidden = !form.querySelector("[data-suggested]");
  use?.addEventListener("click", useSuggested);
  form.querySelector("[data-next-goal]")?.addEventListener("click", next);
  form.addEventListener("focusin", (event) => {
    const row = event.target.closest("[data-goal]");
    if (row && row !== atHand) give(row);
  });
  // Out of a text field, so that single keys work again.
  form.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && event.target.matches("textarea, input[type=text]")) {
      form.querySelector("[data-key=s]").focus();
    }
  });
}
