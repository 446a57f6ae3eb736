// Offer only the ranges that the chosen kind of number work knows, and ask for the number only
// where the kind is about one.
//   <select data-kind> whose options carry data-ranges="5 10 20" data-one-number="true",
//   a <select data-within>, and perhaps an <input data-number>
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

function askNumber(kind) {
  const number = kind.form?.querySelector("[data-number]");
  if (!number) return;
  const isAbout = kind.selectedOptions[0]?.dataset.oneNumber === "true";
  number.closest(".mb-3").hidden = !isAbout;
  if (!isAbout) number.value = "";
}

function offerAll() {
  document.querySelectorAll("[data-kind]").forEach((kind) => {
    offer(kind);
    askNumber(kind);
  });
}

document.addEventListener("change", (event) => {
  if (!event.target.matches("[data-kind]")) return;
  offer(event.target);
  askNumber(event.target);
});
document.addEventListener("htmx:afterSettle", offerAll);
offerAll();
