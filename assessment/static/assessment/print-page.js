// Shows the button that prints this page; without scripts the browser's own way is there.
for (const button of document.querySelectorAll("[data-print-page]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
