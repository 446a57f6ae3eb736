// At a step of the walk a child says how it knows: one voice note a question, heard there before it
// goes, and sent with the rest.
import { offerVoice } from "./voice.js";

export class HowKnown {
  // *record*: the button that carries the words of recording. *choose* takes a sound into the tray.
  constructor(form, { record, tray, choose, remove }) {
    this.tray = tray;
    this.buttons = [...form.querySelectorAll("[data-how]")];
    for (const button of this.buttons) {
      const keep = async (sound) => {
        const before = this.of(button);
        if (before) await remove(before);
        await choose([sound], { prompt: Number(button.dataset.how) });
      };
      offerVoice(button, keep, record.dataset);
    }
  }

  of(button) {
    return this.tray.pieces.find(({ prompt }) => prompt === Number(button.dataset.how));
  }

  // Show what there is to hear.
  show() {
    for (const button of this.buttons) {
      const sound = button.closest(".step").querySelector(".step-heard");
      const address = this.tray.addresses.get(this.of(button)?.key);
      sound.hidden = !address;
      if (!address) sound.removeAttribute("src");
      else if (sound.src !== address) sound.src = address;
    }
  }
}
