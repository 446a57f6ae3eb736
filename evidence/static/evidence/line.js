// Carry one file over a line that may break at any time. It ends with the file saved, or with a
// fault that no waiting mends. Everything else is tried again: at once when the line is back.
const STALLED = 25000; // milliseconds without a byte, after which a connection is taken for dead
const PAUSES = [250, 500, 1000, 2000, 4000, 8000, 15000];
const BUSY = 2000; // milliseconds to leave a portal alone that answers but cannot take it just now
const FRESH_STARTS = 3;
const LATER = new Set([408, 409, 423, 460]);

export class Fault extends Error {
  constructor(status, words = "") {
    super(words);
    this.status = status;
  }
}

const isFinal = (status) => status >= 400 && status < 500 && !LATER.has(status);

// Wait so long, or until the line or the reader comes back.
export function pause(milliseconds, signal) {
  return new Promise((resolve) => {
    const ends = new AbortController();
    const end = () => {
      ends.abort();
      clearTimeout(clock);
      resolve();
    };
    const clock = setTimeout(end, milliseconds);
    const seen = () => document.visibilityState === "visible" && end();
    window.addEventListener("online", end, { signal: ends.signal });
    document.addEventListener("visibilitychange", seen, { signal: ends.signal });
    signal?.addEventListener("abort", end, { signal: ends.signal });
  });
}

// One attempt: from where the portal says the upload stands, to the end or the next break.
function attempt(file, piece, { endpoint, metadata, signal, moved, began }) {
  return new Promise((resolve, reject) => {
    let last = Date.now();
    const upload = new tus.Upload(file, {
      endpoint: piece.address ? null : endpoint,
      uploadUrl: piece.address ?? null,
      metadata,
      retryDelays: null,
      storeFingerprintForResuming: false,
      onUploadUrlAvailable: () => began(new URL(upload.url, location.href).pathname),
      onProgress: (sent) => {
        last = Date.now();
        moved(sent);
      },
      onSuccess: () => end(resolve),
      onError: (error) => {
        const answer = error.originalResponse;
        const told = answer?.getHeader("Content-Type")?.startsWith("text/plain");
        end(reject, new Fault(answer?.getStatus() ?? 0, told ? answer.getBody() : ""));
      },
    });
    const watch = setInterval(() => {
      if (Date.now() - last > STALLED) stop();
    }, 1000);
    function stop() {
      upload.abort();
      end(reject, new Fault(0));
    }
    function end(how, value) {
      clearInterval(watch);
      signal.removeEventListener("abort", stop);
      how(value);
    }
    signal.addEventListener("abort", stop);
    upload.start();
  });
}

// Ask for the words that go with the end of an upload; "" when it simply is not there any more.
async function whyNot(address) {
  const headers = { "Tus-Resumable": "1.0.0", "Upload-Offset": "0" };
  headers["Content-Type"] = "application/offset+octet-stream";
  const answer = await fetch(address, { method: "PATCH", headers });
  return answer.status === 410 ? answer.text() : "";
}

// To whoever is signed out, an upload is not there; it is, once they have signed in again.
async function isSignedOut() {
  const answer = await fetch(location.pathname, { redirect: "manual" });
  return answer.type === "opaqueredirect";
}

// Send the file of a piece. Rejects with a Fault: status 0 when the signal said to stop.
export async function carry(file, piece, told) {
  let fails = 0;
  let starts = 0;
  while (!told.signal.aborted) {
    try {
      await attempt(file, piece, { ...told, moved: (sent) => {
        fails = 0;
        told.moved(sent);
      } });
      return;
    } catch (fault) {
      if (told.signal.aborted) break;
      if (isFinal(fault.status)) {
        const isGone = piece.address && (fault.status === 404 || fault.status === 410);
        const words = fault.message || (isGone ? await whyNot(piece.address).catch(() => "") : "");
        if (!isGone || words || (starts += 1) > FRESH_STARTS) throw new Fault(fault.status, words);
        if (await isSignedOut().catch(() => false)) throw new Fault(401);
        told.began(null); // It lay too long and was swept away: begin again.
        continue;
      }
      const wait = fault.status ? BUSY : PAUSES[Math.min(fails, PAUSES.length - 1)];
      if (wait > PAUSES[0]) told.waiting(fault);
      await pause(wait, told.signal);
      fails += 1;
    }
  }
  throw new Fault(0);
}
