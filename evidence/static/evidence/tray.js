// The pieces that were chosen, as they will be sent: seen, put in order, turned, taken out.
import { offerPart } from "./part-of-clip.js";

const STARTS = [["image/", "photo"], ["video/", "clip"], ["audio/", "voice"], ["application/pdf", "page"]];
const ENDINGS = { heic: "photo", heif: "photo", mov: "clip", "3gp": "clip", m4a: "voice" };

// What a file is, as far as the phone says: only to name it here. The portal looks inside.
export function kindOf(type, name = "") {
  const found = STARTS.find(([start]) => type.startsWith(start));
  return found?.[1] ?? ENDINGS[name.split(".").pop().toLowerCase()] ?? "page";
}

export function inWords(size) {
  if (size < 1e5) return `${Math.ceil(size / 1e3)} kB`;
  const number = size / 1e6;
  return `${number.toLocaleString(undefined, { maximumFractionDigits: number < 10 ? 1 : 0 })} MB`;
}

export class Tray {
  constructor(part, changed) {
    this.part = part;
    this.list = part.querySelector("[data-chosen]");
    this.line = part.querySelector("template").content.firstElementChild;
    this.changed = changed;
    this.pieces = [];
    this.addresses = new Map();
    this.list.addEventListener("click", (event) => this.press(event));
  }

  add(piece, file) {
    this.pieces.push(piece);
    const seen = piece.kind === "photo" || piece.kind === "voice" || piece.seconds;
    if (seen && file) this.addresses.set(piece.key, URL.createObjectURL(file));
    if (piece.kind === "voice") this.open = piece.key; // to be heard before it goes
    this.show();
  }

  remove(piece) {
    this.pieces.splice(this.pieces.indexOf(piece), 1);
    URL.revokeObjectURL(this.addresses.get(piece.key));
    this.addresses.delete(piece.key);
  }

  press(event) {
    const line = event.target.closest("li");
    const at = [...this.list.children].indexOf(line);
    const piece = this.pieces[at];
    if (event.target.closest(".chosen-pick")) {
      this.open = this.open === piece.key ? null : piece.key;
      this.show();
      this.list.children[at].querySelector(".chosen-pick").focus();
      return;
    }
    const button = event.target.closest("[data-do]");
    if (!button || this.locked) return;
    const { do: action } = button.dataset;
    if (action === "remove") this.remove(piece);
    if (action === "turn") piece.turn = (piece.turn + 90) % 360;
    if (action === "earlier" || action === "later") {
      this.pieces.splice(at, 1);
      this.pieces.splice(at + (action === "later" ? 1 : -1), 0, piece);
    }
    this.show();
    this.changed(action, piece);
    this.focus(piece, action, at);
  }

  // The button that was pressed is drawn again: the next press must find it under the finger.
  focus(piece, action, at) {
    const line = this.list.children[action === "remove" ? Math.min(at, this.pieces.length - 1)
      : this.pieces.indexOf(piece)];
    const button = line?.querySelector(`[data-do="${action}"]:not([hidden])`);
    const seen = button?.checkVisibility() ? button : line?.querySelector(".chosen-pick");
    (seen ?? this.part).focus();
  }

  show() {
    this.list.replaceChildren(...this.pieces.map((piece, at) => this.drawn(piece, at)));
    this.list.hidden = !this.pieces.length;
  }

  // How far a piece is that is being made smaller.
  move(piece, share) {
    piece.made = share;
    const line = this.list.children[this.pieces.indexOf(piece)];
    if (line) line.querySelector("progress").value = share;
  }

  drawn(piece, at) {
    const line = this.line.cloneNode(true);
    const name = `${this.part.dataset[piece.kind]} ${at + 1}`;
    const isOpen = !this.locked &&
      (this.open === piece.key || Boolean(piece.refusal) || Boolean(piece.making));
    line.querySelector("[data-what]").textContent = name;
    line.querySelector("[data-size]").textContent = inWords(piece.size);
    line.querySelector(`[data-blank="${piece.kind}"]`).hidden = false;
    line.querySelector(".chosen-pick").setAttribute("aria-expanded", String(isOpen));
    line.querySelector(".chosen-more").hidden = !isOpen;
    line.classList.toggle("chosen-open", isOpen);
    if (this.addresses.has(piece.key)) this.draw(line, piece);
    line.querySelector(".chosen-picture").classList.add(`turn-${piece.turn}`);
    this.tell(line, piece);
    this.drawClip(line, piece);
    for (const button of line.querySelectorAll("[data-do]")) {
      button.setAttribute("aria-label", `${name}: ${button.textContent.trim()}`);
      button.hidden = !this.can(button.dataset.do, piece, at);
    }
    return line;
  }

  drawClip(line, piece) {
    line.querySelector("[data-smaller]").hidden = !piece.making;
    line.querySelector("progress").value = piece.made ?? 0;
    if (!piece.seconds || piece.making) return;
    offerPart(line, piece, this.addresses.get(piece.key), Number(this.part.dataset.longest));
  }

  can(action, piece, at) {
    if (action === "as-it-is") return Boolean(piece.making?.whole);
    if (action === "part") return Boolean(piece.seconds);
    if (piece.final) return action === "remove";
    if (action === "earlier") return at > 0;
    if (action === "later") return at < this.pieces.length - 1;
    return action !== "turn" || ["photo", "clip"].includes(piece.kind);
  }

  draw(line, piece) {
    if (piece.kind === "clip") return;
    const address = this.addresses.get(piece.key);
    if (piece.kind === "voice") {
      const sound = line.querySelector("audio");
      sound.src = address;
      sound.hidden = false;
      return;
    }
    const image = line.querySelector("img");
    image.addEventListener("load", () => {
      image.hidden = false;
      line.querySelector(`[data-blank="${piece.kind}"]`).hidden = true;
    });
    image.src = address;
  }

  tell(line, piece) {
    const why = line.querySelector("[data-why]");
    why.textContent = piece.refusal ?? "";
    why.hidden = !piece.refusal || Boolean(piece.making);
    line.querySelector("[data-there]").hidden = !piece.done;
  }

  lock(locked) {
    this.locked = locked;
    this.show();
  }

  get size() {
    return this.pieces.reduce((sum, { size, final }) => sum + (final ? 0 : size), 0);
  }

  get left() {
    const still = this.pieces.filter(({ final, done, making }) => !(final || done || making));
    return still.reduce((sum, { size }) => sum + size, 0);
  }
}
