// Step a clip by one frame. How long a frame is, its clip does not say: so go by less than the
// shortest there is until another one is on screen.
const SHORTEST = 1 / 60; // seconds
const MOST_TRIES = 8; // of 1/60: a clip of 8 frames a second
const PATIENCE = 400; // milliseconds for a frame to be shown
let busy = false;

function within(patience, begin) {
  return new Promise((resolve) => {
    setTimeout(() => resolve(null), patience);
    begin(resolve);
  });
}

// Go to a time, and give the time at which the frame that is then on screen begins.
async function frameAt(video, time) {
  const shown = within(PATIENCE, (resolve) =>
    video.requestVideoFrameCallback((_now, frame) => resolve(frame.mediaTime)));
  const there = within(PATIENCE, (resolve) =>
    video.addEventListener("seeked", resolve, { once: true }));
  video.currentTime = time;
  await there;
  return shown;
}

async function search(video, by) {
  const known = video.dataset.frame ?? (await frameAt(video, video.currentTime));
  const from = Number(known ?? video.currentTime);
  for (let tries = 1; tries <= MOST_TRIES; tries += 1) {
    const wanted = Math.max(0, from + by * tries * SHORTEST);
    if (wanted > video.duration) return;
    const frame = await frameAt(video, wanted);
    if (frame !== null && Math.abs(frame - from) > 0.001) {
      video.dataset.frame = frame;
      return;
    }
    if (wanted === 0) return;
  }
}

export async function step(video, by) {
  if (busy) return;
  video.pause();
  if (!video.requestVideoFrameCallback) {
    video.currentTime += by / 25;
    return;
  }
  busy = true;
  await search(video, by);
  busy = false;
}

document.addEventListener("play", (event) => delete event.target.dataset.frame, true);
document.addEventListener("seeking", (event) => {
  if (!busy) delete event.target.dataset.frame;
}, true);
