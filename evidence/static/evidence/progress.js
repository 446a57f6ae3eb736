// How far the sending has got, in bytes, and what can be done about it.
import { inWords } from "./tray.js";

export class Progress {
  constructor(part) {
    this.part = part;
    this.status = part.querySelector("[role=status]");
    this.share = part.querySelector("[data-share]");
    this.bar = part.querySelector("progress");
    this.said = "";
  }

  on(action, act) {
    this.part.querySelector(`[data-action="${action}"]`).addEventListener("click", act);
  }

  // Show how it stands in words: one of the states whose words the part carries.
  say(state, actions = []) {
    this.part.hidden = false;
    const words = this.part.dataset[state];
    if (words !== this.said) this.status.textContent = words; // not said again for every byte
    this.said = words;
    for (const button of this.part.querySelectorAll("[data-action]")) {
      button.hidden = !actions.includes(button.dataset.action);
    }
  }

  move(sent, all) {
    this.bar.max = all || 1;
    this.bar.value = sent;
    this.share.textContent = all ? this.part.dataset.of
      .replace("SENT", inWords(sent)).replace("ALL", inWords(all)) : "";
  }

  hide() {
    this.part.hidden = true;
  }
}
