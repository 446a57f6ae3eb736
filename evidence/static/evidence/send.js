// The sending page with scripts: what was chosen is seen and put right first, goes over any line,
// and is called saved only when the portal has said so. Without this, the form is sent plainly.
import { Draft } from "./draft.js";
import { Delivery } from "./delivery.js";
import { LineTime } from "./line-time.js";
import { checked } from "./checks.js";
import { HowKnown } from "./how-known.js";
import { smaller } from "./photos.js";
import { can, isLarge, Shrinking } from "./shrinking.js";
import { kindOf, Tray } from "./tray.js";
import { offerVoice } from "./voice.js";

const MARGIN = 0.5; // seconds: a recorder stops a little late
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
  const tray = new Tray(part, async (action, piece) => {
    if (action === "as-it-is" || action === "remove") shrinking.stop(piece);
    if (action === "part") {
      const until = piece.from + Number(part.dataset.longest) - MARGIN;
      shrinking.add(piece, piece.from, until, false);
    }
    if (action === "remove") await takeBack(piece);
    await changed();
  });
  const time = new LineTime(part);
  const delivery = new Delivery({ form, draft, tray, files, time, tell });
  const shrinking = new Shrinking({ tray, files, draft, changed });
  draft.pieces = tray.pieces;

  async function takeBack(piece) {
    await delivery.takeBack(piece).catch(() => {
      tray.add(piece, files.get(piece.key)); // it is at the portal, and cannot be got from there
      tell(form.dataset.noLine);
    });
  }

  async function changed() {
    time.show(tray.left);
    how.show();
    await draft.keep().catch(() => {});
  }

  // One choice after the other; Send waits for the last. *more*: what else is known of a piece.
  let choosing = Promise.resolve();
  function choose(chosen, more = {}) {
    const next = () => take(chosen, more);
    choosing = choosing.then(next, next);
    return choosing;
  }

  async function take(chosen, more) {
    tell("");
    const most = Number(form.dataset.most);
    for (const file of chosen) {
      if (tray.pieces.length >= most) {
        tell(form.dataset.tooMany);
        break;
      }
      part.setAttribute("aria-busy", "true");
      const { refusal, reason, seconds } = await checked(file, part);
      const made = refusal ? file : await smaller(file);
      const kind = kindOf(file.type || made.type, file.name ?? "");
      const type = made.type || file.type;
      const piece = { key: newKey(), kind, type, size: made.size, turn: 0, ...more };
      if (refusal) Object.assign(piece, { refusal, final: true });
      const isTooLong = reason === "too_long";
      if (isTooLong && kind === "clip" && can) piece.seconds = seconds; // a part of it can go
      files.set(piece.key, made);
      await draft.keepFile(piece.key, made).catch(() => {});
      tray.add(piece, made);
      if (kind === "clip" && !isTooLong && isLarge(made, seconds)) {
        shrinking.add(piece, 0, seconds, !refusal);
      }
      await changed();
    }
    part.setAttribute("aria-busy", "false");
    part.querySelector("[data-chosen]").scrollIntoView({ block: "nearest" });
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
  const record = part.querySelector("[data-record]");
  offerVoice(record, (sound) => choose([sound]));
  const remove = async (piece) => {
    tray.remove(piece);
    await takeBack(piece);
  };
  const how = new HowKnown(form, { record, tray, choose, remove });

  if (await draft.bringBack()) await delivery.bringBack();
  how.show();
  for (const piece of tray.pieces.filter(({ making }) => making)) {
    const { from, until, whole } = piece.making;
    shrinking.add(piece, from, until, whole);
  }
  let isAsked = false;
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (isAsked) return;
    isAsked = true;
    await choosing.catch(() => {});
    await shrinking.all(() => delivery.progress.say("making"));
    isAsked = false;
    delivery.go();
  });
  part.hidden = false;
  form.dataset.ready = "";
}

if (form && window.fetch && window.Map) begin();
