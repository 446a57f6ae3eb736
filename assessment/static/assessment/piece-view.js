// Larger, turned, frame by frame: the tools above the pieces belong to the piece at hand.
import { step } from "./frame-step.js";

const SIZES = ["1", "1.5", "2", "3"];
const TURNS = ["0", "90", "180", "270"];
const PACES = [1, 0.5, 0.25];
let tools = null;
let pieces = [];
let atHand = null;

function clip() {
  return atHand?.querySelector("video") ?? null;
}

function give(piece, scroll) {
  atHand = piece;
  for (const each of pieces) each.classList.toggle("at-hand", each === piece);
  for (const tool of tools.querySelectorAll("[data-clip-only]")) tool.hidden = !clip();
  for (const tool of tools.querySelectorAll("[data-picture-only]")) {
    tool.hidden = !piece.querySelector("img, video");
  }
  const place = tools.querySelector("[data-place]");
  place.textContent = tools.dataset.placeWords
    .replace("{number}", pieces.indexOf(piece) + 1)
    .replace("{all}", pieces.length);
  if (scroll) say(place.textContent);
}

function after(values, value, by) {
  const place = Math.max(0, values.indexOf(value)) + by;
  return values[Math.min(values.length - 1, Math.max(0, place))];
}

function resize(by) {
  const size = after(SIZES, atHand.dataset.size ?? "1", by);
  atHand.dataset.size = size;
  say(tools.dataset.sizeWords.replace("{size}", size));
}

function turn() {
  const place = TURNS.indexOf(atHand.dataset.turn ?? "0") + 1;
  atHand.dataset.turn = TURNS[place % TURNS.length];
}

function next() {
  give(pieces[(pieces.indexOf(atHand) + 1) % pieces.length], true);
}

function slower() {
  const pace = PACES[(PACES.indexOf(clip().playbackRate) + 1) % PACES.length];
  clip().playbackRate = pace;
  say(tools.dataset.paceWords.replace("{pace}", pace));
}

function say(words) {
  tools.querySelector("[role=status]").textContent = words;
}

const DEEDS = {
  larger: () => resize(1),
  smaller: () => resize(-1),
  turn,
  next,
  play: () => (clip().paused ? clip().play() : clip().pause()),
  back: () => step(clip(), -1),
  on: () => step(clip(), 1),
  slower,
};

function begin() {
  tools = document.querySelector("[data-piece-tools]");
  pieces = [...document.querySelectorAll("[data-piece]")];
  if (!tools || !pieces.length) return;
  tools.hidden = false;
  for (const part of tools.querySelectorAll("[data-tool=next], [data-place]")) {
    part.hidden = pieces.length < 2;
  }
  tools.parentElement.classList.toggle("leafed", pieces.length > 1);
  give(pieces[0], false);
}

document.addEventListener("click", (event) => {
  const tool = event.target.closest("[data-tool]");
  if (tool) {
    DEEDS[tool.dataset.tool]();
    return;
  }
  const piece = event.target.closest("[data-piece]");
  if (!piece || !pieces.includes(piece)) return;
  give(piece, false);
  if (event.target.matches("a img") && !event.ctrlKey && !event.metaKey) {
    event.preventDefault();
    atHand.dataset.size === SIZES.at(-1) ? resize(-SIZES.length) : resize(1);
  }
});
document.addEventListener("portal:changed", begin);
begin();
