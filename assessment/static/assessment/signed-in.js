// Whether whoever opened this page is signed in still. Who has signed in again, in another window,
// has a new token of the page with that: it is taken in here, so that what was typed can be saved.
const owner = (page) => page.querySelector("[data-owner]")?.dataset.owner;

export async function signedIn() {
  const answer = await fetch(location.href);
  if (answer.status === 404) return true; // it is not there any more: whoever saves is told so
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (answer.status >= 500) throw new Error(String(answer.status));
  if (!owner(fresh) || owner(fresh) !== owner(document)) return false;
  const token = fresh.querySelector('meta[name="csrf-token"]').content;
  document.querySelector('meta[name="csrf-token"]').content = token;
  for (const field of document.querySelectorAll("[name=csrfmiddlewaretoken]")) field.value = token;
  return true;
}
