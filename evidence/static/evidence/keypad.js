// One pad of large number keys for a child's finger, for the answer that is being written. On the
// walk it stands on each screen; else under the answer, for who chooses it over the phone's own keys.
const choice = document.querySelector("[data-keypad-choice]");
export const pad = document.querySelector("template[data-keypad]")?.content.firstElementChild;
let field = null;

export function writeInto(answer) {
  field = answer;
}

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
  writeInto(answer);
  field.closest("li").append(pad);
  pad.scrollIntoView({ block: "nearest" }); // not under the places at the foot of the screen
}

function choose() {
  for (const answer of document.querySelectorAll("input[data-digits]")) {
    answer.inputMode = choice.checked ? "none" : "numeric"; // the phone's own keys would hide ours
  }
  if (!choice.checked) pad.remove();
}

pad?.addEventListener("click", write);
if (choice && pad) {
  choice.closest("[hidden]").hidden = false;
  choice.addEventListener("change", choose);
  choice.form.addEventListener("focusin", stand);
}
