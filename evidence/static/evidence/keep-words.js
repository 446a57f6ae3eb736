// Keep what was typed while the camera is open: some phones then throw the page away, and load it
// anew on coming back. Words only, in this tab only, and forgotten on the page that shows them sent.
const NAME = "words of ";
const place = `${NAME}${location.pathname}`;
const form = document.querySelector("form[data-keep-words]");
const typed = 'textarea, input[name^="answer-"]:not([type="radio"])';

function keep() {
  const words = [...form.querySelectorAll(typed)].map(({ name, value }) => [name, value]);
  sessionStorage.setItem(place, JSON.stringify(words.filter(([, value]) => value)));
}

function bringBack() {
  for (const [name, value] of JSON.parse(sessionStorage.getItem(place) ?? "[]")) {
    const field = form.elements[name];
    if (!field || field.value) continue;
    field.value = value;
    const folded = field.closest("details");
    if (folded) folded.open = true;
  }
}

function forget() {
  for (const name of Object.keys(sessionStorage)) {
    if (name.startsWith(NAME)) sessionStorage.removeItem(name);
  }
}

if (form) {
  bringBack();
  form.addEventListener("input", keep);
}
if (document.querySelector("[data-words-sent]")) forget();
