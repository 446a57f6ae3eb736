// Say a text aloud, part by part, in the language it is written in.
//   <button data-speak="Count to ten. Stop at seven." lang="en-GB" hidden>
//   <button data-speak-from="card-3" hidden>   says each [data-part] inside #card-3 and marks it;
//   one in another language names it: data-part="Ile to jest?" data-part-lang="pl"
import * as can from "./voices.js";

const PATIENCE = 3000; // milliseconds: some phones take the words and never begin
const OURS = ["canceled", "interrupted"]; // a fault that stop() made
const { synthesis } = can;
let speaking = null;
let limit = 0;
let awaitsVoices = false;

function stop() {
  clearTimeout(limit);
  synthesis?.cancel();
  speaking?.setAttribute("aria-pressed", "false");
  document.querySelectorAll(".being-said").forEach((part) => part.classList.remove("being-said"));
  speaking = null;
  awaitsVoices = false;
}

function giveUp(button) {
  stop();
  can.fail(button);
}

function expectSound(button) {
  clearTimeout(limit);
  limit = setTimeout(giveUp, PATIENCE, button);
}

function say(button) {
  const parts = can.partsOf(button).filter((part) => can.voiceFor(part.lang));
  const unsaid = can.partsOf(button).filter((part) => !can.voiceFor(part.lang));
  if (!parts.length) return giveUp(button);
  if (unsaid.length) can.showWords(button, unsaid);
  parts.forEach((part, index) => {
    const words = new SpeechSynthesisUtterance(part.text);
    words.lang = part.lang;
    words.voice = can.voiceFor(part.lang);
    words.rate = 0.85; // a child needs the time between the words
    words.onstart = () => {
      if (speaking !== button) return;
      clearTimeout(limit);
      part.element?.classList.add("being-said");
      can.succeed(button);
    };
    words.onend = () => {
      part.element?.classList.remove("being-said");
      if (speaking !== button) return;
      index === parts.length - 1 ? stop() : expectSound(button);
    };
    words.onerror = ({ error }) => {
      if (speaking === button && !OURS.includes(error)) giveUp(button);
    };
    synthesis.speak(words);
  });
}

function press(button) {
  const wasSpeaking = button === speaking;
  stop();
  if (wasSpeaking) return;
  speaking = button;
  button.setAttribute("aria-pressed", "true");
  expectSound(button);
  awaitsVoices = !can.areKnown();
  if (!awaitsVoices) say(button);
}

can.markSilent();
synthesis?.addEventListener?.("voiceschanged", () => {
  can.tryAgain();
  if (!awaitsVoices || !can.areKnown()) return;
  awaitsVoices = false;
  say(speaking);
});
document.addEventListener("htmx:afterSettle", can.markSilent);
document.addEventListener("portal:changed", can.markSilent);
document.addEventListener("click", (event) => {
  const button = event.target.closest(can.BUTTONS);
  if (button) press(button);
});
window.addEventListener("pagehide", stop);
