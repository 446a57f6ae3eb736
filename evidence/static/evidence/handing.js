// Hands the words of a form in, with the names of the pieces that went ahead, and reads the answer.
import { Fault } from "./line.js";

const parsed = (text) => new DOMParser().parseFromString(text, "text/html");

function filledIn(form, pieces) {
  const data = new FormData(form);
  data.delete("pieces");
  for (const { address } of pieces) data.append("uploads", address.split("/").filter(Boolean).pop());
  return data;
}

// The page may be older than the sign-in: take the token of a fresh one.
async function renew(form, signal) {
  const answer = await fetch(location.href, { signal });
  if (answer.redirected) throw new Fault(401);
  const fresh = parsed(await answer.text()).querySelector('[name="csrfmiddlewaretoken"]')?.value;
  form.elements.csrfmiddlewaretoken.value = fresh ?? "";
}

// Give {next}: it is saved, and this is the page to go to; or {wrong}: the part of a page that says
// what must be put right. Throws a Fault when it has to be tried again, 401 after signing in.
export async function hand(form, pieces, signal, again = true) {
  const answer = await fetch(location.href, {
    method: "POST",
    body: filledIn(form, pieces),
    headers: { "HX-Request": "true" },
    signal,
  });
  const next = answer.headers.get("HX-Redirect");
  if (next) return { next };
  if (answer.redirected) throw new Fault(401);
  if (answer.status >= 500) throw new Fault(answer.status);
  if (answer.status === 403 && again) {
    await renew(form, signal);
    return hand(form, pieces, signal, false);
  }
  const page = parsed(await answer.text());
  return { wrong: page.querySelector(".form-errors") ?? page.querySelector("main .notice") };
}
