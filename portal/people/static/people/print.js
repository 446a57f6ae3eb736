// Shows the button that prints; without scripts the browser's own way is there.
const button = document.querySelector("[data-print]");
if (button) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
