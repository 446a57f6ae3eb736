// Offer only the ranges that the chosen kind of number work knows.
//   <select data-kind> whose options carry data-ranges="5 10 20", and a <select data-within>
function offer(kind) {
  const within = kind.form?.querySelector("[data-within]");
  const known = kind.selectedOptions[0]?.dataset.ranges?.split(" ");
  if (!within || !known) return;
  for (const option of within.options) {
    const fits = known.includes(option.value);
    option.hidden = option.disabled = !fits;
  }
  if (within.selectedOptions[0]?.disabled) {
    const asked = Number(within.value);
    within.value = known.find((range) => Number(range) >= asked) ?? known.at(-1);
  }
}

function offerAll() {
  document.querySelectorAll("[data-kind]").forEach(offer);
}

document.addEventListener("change", (event) => {
  if (event.target.matches("[data-kind]")) offer(event.target);
});
document.addEventListener("htmx:afterSettle", offerAll);
offerAll();
