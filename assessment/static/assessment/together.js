// Say how many are ticked, and tick them all.
const form = document.querySelector("[data-together]");

function ticks() {
  return [...form.querySelectorAll("input[name=all-ticked]")];
}

function count() {
  const place = form.querySelector("[data-ticked]");
  const ticked = ticks().filter((tick) => tick.checked).length;
  place.textContent = ticked ? place.dataset.words.replace("{count}", ticked) : "";
}

if (form) {
  form.querySelector("[data-tick-tools]").hidden = false;
  form.addEventListener("change", count);
  form.addEventListener("click", (event) => {
    const tool = event.target.closest("[data-tick]");
    if (!tool) return;
    for (const tick of ticks()) tick.checked = tool.dataset.tick === "all";
    count();
  });
  count();
}
