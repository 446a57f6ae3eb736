// Say a text aloud, part by part, in the language it is written in.
//   <button data-speak="Count to ten. Stop at seven." lang="en-GB" hidden>
//   <button data-speak-from="card-3" hidden>   says each [data-part] inside #card-3 and marks it;
//   one in another language names it: data-part="Ile to jest?" data-part-lang="pl"
const synthesis = window.speechSynthesis;
let speaking = null;

function language(button) {
  return button.closest("[lang]")?.lang || document.documentElement.lang || "en-GB";
}

function voiceFor(wanted) {
  const voices = synthesis.getVoices();
  const base = wanted.toLowerCase().split("-")[0];
  const same = voices.filter((voice) => voice.lang.toLowerCase().split(/[-_]/)[0] === base);
  const exact = (voice) => voice.lang.toLowerCase().replace("_", "-") === wanted.toLowerCase();
  return { known: voices.length > 0, voice: same.find(exact) || same[0] };
}

function partsOf(button) {
  if (button.dataset.speakFrom) {
    const parts = document.getElementById(button.dataset.speakFrom)?.querySelectorAll("[data-part]");
    return [...(parts ?? [])].map((element) => ({
      element,
      text: element.dataset.part || element.textContent,
      lang: element.dataset.partLang,
    }));
  }
  const sentences = button.dataset.speak.match(/[^.!?؟।]+[.!?؟।]*/g) ?? [];
  return sentences.map((text) => ({ text: text.trim() }));
}

function stop() {
  synthesis.cancel();
  speaking?.setAttribute("aria-pressed", "false");
  document.querySelectorAll(".being-said").forEach((part) => part.classList.remove("being-said"));
  speaking = null;
}

function start(button) {
  stop();
  speaking = button;
  button.setAttribute("aria-pressed", "true");
  const lang = language(button);
  const canSay = ({ known, voice }) => !known || voice;
  const parts = partsOf(button).filter((part) => part.text.trim() && canSay(voiceFor(part.lang || lang)));
  parts.forEach((part, index) => {
    const words = new SpeechSynthesisUtterance(part.text);
    words.lang = part.lang || lang;
    words.voice = voiceFor(words.lang).voice ?? null;
    words.rate = 0.85; // a child needs the time between the words
    words.onstart = () => part.element?.classList.add("being-said");
    words.onend = () => {
      part.element?.classList.remove("being-said");
      if (index === parts.length - 1 && speaking === button) stop();
    };
    synthesis.speak(words);
  });
}

// A voice of another language would say nonsense: then there is nothing to listen to.
function showButtons() {
  for (const button of document.querySelectorAll("[data-speak], [data-speak-from]")) {
    const { known, voice } = voiceFor(language(button));
    button.hidden = known && !voice;
  }
}

if (synthesis) {
  showButtons();
  synthesis.addEventListener?.("voiceschanged", showButtons);
  document.addEventListener("htmx:afterSettle", showButtons);
  document.addEventListener("portal:changed", showButtons);
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-speak], [data-speak-from]");
    if (button) button === speaking ? stop() : start(button);
  });
  window.addEventListener("pagehide", stop);
}
