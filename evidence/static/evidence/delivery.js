// Takes a form and its pieces to the portal: the pieces one after the other, then the words.
import { carry, pause } from "./line.js";
import { hand } from "./handing.js";
import { Progress } from "./progress.js";
import * as shelf from "./shelf.js";

const AGAIN = 4000; // milliseconds

export class Delivery {
  constructor({ form, draft, tray, files, time, tell }) {
    Object.assign(this, { form, draft, tray, files, time, tell });
    this.progress = new Progress(form.querySelector("[data-progress]"));
    this.progress.on("pause", () => this.stop("paused"));
    this.progress.on("goon", () => this.go());
    this.progress.on("cancel", () => this.cancel());
  }

  // Show what a draft held; what was on its way when the page was left goes on by itself.
  async bringBack() {
    const kept = this.draft.pieces;
    this.draft.pieces = this.tray.pieces;
    for (const piece of kept) {
      const file = await shelf.get("files", piece.key);
      if (file) this.files.set(piece.key, file);
      if (file || piece.done) this.tray.add(piece, file);
    }
    if (this.draft.state === "sending") this.go();
    else if (kept.length) this.tell(this.form.dataset.backAgain);
  }

  // Only one window sends a draft at a time.
  async go() {
    const held = (lock) => (lock ? this.deliver() : this.tell(this.form.dataset.elsewhere));
    if (!navigator.locks) return this.deliver();
    return navigator.locks.request(this.draft.place, { ifAvailable: true }, held);
  }

  async deliver() {
    this.stopping = new AbortController();
    const { signal } = this.stopping;
    this.tell("");
    this.busy(true);
    this.draft.state = "sending";
    await this.draft.keep().catch(() => {});
    while (!signal.aborted) {
      try {
        return await this.all(signal);
      } catch (fault) {
        if (fault.status === 401) return this.giveBack(this.form.dataset.signedOut, true);
        if (signal.aborted) return undefined;
        this.wait(fault);
        await pause(AGAIN, signal);
      }
    }
    return undefined;
  }

  async all(signal) {
    const { pieces } = this.tray;
    const going = pieces.filter(({ done, final }) => !done && !final);
    this.time.began();
    if (going.length && !window.tus) await this.fetchUploader();
    for (const piece of going) await this.send(piece, signal);
    if (pieces.some((piece) => piece.refusal)) return this.giveBack(this.form.dataset.refused);
    this.progress.say("finishing");
    const { next, wrong } = await hand(this.form, pieces, signal);
    if (!next) return this.giveBack(wrong ?? this.form.dataset.notTaken);
    await this.draft.drop();
    return location.assign(next);
  }

  // It is fetched where there is a line to send by. Some browsers remember for as long as a page is
  // open that a script could not be had, so it is asked for by another name then.
  async fetchUploader() {
    const again = this.asked ? `?again=${this.asked}` : "";
    this.asked = (this.asked ?? 0) + 1;
    await import(`${this.form.dataset.tus}${again}`);
  }

  moved(bytes) {
    const sent = this.tray.pieces.filter(({ done }) => done).reduce((sum, { size }) => sum + size, 0);
    this.progress.say("sending", ["pause"]);
    this.progress.move(sent + bytes, this.tray.size);
    this.time.moved(sent + bytes, this.tray.size);
  }

  // No line, or a portal that answers but cannot take it just now.
  wait(fault) {
    this.progress.say(fault.status ? "busy" : "waiting", ["pause"]);
  }

  // Send one piece. What cannot be sent stays marked with the reason, and holds up no other.
  async send(piece, signal) {
    this.moved(0);
    piece.refusal = null;
    try {
      await carry(this.files.get(piece.key), piece, {
        endpoint: this.form.dataset.uploads,
        metadata: this.metadata(piece),
        signal,
        moved: (bytes) => this.moved(bytes),
        waiting: (fault) => this.wait(fault),
        began: (address) => {
          piece.address = address;
          this.draft.keep().catch(() => {});
        },
      });
      piece.done = true;
      this.files.delete(piece.key);
      await shelf.drop("files", piece.key).catch(() => {});
    } catch (fault) {
      if (!fault.status || fault.status === 401) throw fault;
      piece.refusal = fault.message || this.form.dataset.notTaken;
    }
    this.tray.show();
    await this.draft.keep().catch(() => {});
  }

  metadata(piece) {
    const { child, day, to } = this.form.dataset;
    const also = [...this.form.querySelectorAll('[name="also"]:checked')].map((box) => box.value);
    const told = { child, day, form: this.form.elements.form_key.value, filetype: piece.type };
    if (to) told.to = to;
    if (this.form.elements.home) told.home = this.form.elements.home.value;
    if (also.length) told.also = also.join(" ");
    if (piece.prompt) told.prompt = String(piece.prompt);
    if (piece.turn) told.turn = String(piece.turn);
    return told;
  }

  // Let the form be changed again: nothing of it is lost. What is amiss is said in words or shown.
  giveBack(wrong, signedOut = false) {
    this.draft.state = signedOut ? "sending" : "open";
    this.draft.keep().catch(() => {});
    this.busy(false);
    this.progress.hide();
    this.tell(wrong);
    this.form.querySelector("[data-told]").focus();
    this.form.querySelector("[data-sign-in]").hidden = !signedOut;
  }

  stop(state) {
    this.stopping?.abort();
    this.draft.state = "open";
    this.draft.keep().catch(() => {});
    this.progress.say(state, ["goon", "cancel"]);
  }

  async cancel() {
    this.progress.say("cancelling");
    try {
      for (const piece of this.tray.pieces) await this.takeBack(piece);
    } catch {
      this.progress.say("noLine", ["goon", "cancel"]);
      return;
    }
    await this.draft.drop();
    location.reload();
  }

  // Take back what is at the portal of a piece; what is on the phone goes as well.
  async takeBack(piece) {
    if (piece.address) {
      await fetch(piece.address, { method: "DELETE", headers: { "Tus-Resumable": "1.0.0" } });
    }
    this.files.delete(piece.key);
    await shelf.drop("files", piece.key).catch(() => {});
  }

  busy(busy) {
    this.form.setAttribute("aria-busy", String(busy));
    this.form.querySelector("[data-send-button]").disabled = busy;
    for (const input of this.form.querySelectorAll("input[type=file], [data-camera]")) {
      input.disabled = busy;
    }
    this.tray.lock(busy);
  }
}
