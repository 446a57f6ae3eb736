// The switch for reminders in this browser. Without scripts, or where a browser has no push, the
// page says so and mail is left.
const part = document.querySelector("[data-push]");
const [on, off, said, none] = ["on", "off", "said", "none"].map((name) =>
  part?.querySelector(`[data-push-${name}]`));
const can = "serviceWorker" in navigator && "PushManager" in window && "Notification" in window;

function keyOf(text) {
  const plain = atob(text.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(plain, (letter) => letter.charCodeAt(0));
}

function show(subscription) {
  none.hidden = true;
  on.hidden = Boolean(subscription);
  off.hidden = !subscription;
}

async function tell(address, endpoint) {
  const body = new FormData();
  body.set("endpoint", endpoint);
  body.set("csrfmiddlewaretoken", part.querySelector("[name=csrfmiddlewaretoken]").value);
  const answer = await fetch(address, { method: "POST", body, credentials: "same-origin" });
  if (!answer.ok) throw new Error(`${answer.status}`);
}

// The message that wakes this browser is empty: what to show is kept here, in the page's language.
async function keepWords() {
  const words = JSON.stringify({ title: part.dataset.title, text: part.dataset.text });
  const kept = await caches.open("reminder");
  await kept.put("/reminder-words", new Response(words));
}

async function begin(registration) {
  if ((await Notification.requestPermission()) !== "granted") throw new Error("refused");
  await keepWords();
  const subscription = await registration.pushManager.subscribe({
    userVisibleOnly: true,
    applicationServerKey: keyOf(part.dataset.push),
  });
  await tell(part.dataset.add, subscription.endpoint);
  show(subscription);
  said.textContent = said.dataset.done;
}

async function end(registration) {
  const subscription = await registration.pushManager.getSubscription();
  if (subscription) {
    await tell(part.dataset.remove, subscription.endpoint);
    await subscription.unsubscribe();
  }
  show(null);
  said.textContent = said.dataset.stopped;
}

// A portal with another key, as after a restore, could not wake this browser: it is chosen again.
async function standing(registration) {
  const subscription = await registration.pushManager.getSubscription();
  if (!subscription) return null;
  const known = new Uint8Array(subscription.options.applicationServerKey ?? []);
  const wanted = keyOf(part.dataset.push);
  if (known.length === wanted.length && known.every((byte, at) => byte === wanted[at])) {
    return subscription;
  }
  await subscription.unsubscribe();
  return null;
}

async function settle() {
  const registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "all" });
  show(await standing(registration));
  const refused = () => { said.textContent = said.dataset.refused; };
  on.addEventListener("click", () => begin(registration).catch(refused));
  off.addEventListener("click", () => end(registration).catch(refused));
}

if (part && can) settle().catch(() => {});
