// Let a finger write a number: the keys fill the field that stands above them.
for (const keys of document.querySelectorAll("[data-number-keys]")) {
  const field = document.getElementById(keys.dataset.numberKeys);
  if (!field) continue;
  keys.hidden = false;
  field.inputMode = "none"; // the phone's own keys would hide ours

  keys.addEventListener("click", (event) => {
    const key = event.target.closest("button");
    if (!key) return;
    const full = field.maxLength > 0 && field.value.length >= field.maxLength;
    if (key.dataset.rubOut !== undefined) {
      field.value = field.value.slice(0, -1);
    } else if (!full) {
      field.value += key.value;
    }
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
}
