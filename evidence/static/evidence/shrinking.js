// The clips that are made smaller before they go, one after the other. Each can be stopped, and
// then goes as it is; so does one with which the browser cannot do it.
import { smaller } from "./clips.js";

const PLENTY = 200_000; // bytes a second, so 12 MB a minute: what weighs less goes as it is

export const can = Boolean(window.MediaRecorder && window.AudioContext &&
  HTMLCanvasElement.prototype.captureStream);

// Whether a clip of so many seconds is worth the while.
export const isLarge = (file, seconds) => can && seconds > 0 && file.size > seconds * PLENTY;

export class Shrinking {
  constructor({ tray, files, draft, changed }) {
    Object.assign(this, { tray, files, draft, changed });
    this.stops = new Map();
    this.done = Promise.resolve();
  }

  // Make a piece smaller from one second to another. *whole*: as it is, it could go as well.
  add(piece, from, until, whole) {
    const stop = new AbortController();
    this.stops.set(piece.key, stop);
    piece.making = { from, until, whole };
    piece.made = 0;
    this.tray.show();
    this.done = this.done.then(() => this.make(piece, stop.signal)).catch(() => {});
    return this.done;
  }

  // Wait until none is being made any more. *tell* is called where there is something to wait for.
  async all(tell) {
    while (this.stops.size) {
      tell();
      await this.done;
    }
  }

  stop(piece) {
    this.stops.get(piece.key)?.abort();
  }

  async make(piece, signal) {
    const { from, until, whole } = piece.making;
    try {
      const file = this.files.get(piece.key);
      const moved = (share) => this.tray.move(piece, share);
      const made = await smaller(file, { from, until, signal, moved });
      if (!whole || made.size < file.size) await this.put(piece, made);
    } catch {
      // It goes as it is, or what is amiss with it is shown again.
    } finally {
      piece.making = null;
      this.stops.delete(piece.key);
      this.tray.show();
      await this.changed();
    }
  }

  async put(piece, made) {
    if (!this.files.has(piece.key)) return; // taken out meanwhile
    this.files.set(piece.key, made);
    await this.draft.keepFile(piece.key, made).catch(() => {});
    Object.assign(piece, { size: made.size, type: made.type, seconds: 0 });
    delete piece.refusal;
    delete piece.final;
  }
}
