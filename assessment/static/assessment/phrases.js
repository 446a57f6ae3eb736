// Put a saved phrase into the reply, and take it out again when it is pressed once more.
function fieldOf(button) {
  return document.getElementById(button.closest("[data-phrases]").dataset.phrases);
}

function show() {
  const list = document.querySelector("[data-phrases]");
  if (!list || list.dataset.phrases === "") return;
  list.hidden = false;
  const reply = document.getElementById(list.dataset.phrases);
  for (const button of list.querySelectorAll("[data-phrase]")) {
    button.setAttribute("aria-pressed", String(reply.value.includes(button.dataset.phrase)));
  }
}

function press(button) {
  const reply = fieldOf(button);
  const phrase = button.dataset.phrase;
  const parts = reply.value.split(phrase).map((part) => part.trim());
  reply.value = reply.value.includes(phrase)
    ? parts.filter(Boolean).join(" ")
    : [reply.value.trim(), phrase].filter(Boolean).join(" ");
  reply.dispatchEvent(new Event("input", { bubbles: true }));
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-phrase]");
  if (button) press(button);
});
document.addEventListener("input", (event) => {
  if (event.target.matches("textarea")) show();
});
document.addEventListener("portal:changed", show);
show();
