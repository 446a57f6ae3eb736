// What each button has to say, which voices of this device can say it, and telling where none can:
// #no-voice says so once, the button is marked, and what is to be read stands beside it.
export const BUTTONS = "[data-speak], [data-speak-from]";
export const synthesis = window.speechSynthesis;
const note = document.getElementById("no-voice");
const shown = new WeakMap();
let failed = new WeakSet();
let waitedInVain = false;

const voices = () => synthesis?.getVoices() ?? [];

// Whether one can tell which voices there are: on many phones they come a while after the page.
export const areKnown = () => !synthesis || voices().length > 0 || waitedInVain;

// A voice of another language would say nonsense.
export function voiceFor(wanted) {
  const base = wanted.toLowerCase().split("-")[0];
  const same = voices().filter((voice) => voice.lang.toLowerCase().split(/[-_]/)[0] === base);
  const exact = (voice) => voice.lang.toLowerCase().replace("_", "-") === wanted.toLowerCase();
  return same.find(exact) ?? same[0];
}

export function partsOf(button) {
  const lang = button.closest("[lang]")?.lang || "en-GB";
  const from = button.dataset.speakFrom;
  const parts = from
    ? [...(document.getElementById(from)?.querySelectorAll("[data-part]") ?? [])].map((element) => ({
        element,
        text: element.dataset.part || element.textContent,
        lang: element.dataset.partLang || lang,
      }))
    : (button.dataset.speak.match(/[^.!?؟।۔]+[.!?؟।۔]*/g) ?? []).map((text) => ({ text, lang }));
  return parts.map((part) => ({ ...part, text: part.text.trim() })).filter((part) => part.text);
}

function tell(button) {
  if (!note || note.offsetParent) return; // it stands in view already
  button.after(note);
  note.hidden = false;
}

export function showWords(button, parts) {
  tell(button);
  shown.get(button)?.remove();
  const words = Object.assign(document.createElement("p"), { className: "to-read", dir: "auto" });
  words.lang = parts[0]?.lang ?? "";
  words.textContent = parts.map((part) => part.text).join("\n");
  (note?.previousElementSibling === button ? note : button).after(words);
  shown.set(button, words);
}

// Once a page is read, and whenever there are other buttons or voices.
export function markSilent() {
  const marked = [...document.querySelectorAll(BUTTONS)].filter((button) => {
    const none = areKnown() && !partsOf(button).some((part) => voiceFor(part.lang));
    const silent = none || failed.has(button);
    button.hidden = false;
    if (silent) button.setAttribute("aria-describedby", "no-voice");
    else button.removeAttribute("aria-describedby");
    if (!silent) shown.get(button)?.remove();
    return silent && button.offsetParent;
  });
  if (marked.length) tell(marked[0]);
  else if (note) note.hidden = true;
}

export function fail(button) {
  failed.add(button);
  waitedInVain ||= voices().length === 0;
  markSilent();
  showWords(button, partsOf(button));
}

export function succeed(button) {
  if (failed.delete(button)) markSilent();
}

export function tryAgain() {
  failed = new WeakSet();
  waitedInVain = false;
  markSilent();
}
