// What waits on this phone until it is saved: drafts of words, and the files that belong to them.
// Where the browser keeps nothing (a private window), it lasts as long as the page.
const NAME = "waiting";
const ROOMS = ["drafts", "files", "facts"];
const inThisPage = Object.fromEntries(ROOMS.map((room) => [room, new Map()]));
let opening = null;

function open() {
  opening ??= new Promise((resolve) => {
    const asked = window.indexedDB?.open(NAME, 1);
    if (!asked) return resolve(null);
    asked.onupgradeneeded = () => ROOMS.forEach((room) => asked.result.createObjectStore(room));
    asked.onsuccess = () => {
      asked.result.onversionchange = () => asked.result.close();
      resolve(asked.result);
    };
    asked.onerror = () => resolve(null);
  }).catch(() => null);
  return opening;
}

function done(asked) {
  return new Promise((resolve, reject) => {
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}

async function at(room, mode, action, otherwise) {
  const base = await open();
  if (!base) return otherwise(inThisPage[room]);
  const transaction = base.transaction(room, mode);
  const asked = action(transaction.objectStore(room));
  transaction.commit?.(); // now: a page that is being left does not wait to be asked again
  return done(asked);
}

const find = (room, key) => at(room, "readonly", (s) => s.get(key), (m) => m.get(key));
export const all = (room) => at(room, "readonly", (s) => s.getAll(), (m) => [...m.values()]);
const place = (room, key, value) =>
  at(room, "readwrite", (s) => s.put(value, key), (m) => m.set(key, value));

// A private window of some browsers keeps bytes, and no files.
export async function put(room, key, value) {
  if (!(value instanceof Blob)) return place(room, key, value);
  const asBytes = async () => place(room, key, { bytes: await value.arrayBuffer(), type: value.type });
  return place(room, key, value).catch(asBytes);
}

export async function get(room, key) {
  const kept = await find(room, key);
  const isBytes = kept?.bytes instanceof ArrayBuffer; // a file has a function of this name
  return isBytes ? new Blob([kept.bytes], { type: kept.type }) : kept;
}

export const drop = (room, key) =>
  at(room, "readwrite", (s) => s.delete(key), (m) => m.delete(key));

// Forget a draft with all that belongs to it.
export async function dropDraft(place) {
  const draft = await get("drafts", place);
  for (const piece of draft?.pieces ?? []) await drop("files", piece.key);
  await drop("drafts", place);
}

// Forget everything: on signing out, and when somebody else comes in on this phone.
export async function clear() {
  for (const room of ROOMS) await at(room, "readwrite", (s) => s.clear(), (m) => m.clear());
  if (window.caches) for (const name of await caches.keys()) await caches.delete(name);
}

// Leave nothing here to whoever comes in next.
export async function settleIn(owner) {
  const before = await get("facts", "owner");
  if (before && before !== owner) await clear();
  await put("facts", "owner", owner);
}

export const owner = () => document.querySelector('meta[name="owner"]')?.content ?? "";
