// The walk with scripts: the screen that is asked for, its keys, and how far one has come. The
// answers are fields of one form; what is written in them is kept by draft.js.
import { pad, writeInto } from "./keypad.js";

const GLIMPSE = 2000; // milliseconds
const walk = document.querySelector("form.walk");
const steps = [...walk.querySelectorAll(".step")];
const squares = new Map(
  [...walk.querySelectorAll("[data-step]")].map((square) => [square.dataset.step, square]),
);

const answered = (step) => [...step.querySelectorAll("[name^='answer-']")]
  .some((field) => (field.type === "radio" ? field.checked : field.value.trim()));
const asks = (step) => Boolean(step.querySelector("[name^='answer-']"));

// What has an answer, and what was only to be said, once one is past it.
function markPath(here) {
  const at = steps.indexOf(here);
  for (const [index, step] of steps.entries()) {
    const square = squares.get(step.id);
    square?.classList.toggle("done", asks(step) ? answered(step) : index < at);
    if (step === here) square?.setAttribute("aria-current", "step");
    else square?.removeAttribute("aria-current");
  }
}

function placeKeys(step) {
  const place = step.querySelector("[data-keys]");
  const field = step.querySelector("input[data-digits]");
  if (!place) return;
  if (matchMedia("(pointer: coarse)").matches) field.inputMode = "none"; // ours are large enough
  place.append(pad);
  writeInto(field);
}

// Help is asked for with each part that was answered; for the whole, where none was.
const parts = [...walk.querySelectorAll("[data-part-help]")];
function askHelp() {
  const data = new FormData(walk);
  for (const part of parts) {
    part.hidden = !part.dataset.partHelp.split(",").some((name) => data.get(name)?.trim());
  }
  const any = parts.some((part) => !part.hidden);
  walk.querySelector(".part-help").hidden = !any;
  walk.querySelector("[data-help-whole]").hidden = any;
}

// A picture to be seen for a moment only: covered until it is asked for, and again after that.
// How long it was to be seen, all looks together, goes along with the answer.
function cover(place) {
  const button = place.querySelector("button");
  const time = place.querySelector("input");
  place.classList.add("covered");
  button.hidden = false;
  button.addEventListener("click", () => {
    const from = performance.now();
    place.classList.remove("covered");
    button.disabled = true;
    setTimeout(() => {
      place.classList.add("covered");
      time.value = Math.round(Number(time.value) + performance.now() - from);
      time.dispatchEvent(new Event("input", { bubbles: true }));
      button.disabled = false;
      button.querySelector("span").textContent = button.dataset.again;
    }, GLIMPSE);
  });
}

// The step that the address names, or holds what it names; else that which is there already.
function wanted() {
  const name = location.hash.slice(1);
  return document.getElementById(name)?.closest(".step") ?? walk.querySelector(".step.here") ??
    document.getElementById(name ? "ready" : "send");
}

// Tell the draft where one is, by the words of the screen, such as "4 of 9".
function note(step) {
  if (step.id === "ready") return;
  walk.dataset.at = step.id;
  walk.dataset.said = step.querySelector("[data-place]")?.textContent ?? "";
  walk.dispatchEvent(new Event("walked"));
}

function go(event) {
  const step = wanted();
  for (const each of steps) each.classList.toggle("here", each === step);
  walk.classList.add("walking");
  markPath(step);
  placeKeys(step);
  note(step);
  askHelp();
  if (event && step.id === location.hash.slice(1)) {
    scrollTo(0, 0);
    step.focus({ preventScroll: true });
  }
}

// In the order in which they are pressed, each once.
function order(event) {
  const button = event.target.closest("[data-order] button");
  if (!button) return;
  const all = button.parentElement;
  const field = all.parentElement.querySelector("input");
  if ("rubOut" in button.dataset) field.value = "";
  else field.value += `${field.value ? ", " : ""}${button.value}`;
  const written = field.value.split(", ");
  for (const each of all.querySelectorAll("[value]")) each.disabled = written.includes(each.value);
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

// A choice that is pressed once more is taken back.
function unchoose(event) {
  const field = event.target.closest(".step-choices .choice")?.querySelector("input");
  if (!field || event.target === field) return;
  if (field.checked) {
    event.preventDefault();
    field.checked = false;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
}

walk.addEventListener("click", order);
walk.addEventListener("click", unchoose);
walk.addEventListener("input", () => markPath(walk.querySelector(".step.here")));
walk.addEventListener("input", askHelp);
walk.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !event.target.matches(".step-prompt input")) return;
  event.preventDefault();
  event.target.closest(".step").querySelector("[data-on]").click();
});
for (const place of walk.querySelectorAll("[data-glimpse]")) cover(place);
for (const all of walk.querySelectorAll("[data-order]")) all.hidden = false;
window.addEventListener("hashchange", go);
go();
