// What the portal would refuse is said here at once, in the portal's words, before it goes up.
const HEAD = 4096; // bytes, as many as the portal looks at
const BRANDS = /avif|avis|hei[cxms]|hev[cx]|mif1|msf1|M4[ABV] |qt {2}|3g[pe][4-7]|3gr6|3g2a|iso[m2456]|mp4[12]|avc1|MSNV/;
const PATIENCE = 8000; // milliseconds that a clip may take to say how long it is

// Say which kind a file is by its first bytes; "" for none that the portal knows.
export function kindIn(head) {
  if (/^(\xff\xd8\xff|\x89PNG\r\n\x1a\n|GIF8[79]a|RIFF[^]{4}WEBP)/.test(head)) return "photo";
  if (/^%PDF-/.test(head)) return "page";
  if (/^(OggS\0|ID3|RIFF[^]{4}WAVE|\xff[\xe2\xe3\xf2\xf3\xfa\xfb])/.test(head)) return "voice";
  if (/^\x1aE\xdf\xa3/.test(head)) return /webm|matroska/.test(head.slice(0, 64)) ? "clip" : "";
  if (/^[^]{4}(moov|wide|mdat)/.test(head)) return "clip";
  if (!/^[^]{4}ftyp/.test(head)) return "";
  const end = new DataView(Uint8Array.from(head.slice(0, 4), (at) => at.charCodeAt(0)).buffer);
  const brands = head.slice(8, Math.min(end.getUint32(0), HEAD));
  if (!BRANDS.test(brands)) return "";
  if (/^(avi[fs]|hei[cxms]|hev[cx]|mif1|msf1)/.test(brands)) return "photo";
  return /^M4[AB] /.test(brands) ? "voice" : "clip";
}

// Give the seconds that a clip or a voice note lasts; 0 where the browser cannot tell.
export function secondsOf(file) {
  const player = document.createElement("video");
  const address = URL.createObjectURL(file);
  return new Promise((resolve) => {
    setTimeout(() => resolve(0), PATIENCE);
    player.addEventListener("error", () => resolve(0));
    player.addEventListener("loadedmetadata", () => {
      resolve(Number.isFinite(player.duration) ? player.duration : 0);
    });
    player.preload = "metadata";
    player.src = address;
  }).finally(() => URL.revokeObjectURL(address));
}

// Give what is wrong with a file as {refusal, reason}, and the seconds of what lasts; an empty
// object where there is nothing to tell. *told*: the part with the words.
export async function checked(file, told) {
  const table = told.querySelector("[data-told-here]").content;
  const words = (reason) => {
    return { reason, refusal: table.querySelector(`[data-refusal="${reason}"]`).textContent };
  };
  if (!file.size) return words("empty");
  const bytes = new Uint8Array(await file.slice(0, HEAD).arrayBuffer());
  const kind = kindIn(String.fromCharCode(...bytes));
  if (!kind) return words("unknown_kind");
  const lasts = kind === "clip" || kind === "voice";
  const seconds = lasts ? await secondsOf(file) : 0;
  const longest = Number(told.dataset.longest);
  if (seconds > longest + 0.5) return { ...words("too_long"), seconds };
  const most = Number(table.querySelector(`[data-most-bytes="${kind}"]`).textContent);
  return file.size > most ? { ...words(`too_big_${kind}`), seconds } : { seconds };
}
