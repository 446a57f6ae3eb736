// What was just saved is read by the family a moment later. The page says so once that is past.
// It counts from when it is shown, which is never too early for what it promises.
const MOMENT = 10000; // milliseconds, as SEEN_BY_FAMILIES_AFTER
const begun = new WeakSet();

function begin() {
  for (const soon of document.querySelectorAll("[data-told-soon]")) {
    if (begun.has(soon)) continue;
    begun.add(soon);
    setTimeout(() => {
      soon.hidden = true;
      soon.nextElementSibling.hidden = false;
    }, MOMENT);
  }
}

document.addEventListener("portal:changed", begin);
begin();
