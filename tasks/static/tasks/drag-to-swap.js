// Let a day or a part be dragged onto another of its sort, to swap the two. On top of the buttons
// that do the same: an element with data-place="2026-11-23/main_task" and a [data-grip] inside.
const sort = (place) => (place.includes("/") ? "part" : "day");
let dragged = null;

function wake() {
  for (const grip of document.querySelectorAll("[data-grip]")) {
    grip.hidden = false;
    grip.draggable = true;
  }
}

function targetOf(event) {
  if (!dragged) return null;
  for (let at = event.target.closest("[data-place]"); at; at = at.parentElement?.closest("[data-place]")) {
    const fits = sort(at.dataset.place) === sort(dragged.dataset.place);
    if (fits) return at === dragged ? null : at;
  }
  return null;
}

function mark(target) {
  document.querySelectorAll(".swaps-here").forEach((each) => each.classList.remove("swaps-here"));
  target?.classList.add("swaps-here");
}

document.addEventListener("dragstart", (event) => {
  const grip = event.target.closest?.("[data-grip]");
  dragged = grip?.closest("[data-place]") ?? null;
  if (!dragged) return;
  event.dataTransfer.effectAllowed = "move";
  event.dataTransfer.setData("text/plain", dragged.dataset.place);
  event.dataTransfer.setDragImage(dragged, 8, 8);
  dragged.classList.add("being-moved");
});

document.addEventListener("dragover", (event) => {
  const target = targetOf(event);
  mark(target);
  if (target) event.preventDefault();
});

document.addEventListener("drop", (event) => {
  const target = targetOf(event);
  const form = document.getElementById("swap-by-dragging");
  if (!target || !form) return;
  event.preventDefault();
  form.elements.one.value = dragged.dataset.place;
  form.elements.other.value = target.dataset.place;
  form.requestSubmit();
});

document.addEventListener("dragend", () => {
  mark(null);
  dragged?.classList.remove("being-moved");
  dragged = null;
});

document.addEventListener("htmx:afterSettle", wake);
wake();
