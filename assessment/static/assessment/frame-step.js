// Step a clip by one frame. How long a frame is, its clip does not say: so go by less than the
// shortest there is until another one is on screen.
const SHORTEST = 1 / 60; // seconds
const MOST_TRIES = 8; // of 1/60: a clip of 8 frames a second
let busy = false;

function shown(video) {
  return new Promise((resolve) => {
    const late = setTimeout(() => resolve(null), 400);
    video.requestVideoFrameCallback((_now, frame) => {
      clearTimeout(late);
      resolve(frame.mediaTime);
    });
  });
}

export async function step(video, by) {
  if (busy) return;
  video.pause();
  if (!video.requestVideoFrameCallback) {
    video.currentTime += by / 25;
    return;
  }
  busy = true;
  const from = Number(video.dataset.frame ?? video.currentTime);
  for (let tries = 1; tries <= MOST_TRIES; tries += 1) {
    const wanted = from + by * tries * SHORTEST;
    if (wanted < 0 || wanted > video.duration) break;
    const frame = shown(video);
    video.currentTime = wanted;
    const time = await frame;
    if (time !== null && Math.abs(time - from) > 0.001) {
      video.dataset.frame = time;
      break;
    }
  }
  busy = false;
}

document.addEventListener("play", (event) => delete event.target.dataset.frame, true);
document.addEventListener("seeked", (event) => {
  if (!busy) delete event.target.dataset.frame;
}, true);
