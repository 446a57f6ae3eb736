// One key for one button: <button data-key="n">. "?" lists the keys; they can be switched off.
const PLACE = "keys"; // the only thing kept in this browser: "off" or nothing
const list = document.getElementById("keys");
const choice = list?.querySelector("[data-keys-choice]");

function areOn() {
  return localStorage.getItem(PLACE) !== "off";
}

function show() {
  const on = areOn();
  document.body.classList.toggle("keys-on", on);
  for (const button of document.querySelectorAll("[data-key]")) {
    if (on) button.setAttribute("aria-keyshortcuts", button.dataset.key);
    else button.removeAttribute("aria-keyshortcuts");
  }
  if (choice) choice.checked = on;
}

function name(button) {
  return button.dataset.keyName || button.getAttribute("aria-label") || button.textContent.trim();
}

function open() {
  const rows = list.querySelector("[data-keys-rows]");
  rows.replaceChildren();
  for (const button of document.querySelectorAll("[data-key]")) {
    const key = document.createElement("dt");
    key.append(Object.assign(document.createElement("kbd"), { textContent: button.dataset.key }));
    rows.append(key, Object.assign(document.createElement("dd"), { textContent: name(button) }));
  }
  list.showModal();
}

function isWriting(target) {
  const free = ["checkbox", "radio", "button", "submit"];
  return target.isContentEditable || target.matches("textarea, select") ||
    (target.matches("input") && !free.includes(target.type));
}

document.addEventListener("keydown", (event) => {
  const other = event.ctrlKey || event.metaKey || event.altKey || event.repeat;
  if (other || isWriting(event.target) || document.querySelector("dialog[open]")) return;
  if (event.key === "?" && list) {
    event.preventDefault();
    open();
    return;
  }
  if (!areOn()) return;
  const keyed = [...document.querySelectorAll("[data-key]")];
  const wanted = keyed.find((part) => part.dataset.key === event.key && !part.disabled);
  if (!wanted) return;
  event.preventDefault();
  if (wanted.matches("textarea, select, input:not([type=radio], [type=checkbox])")) wanted.focus();
  else wanted.click();
});

choice?.addEventListener("change", () => {
  if (choice.checked) localStorage.removeItem(PLACE);
  else localStorage.setItem(PLACE, "off");
  show();
});
document.querySelector("[data-keys-open]")?.addEventListener("click", open);
document.addEventListener("htmx:afterSettle", show);
document.addEventListener("portal:changed", show);
show();
