// The sending page with scripts: what was chosen is seen and put right first, goes over any line,
// and is called saved only when the portal has said so. Without this, the form is sent plainly.
import { Draft } from "./draft.js";
import { Delivery } from "./delivery.js";
import { smaller } from "./photos.js";
import { kindOf, Tray } from "./tray.js";
import { offerVoice } from "./voice.js";

const form = document.querySelector("form[data-send]");

function newKey() {
  return crypto.randomUUID?.() ?? [...crypto.getRandomValues(new Uint32Array(4))].join("-");
}

// Say what is amiss, in words or with a part of the portal's answer.
function tell(wrong) {
  const place = form.querySelector("[data-told]");
  place.replaceChildren(wrong);
  place.hidden = !wrong;
}

async function begin() {
  const part = form.querySelector("[data-tray]");
  const draft = new Draft(form);
  const files = new Map();
  const tray = new Tray(part, async (deed, piece) => {
    if (deed === "remove") {
      await delivery.takeBack(piece).catch(() => {
        tray.add(piece, files.get(piece.key)); // it is at the portal, and cannot be got from there
        tell(form.dataset.noLine);
      });
    }
    await draft.keep().catch(() => {});
  });
  const delivery = new Delivery({ form, draft, tray, files, tell });
  draft.pieces = tray.pieces;

  async function choose(chosen) {
    tell("");
    const most = Number(form.dataset.most);
    for (const file of chosen) {
      if (tray.pieces.length >= most) {
        tell(form.dataset.tooMany);
        break;
      }
      part.setAttribute("aria-busy", "true");
      const made = await smaller(file);
      const kind = kindOf(file.type || made.type, file.name ?? "");
      const piece = { key: newKey(), kind, type: made.type || file.type, size: made.size, turn: 0 };
      files.set(piece.key, made);
      await draft.keepFile(piece.key, made).catch(() => {});
      tray.add(piece, made);
      await draft.keep().catch(() => {});
    }
    part.setAttribute("aria-busy", "false");
  }

  for (const input of form.querySelectorAll("input[type=file]")) {
    input.addEventListener("change", async () => {
      const chosen = [...input.files];
      input.value = ""; // what is in the tray is sent, and not what this field holds
      await choose(chosen);
    });
  }
  const camera = form.querySelector("[data-camera]");
  camera.hidden = !matchMedia("(pointer: coarse)").matches;
  camera.addEventListener("click", () => form.querySelector("[data-camera-input]").click());
  offerVoice(form.querySelector("[data-record]"), (sound) => choose([sound]));

  if (await draft.bringBack()) await delivery.bringBack();
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (part.getAttribute("aria-busy") !== "true") delivery.go();
  });
  part.hidden = false;
  form.dataset.ready = "";
}

if (form && window.fetch && window.Map) begin();
