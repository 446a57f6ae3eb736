// Make a clip small enough for a slow line, or take a part of it: it is played in silence, unseen,
// and the browser's own recorder films it as it plays. So it takes as long as the clip lasts. What
// the phone wrote into it, such as the place, stays behind.
const SHORT_SIDE = 720; // pixels
const PICTURES = 1_200_000; // bits a second; with the sound 9.5 MB a minute
const SOUND = 64_000;
const STEADY = 30; // pictures a second
const PATIENCE = 8000; // milliseconds that a browser may take to open a clip, or its sound
// The first that the browser can make; every phone plays H.264 in MP4 most easily.
const TYPES = [
  "video/mp4;codecs=avc1.42E01F,mp4a.40.2",
  "video/mp4;codecs=avc1.42E01F,opus",
  "video/mp4",
  "video/webm;codecs=vp8,opus",
];

function within(promise, what) {
  const late = new Promise((_, no) => setTimeout(() => no(new Error(what)), PATIENCE));
  return Promise.race([promise, late]);
}

const once = (thing, name) => new Promise((yes, no) => {
  thing.addEventListener(name, yes, { once: true });
  thing.addEventListener("error", () => no(new Error(name)), { once: true });
});

// A canvas that shows what is played, upright and small.
function screenOf(film) {
  const share = Math.min(1, SHORT_SIDE / Math.min(film.videoWidth, film.videoHeight));
  const even = (side) => Math.round((side * share) / 2) * 2; // encoders take no odd number
  const canvas = document.createElement("canvas");
  canvas.width = even(film.videoWidth);
  canvas.height = even(film.videoHeight);
  const pen = canvas.getContext("2d", { alpha: false });
  const next = film.requestVideoFrameCallback
    ? (draw) => film.requestVideoFrameCallback(draw) : requestAnimationFrame;
  (function draw() {
    if (!film.src) return;
    pen.drawImage(film, 0, 0, canvas.width, canvas.height);
    next(draw);
  })();
  return canvas.captureStream(STEADY);
}

// A page that is not seen plays nothing: both wait until it is seen again.
function watch(film, recorder, signal) {
  document.addEventListener("visibilitychange", () => {
    if (recorder.state === "inactive") return;
    if (document.hidden) {
      film.pause();
      recorder.pause();
    } else {
      recorder.resume();
      film.play().catch(() => {});
    }
  }, { signal });
}

async function filmed(film, context, { from, until, signal, moved }) {
  await within(once(film, "loadeddata"), "pictures");
  if (from) {
    film.currentTime = from;
    await within(once(film, "seeked"), "place");
  }
  await within(context.resume(), "sound"); // a clip without its sound would be half a clip
  const sound = context.createMediaStreamDestination();
  context.createMediaElementSource(film).connect(sound);
  const tracks = [...screenOf(film).getTracks(), ...sound.stream.getTracks()];
  const mimeType = TYPES.find((type) => MediaRecorder.isTypeSupported(type));
  const recorder = new MediaRecorder(new MediaStream(tracks),
    { mimeType, videoBitsPerSecond: PICTURES, audioBitsPerSecond: SOUND });
  const parts = [];
  recorder.addEventListener("dataavailable", ({ data }) => data.size && parts.push(data));
  const over = new Promise((yes, no) => {
    signal.addEventListener("abort", () => no(signal.reason));
    film.addEventListener("error", () => no(film.error));
    film.addEventListener("ended", yes);
    film.addEventListener("timeupdate", () => {
      moved((film.currentTime - from) / (until - from));
      if (film.currentTime >= until) yes();
    });
  });
  const ends = new AbortController();
  watch(film, recorder, ends.signal);
  try {
    recorder.start(1000);
    await film.play();
    await over;
  } finally {
    ends.abort();
    const stopped = once(recorder, "stop");
    recorder.stop();
    await stopped;
  }
  return new Blob(parts, { type: recorder.mimeType.split(";")[0] });
}

// Give the clip from second *from* to second *until*, made small. *moved* is told the share that
// is done. Rejects where the browser cannot, and once *signal* says to stop.
export async function smaller(file, asked) {
  asked.signal.throwIfAborted();
  const film = document.createElement("video");
  const context = new AudioContext();
  film.playsInline = true;
  film.src = URL.createObjectURL(file);
  try {
    return await filmed(film, context, asked);
  } finally {
    film.pause();
    URL.revokeObjectURL(film.src);
    film.removeAttribute("src");
    context.close();
  }
}
