// Ask again about a piece that is being made ready: <div data-poll="/address/of/its/part">.
// The answer takes its place; when it no longer carries data-poll, asking ends.
const FIRST = 1500;
const LONGEST = 15000; // milliseconds: a clip may take minutes, and a phone's battery counts

async function ask(address) {
  const answer = await fetch(address, { headers: { "HX-Request": "true" } });
  if (!answer.ok) throw new Error(String(answer.status));
  const holder = document.createElement("template");
  holder.innerHTML = (await answer.text()).trim();
  return holder.content.firstElementChild;
}

function wait(part, pause) {
  setTimeout(async () => {
    if (!part.isConnected) return;
    if (document.hidden) {
      wait(part, pause);
      return;
    }
    const next = Math.min(LONGEST, pause * 1.4);
    try {
      const fresh = await ask(part.dataset.poll);
      if (!fresh) return;
      part.replaceWith(fresh);
      asked.add(fresh);
      if (fresh.dataset.poll) wait(fresh, next);
      else document.dispatchEvent(new Event("portal:changed"));
    } catch {
      wait(part, next);
    }
  }, pause);
}

const asked = new WeakSet();

function begin() {
  for (const part of document.querySelectorAll("[data-poll]")) {
    if (!asked.has(part)) wait(part, FIRST);
    asked.add(part);
  }
}

document.addEventListener("htmx:afterSettle", begin);
document.addEventListener("portal:changed", begin);
begin();
