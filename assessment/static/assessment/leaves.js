// Turn the leaves by the arrow keys and by a thumb drawn across; the links do the same without.
const links = { back: document.querySelector("a[rel=prev]"), on: document.querySelector("a[rel=next]") };
const fromRight = document.documentElement.dir === "rtl";
const FAR = 60; // pixels across that mean turning
const EDGE = 24; // pixels at each side that belong to the browser's own gesture
const HAS_KEYS_OF_ITS_OWN = "audio, video, input, textarea, select";
let start = null;

const turn = (towardsLeft) => links[towardsLeft === fromRight ? "back" : "on"]?.click();

document.addEventListener("keydown", (event) => {
  const { key, target } = event;
  if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  if (target.closest(HAS_KEYS_OF_ITS_OWN)) return;
  if (key === "ArrowLeft" || key === "ArrowRight") turn(key === "ArrowRight");
});

document.addEventListener("touchstart", ({ touches, target }) => {
  const [{ clientX, clientY }] = touches;
  const ofBrowser = clientX < EDGE || clientX > innerWidth - EDGE || visualViewport?.scale > 1;
  const isTurn = touches.length === 1 && !ofBrowser && !target.closest("audio, video");
  start = isTurn ? { clientX, clientY } : null;
}, { passive: true });

document.addEventListener("touchend", ({ changedTouches: [end] }) => {
  if (!start) return;
  const across = end.clientX - start.clientX;
  const along = Math.abs(end.clientY - start.clientY);
  start = null;
  if (Math.abs(across) > FAR && Math.abs(across) > 2 * along) turn(across < 0);
}, { passive: true });
