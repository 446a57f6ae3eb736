// Record a voice note here: <button data-record hidden> shows itself where that can be done.
const TYPES = ["audio/mp4", "audio/webm;codecs=opus", "audio/ogg;codecs=opus"];
const type = TYPES.find((each) => window.MediaRecorder?.isTypeSupported(each)); // some write none

export function clock(seconds) {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

async function record(button, keep, { most, stop, no }) {
  const word = button.querySelector("[data-word]");
  const usual = word.textContent;
  let sound;
  try {
    sound = await navigator.mediaDevices.getUserMedia({ audio: true });
  } catch {
    word.textContent = no;
    return;
  }
  const recorder = new MediaRecorder(sound, { mimeType: type });
  const parts = [];
  const began = Date.now();
  const ticking = setInterval(() => {
    const seconds = Math.floor((Date.now() - began) / 1000);
    word.textContent = `${stop} ${clock(seconds)}`;
    if (seconds >= Number(most)) recorder.stop();
  }, 250);
  recorder.addEventListener("dataavailable", ({ data }) => data.size && parts.push(data));
  recorder.addEventListener("stop", () => {
    clearInterval(ticking);
    sound.getTracks().forEach((track) => track.stop());
    word.textContent = usual;
    button.setAttribute("aria-pressed", "false");
    delete button.recorder;
    if (parts.length) keep(new Blob(parts, { type: recorder.mimeType.split(";")[0] }));
  });
  button.recorder = recorder;
  button.setAttribute("aria-pressed", "true");
  word.textContent = `${stop} ${clock(0)}`;
  recorder.start(1000);
}

// *told*: how many seconds at most, and the words.
export function offerVoice(button, keep, told = button?.dataset) {
  if (!button || !navigator.mediaDevices?.getUserMedia || !type) return;
  button.hidden = false;
  button.addEventListener("click", () => {
    if (button.recorder) button.recorder.stop();
    else record(button, keep, told);
  });
}
