// The keys 1 to 4 belong to the goal at hand: the one last touched, at first the first.
const KEYS = ["", "1", "2", "3", "4"];
let form = null;
let rows = [];
let atHand = null;

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
}

function begin() {
  const found = document.querySelector("[data-look]");
  if (found === form) return;
  form = found;
  rows = [...(form?.querySelectorAll("[data-goal]") ?? [])];
  if (!rows.length) return;
  give(rows[0]);
  form.querySelector("[data-goal-tools]")?.removeAttribute("hidden");
  const use = form.querySelector("[data-use-suggested]");
  if (use) use.hidden = !form.querySelector("[data-suggested]");
}

function touch(target) {
  const row = target.closest("[data-goal]");
  if (row && rows.includes(row) && row !== atHand) give(row);
}

document.addEventListener("click", (event) => {
  touch(event.target);
  if (event.target.closest("[data-use-suggested]")) useSuggested();
  if (event.target.closest("[data-next-goal]")) next();
});
// While a button is held down nothing may move: the click would land beside what was pressed.
let pressed = false;
document.addEventListener("pointerdown", () => {
  pressed = true;
});
for (const end of ["pointerup", "pointercancel"]) {
  document.addEventListener(end, () => {
    pressed = false;
  });
}
document.addEventListener("focusin", (event) => {
  if (!pressed) touch(event.target);
});
document.addEventListener("portal:changed", begin);
begin();
