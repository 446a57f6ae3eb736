// The pieces that were chosen, as they will be sent: seen, put in order, turned, taken out.
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
    this.pictures = new Map();
    this.list.addEventListener("click", (event) => this.press(event));
  }

  add(piece, file) {
    this.pieces.push(piece);
    if (piece.kind === "photo" && file) this.pictures.set(piece.key, URL.createObjectURL(file));
    this.show();
  }

  remove(piece) {
    this.pieces.splice(this.pieces.indexOf(piece), 1);
    URL.revokeObjectURL(this.pictures.get(piece.key));
    this.pictures.delete(piece.key);
  }

  press(event) {
    const button = event.target.closest("[data-do]");
    if (!button || this.locked) return;
    const at = [...this.list.children].indexOf(button.closest("li"));
    const piece = this.pieces[at];
    const { do: deed } = button.dataset;
    if (deed === "remove") this.remove(piece);
    if (deed === "turn") piece.turn = (piece.turn + 90) % 360;
    if (deed === "earlier" || deed === "later") {
      this.pieces.splice(at, 1);
      this.pieces.splice(at + (deed === "later" ? 1 : -1), 0, piece);
    }
    this.show();
    this.changed(deed, piece);
    this.focus(piece, deed, at);
  }

  // The button that was pressed is drawn again: the next press must find it under the finger.
  focus(piece, deed, at) {
    const line = this.list.children[deed === "remove" ? Math.min(at, this.pieces.length - 1)
      : this.pieces.indexOf(piece)];
    const button = line?.querySelector(`[data-do="${deed}"]:not([disabled])`);
    (button ?? line?.querySelector("button:not([disabled])") ?? this.part).focus();
  }

  show() {
    this.list.replaceChildren(...this.pieces.map((piece, at) => this.drawn(piece, at)));
    this.list.hidden = !this.pieces.length;
  }

  drawn(piece, at) {
    const line = this.line.cloneNode(true);
    const image = line.querySelector("img");
    const name = `${this.part.dataset[piece.kind]} ${at + 1}`;
    line.querySelector("[data-what]").textContent = name;
    line.querySelector("[data-size]").textContent = inWords(piece.size);
    line.querySelector(`[data-blank="${piece.kind}"]`).hidden = false;
    if (this.pictures.has(piece.key)) {
      image.addEventListener("load", () => {
        image.hidden = false;
        line.querySelector(`[data-blank="${piece.kind}"]`).hidden = true;
      });
      image.alt = name;
      image.src = this.pictures.get(piece.key);
    }
    line.querySelector(".chosen-picture").classList.add(`turn-${piece.turn}`);
    this.tell(line, piece);
    for (const button of line.querySelectorAll("[data-do]")) {
      const { do: deed } = button.dataset;
      button.setAttribute("aria-label", `${name}: ${button.textContent.trim()}`);
      button.disabled = this.locked || (deed === "earlier" && at === 0) ||
        (deed === "later" && at === this.pieces.length - 1);
      if (deed === "turn") button.hidden = !["photo", "clip"].includes(piece.kind);
    }
    return line;
  }

  tell(line, piece) {
    const why = line.querySelector("[data-why]");
    why.textContent = piece.refusal ?? "";
    why.hidden = !piece.refusal;
    line.querySelector("[data-there]").hidden = !piece.done;
  }

  lock(locked) {
    this.locked = locked;
    this.show();
  }

  get size() {
    return this.pieces.reduce((sum, piece) => sum + piece.size, 0);
  }
}
