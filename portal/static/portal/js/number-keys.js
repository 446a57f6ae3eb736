// Let a finger write a number: the keys fill the field that stands above them.
function showKeys() {
  for (const keys of document.querySelectorAll("[data-number-keys]")) {
    const field = document.getElementById(keys.dataset.numberKeys);
    if (!field) continue;
    keys.hidden = false;
    field.inputMode = "none"; // the phone's own keys would hide ours
  }
}

function press(key, field) {
  const full = field.maxLength > 0 && field.value.length >= field.maxLength;
  if (key.dataset.rubOut !== undefined) field.value = field.value.slice(0, -1);
  else if (!full) field.value += key.value;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

document.addEventListener("click", (event) => {
  const key = event.target.closest("[data-number-keys] button");
  const keys = key?.closest("[data-number-keys]");
  if (key) press(key, document.getElementById(keys.dataset.numberKeys));
});
document.addEventListener("htmx:afterSettle", showKeys);
document.addEventListener("portal:changed", showKeys);
showKeys();
