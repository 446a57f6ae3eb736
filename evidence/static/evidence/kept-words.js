// A form of staff whose words stay in this browser until they are saved or thrown away:
// <form data-kept> with <div data-kept-told hidden>. The page that says "saved" names the form
// whose words may go: <div data-forget="/address/of/the/form/">. Signing out takes all away, and
// asks first: the machines of a school are used by many.
import { Draft } from "./draft.js";
import * as shelf from "./shelf.js";

const drafts = new WeakMap();
let last = null;

class KeptWords extends Draft {
  constructor(form, owner) {
    super(form);
    this.place = new URL(form.action).pathname;
    this.owner = owner;
    this.first = form.dataset.kept ? "" : JSON.stringify(this.words);
    form.querySelector("[data-throw-away]").addEventListener("click", () => this.throwAway());
  }

  // All that was typed stands as it was left, emptied fields too, with the version it was typed on.
  fill(words) {
    const kept = new Map(words);
    for (const field of this.form.elements) {
      if (!field.name || field.type === "submit" || field.name === "csrfmiddlewaretoken") continue;
      const value = kept.get(field.name) ?? "";
      if (field.type === "radio") field.checked = field.value === value;
      else if (field.type === "checkbox") field.checked = kept.has(field.name);
      else field.value = value;
      if (value && field.closest("details")) field.closest("details").open = true;
    }
    this.form.querySelector("[data-kept-told]").hidden = false;
    this.form.querySelector("textarea")?.dispatchEvent(new Event("input", { bubbles: true }));
  }

  get isChanged() {
    return JSON.stringify(this.words) !== this.first;
  }

  async keep() {
    if (this.isChanged) return super.keep();
    clearTimeout(this.clock);
    this.clock = null;
    return shelf.dropDraft(this.place);
  }

  async throwAway() {
    await this.drop();
    location.reload();
  }
}

// A form listens from the first moment; what was kept before comes once the shelf is open.
async function begin(settled = null) {
  last?.keepNow();
  const form = document.querySelector("form[data-kept]");
  const isNew = form && !drafts.has(form);
  if (isNew) drafts.set(form, new KeptWords(form, asked.dataset.owner));
  last = drafts.get(form) ?? null;
  await settled;
  for (const said of document.querySelectorAll("[data-forget]")) {
    await shelf.dropDraft(said.dataset.forget);
  }
  if (!isNew) return;
  const draft = drafts.get(form);
  if (form.dataset.kept) await draft.keep(); // it came back with what was typed
  else if (!(await draft.bringBack()) && draft.isChanged) await draft.keep();
}

const asked = document.querySelector("[data-sign-out-ask]");
const leaving = document.querySelector("form.account");

async function askFirst(event) {
  if (event.target.dataset.cleared) return;
  event.preventDefault();
  last?.keepNow();
  const left = await shelf.all("drafts").catch(() => []);
  if (!left.length) leave();
  else asked.showModal();
}

async function leave(keeps = false) {
  leaving.dataset.cleared = "yes";
  if (keeps) {
    leaving.append(Object.assign(document.createElement("input"), { type: "hidden", name: "keep" }));
  } else {
    await shelf.clear().catch(() => {});
  }
  leaving.requestSubmit();
}

if (asked && leaving) {
  leaving.addEventListener("submit", askFirst);
  asked.querySelector("[data-leave]").addEventListener("click", () => leave());
  asked.querySelector("[data-leave-keeping]").addEventListener("click", () => leave(true));
  document.addEventListener("portal:changed", () => begin());
  begin(shelf.settleIn(asked.dataset.owner)).catch(() => {});
}
