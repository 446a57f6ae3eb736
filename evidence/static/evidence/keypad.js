// One pad of large number keys for a child's finger: it stands under the answer that is being
// written. Whoever prefers the phone's own keys leaves it off, and without this sees no choice.
const choice = document.querySelector("[data-keypad-choice]");
const pad = document.querySelector("template[data-keypad]")?.content.firstElementChild;
let field = null;

function write(event) {
  const key = event.target.closest("button");
  if (!key || !field) return;
  const full = field.value.length >= Number(field.dataset.digits);
  if ("rubOut" in key.dataset) field.value = field.value.slice(0, -1);
  else if (!full) field.value += key.value;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

function stand(event) {
  const answer = event.target.closest("input[data-digits]");
  if (!answer || !choice.checked) return;
  field = answer;
  field.closest("li").append(pad);
  pad.scrollIntoView({ block: "nearest" }); // not under the places at the foot of the screen
}

function choose() {
  for (const answer of document.querySelectorAll("input[data-digits]")) {
    answer.inputMode = choice.checked ? "none" : "numeric"; // the phone's own keys would hide ours
  }
  if (!choice.checked) pad.remove();
}

if (choice && pad) {
  choice.closest("[hidden]").hidden = false;
  choice.addEventListener("change", choose);
  choice.form.addEventListener("focusin", stand);
  pad.addEventListener("click", write);
}
