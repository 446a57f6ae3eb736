// Says how long the pieces will take: by what the browser knows of its line, then by what went.
const UP = 0.25; // of the speed down; common practice, no source: a phone sends slower than it gets
const ENOUGH = 2000; // milliseconds after which what went tells more than what the browser says

export class LineTime {
  constructor(part) {
    this.line = part.querySelector("[data-lasts]");
    this.steps = [...part.querySelector("[data-told-here]").content.querySelectorAll("[data-minutes]")]
      .map((step) => [Number(step.dataset.minutes), step.textContent])
      .sort(([one], [other]) => one - other);
    this.rate = (navigator.connection?.downlink ?? 0) * 125000 * UP; // bytes a second
  }

  began() {
    this.start = null;
  }

  // What has gone so far, and all there is, in bytes.
  moved(sent, all) {
    const now = performance.now();
    this.start ??= { now, sent };
    const took = now - this.start.now;
    if (took > ENOUGH && sent > this.start.sent) {
      this.rate = ((sent - this.start.sent) / took) * 1000;
    }
    this.show(all - sent);
  }

  show(left) {
    const minutes = this.rate ? left / this.rate / 60 : NaN;
    const found = this.steps.find(([most]) => minutes < 1 ? most === 0 : most >= Math.round(minutes));
    this.line.hidden = !left || !found;
    if (found && this.line.textContent !== found[1]) this.line.textContent = found[1];
  }
}
