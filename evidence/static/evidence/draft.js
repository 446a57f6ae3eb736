// What was typed and chosen on this page, kept until it is saved: some phones throw a page away
// while the camera is open, and some lines come back only tomorrow.
import * as shelf from "./shelf.js";

const OURS = ["csrfmiddlewaretoken", "form_key", "whole", "uploads", "pieces"];
const SOON = 250; // milliseconds

export class Draft {
  constructor(form) {
    this.form = form;
    this.place = location.pathname;
    this.owner = shelf.owner();
    this.pieces = [];
    this.state = "open";
    form.addEventListener("input", () => this.keepSoon());
    form.addEventListener("walked", () => this.isKept && this.keepSoon());
    document.addEventListener("visibilitychange", () => this.keepNow());
  }

  // Bring back what was kept here by the same person; true if there was something.
  async bringBack() {
    const kept = this.owner ? await shelf.get("drafts", this.place).catch(() => null) : null;
    if (!kept) return false;
    if (kept.owner !== this.owner) {
      await shelf.clear();
      return false;
    }
    this.isKept = true;
    this.pieces = kept.pieces;
    this.state = kept.state;
    if (kept.formKey) this.form.elements.form_key.value = kept.formKey;
    // How far one had come stands until one goes further: not from looking at the first screen.
    const { dataset } = this.form;
    if (kept.at && !dataset.at) Object.assign(dataset, { at: kept.at.step, said: kept.at.said });
    this.fill(kept.words);
    this.form.dispatchEvent(new Event("input")); // what follows from answers is shown again
    return true;
  }

  fill(words) {
    for (const [name, value] of words) {
      const fields = [...this.form.querySelectorAll(`[name="${CSS.escape(name)}"]`)];
      for (const field of fields) {
        const isChoice = field.type === "radio" || field.type === "checkbox";
        if (isChoice) field.checked ||= field.value === value;
        else field.value ||= value;
        const folded = field.closest("details");
        if (folded) folded.open = true;
      }
    }
  }

  get words() {
    return [...new FormData(this.form)].filter(
      ([name, value]) => !OURS.includes(name) && typeof value === "string" && value,
    );
  }

  // Of files nobody but families keeps any: the machines of a school are used by many.
  async keep() {
    clearTimeout(this.clock);
    this.clock = null;
    if (!this.owner || this.gone) return;
    const { place, owner, pieces, state, words } = this;
    const { label, at: step, said } = this.form.dataset;
    const at = step ? { step, said } : null; // how far a walk has come
    const formKey = this.form.elements.form_key?.value;
    this.isKept = true;
    await shelf.put("drafts", place, { place, owner, label, formKey, state, words, pieces, at });
  }

  keepSoon() {
    this.clock ??= setTimeout(() => this.keep(), SOON);
  }

  keepNow() {
    if (this.clock) this.keep();
  }

  async keepFile(key, file) {
    if (this.owner) await shelf.put("files", key, file);
  }

  // Forget it: it is saved, or was taken back.
  async drop() {
    this.gone = true;
    clearTimeout(this.clock);
    await shelf.dropDraft(this.place).catch(() => {});
  }
}
