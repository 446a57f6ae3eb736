// One key for one button: <button data-key="n">. "?" lists the keys; they can be switched off.
// A key alone shows, moves or fills in, and is not heard while words are being written; whatever
// is saved takes Ctrl as well: <button data-key="Ctrl+Enter">. So no words are taken for keys.
import { areOn, openList } from "./keys-list.js";

function isWriting(target) {
  const free = ["checkbox", "radio", "button", "submit"];
  return target.isContentEditable || target.matches("textarea, select") ||
    (target.matches("input") && !free.includes(target.type));
}

const WORDS = "textarea, input[type=text], input[type=search], input[type=email]";
const PANEL = `details[open]:has(> summary[data-key]):has(${WORDS})`;

function partOf(key, place) {
  const keyed = [...place.querySelectorAll(`[data-key="${CSS.escape(key)}"]`)];
  return keyed.find((part) => !part.disabled && part.checkVisibility());
}

// What Ctrl and a key stand for: in the form in hand first, and never a button of another form.
function saving(event) {
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  if (key === "z" && isWriting(event.target)) return null; // takes back what was written
  const form = event.target.closest("form");
  const own = form && partOf(`Ctrl+${key}`, form);
  if (own || !form) return own ?? partOf(`Ctrl+${key}`, document);
  if (key === "Enter") return form.querySelector("button:not([type=button])");
  return isWriting(event.target) ? null : partOf(`Ctrl+${key}`, document);
}

function press(part) {
  if (part.matches("textarea, select, input:not([type=radio], [type=checkbox])")) {
    part.focus();
    return;
  }
  part.click();
  const panel = part.matches("summary") && part.parentElement;
  if (panel && panel.open) panel.querySelector(WORDS)?.focus();
}

function leaveWriting(target) {
  const panel = target.closest(PANEL);
  if (panel) panel.open = false;
  (panel?.querySelector("summary") ?? document.querySelector("main")).focus();
}

document.addEventListener("keydown", (event) => {
  if (event.altKey || event.repeat || document.querySelector("dialog[open]")) return;
  if (event.ctrlKey || event.metaKey) {
    const wanted = saving(event);
    if (!wanted) return;
    event.preventDefault();
    wanted.click();
    return;
  }
  if (event.key === "Escape" && (event.target.matches(WORDS) || event.target.closest(PANEL))) {
    leaveWriting(event.target);
    return;
  }
  if (isWriting(event.target) || document.querySelector(PANEL)) return;
  if (event.key === "?" && openList()) {
    event.preventDefault();
    return;
  }
  const wanted = areOn() && partOf(event.key, document);
  if (!wanted) return;
  event.preventDefault();
  press(wanted);
});
