// The keys of a page: a list of them, and whether single ones are heard at all.
const PLACE = "keys"; // the only thing kept in this browser: "off" or nothing
const list = document.getElementById("keys");
const choice = list?.querySelector("[data-keys-choice]");

export function areOn() {
  return localStorage.getItem(PLACE) !== "off";
}

function show() {
  const on = areOn();
  document.body.classList.toggle("keys-on", on);
  for (const button of document.querySelectorAll("[data-key]")) {
    const { key } = button.dataset;
    if (on || key.startsWith("Ctrl+")) {
      button.setAttribute("aria-keyshortcuts", key.replace("Ctrl+", "Control+"));
    } else button.removeAttribute("aria-keyshortcuts");
  }
  if (choice) choice.checked = on;
}

function name(button) {
  return button.dataset.keyName || button.getAttribute("aria-label") || button.textContent.trim();
}

// Tell whether there is a list to open.
export function openList() {
  if (!list) return false;
  const rows = list.querySelector("[data-keys-rows]");
  rows.replaceChildren();
  for (const button of document.querySelectorAll("[data-key]")) {
    const key = document.createElement("dt");
    key.append(Object.assign(document.createElement("kbd"), { textContent: button.dataset.key }));
    rows.append(key, Object.assign(document.createElement("dd"), { textContent: name(button) }));
  }
  list.showModal();
  return true;
}

choice?.addEventListener("change", () => {
  if (choice.checked) localStorage.removeItem(PLACE);
  else localStorage.setItem(PLACE, "off");
  show();
});
document.querySelector("[data-keys-open]")?.addEventListener("click", openList);
document.addEventListener("htmx:afterSettle", show);
document.addEventListener("portal:changed", show);
show();
