// Record a spoken reply, and send it as soon as it is ended.
const LONGEST = 170; // seconds: a little less than the longest voice the portal takes
let recorder = null;
let chunks = [];
let last = null; // a recording that could not be sent
let counter = 0;

function part() {
  return document.querySelector("[data-record]");
}

function tool(name) {
  return part()?.querySelector(`[data-record-${name}]`);
}

function show(words = "") {
  if (!part()) return;
  const on = recorder !== null;
  part().hidden = !window.MediaRecorder || !navigator.mediaDevices;
  tool("start").hidden = on;
  tool("stop").hidden = tool("drop").hidden = !on;
  tool("again").hidden = on || !last;
  // The key that began it ends it.
  for (const [name, has] of [["start", !on], ["stop", on]]) {
    if (has) tool(name).dataset.key = "Ctrl+.";
    else delete tool(name).dataset.key;
  }
  tool("state").textContent = words;
}

function count(seconds) {
  if (!recorder) return;
  const clock = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
  if (tool("state")) tool("state").textContent = `${part().dataset.recording} ${clock}`;
  if (seconds >= LONGEST) end(true);
  else counter = setTimeout(() => count(seconds + 1), 1000);
}

async function start() {
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: true });
  } catch {
    show(part().dataset.noMicrophone);
    return;
  }
  chunks = [];
  recorder = new MediaRecorder(stream);
  recorder.addEventListener("dataavailable", (event) => chunks.push(event.data));
  recorder.start(1000);
  show();
  count(0);
}

// Gives a promise that is kept when the recording is sent or thrown away.
function end(keep) {
  clearTimeout(counter);
  const ended = recorder;
  return new Promise((resolve) => {
    ended.addEventListener("stop", async () => {
      ended.stream.getTracks().forEach((track) => track.stop());
      recorder = null;
      if (keep) await send(new Blob(chunks, { type: ended.mimeType }));
      else show();
      resolve();
    });
    ended.stop();
  });
}

async function send(recording) {
  const address = part().dataset.record;
  const form = new FormData();
  form.append("voice", recording, "voice");
  show(part().dataset.sending);
  try {
    const token = document.querySelector('meta[name="csrf-token"]').content;
    const headers = { "HX-Request": "true", "X-CSRFToken": token };
    const answer = await fetch(address, { method: "POST", body: form, headers });
    if (answer.status >= 500 || answer.redirected) throw new Error(String(answer.status));
    last = null;
    swap(address, await answer.text());
  } catch {
    last = recording;
    show(part()?.dataset.failed);
  }
}

function swap(address, html) {
  const holder = document.createElement("template");
  holder.innerHTML = html.trim();
  // Meanwhile another piece may be on screen.
  if (part()?.dataset.record !== address || !holder.content.firstElementChild) return;
  document.getElementById("voice-part").replaceWith(holder.content.firstElementChild);
  document.dispatchEvent(new Event("portal:changed"));
}

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-record-start]")) start();
  if (event.target.closest("[data-record-stop]")) end(true);
  if (event.target.closest("[data-record-drop]")) end(false);
  if (event.target.closest("[data-record-again]")) send(last);
});
// Saving ends a recording first, so that no word of it is lost.
document.addEventListener("submit", async (event) => {
  if (!recorder || !event.target.matches("[data-look]")) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  await end(true);
  if (!last) event.target.requestSubmit(event.submitter);
}, true);
document.addEventListener("htmx:afterSettle", () => show());
document.addEventListener("portal:changed", () => {
  const fresh = document.getElementById("voice-part");
  if (fresh) window.htmx?.process(fresh);
  show();
});
show();
