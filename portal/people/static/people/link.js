// Moves what stands behind the # of the link from the mail into the form, and takes it out of the
// address, so that no history keeps it. Nothing is sent until the button is pressed.
const form = document.querySelector("[data-link]");
const secret = window.location.hash.slice(1);
if (form && secret) {
  form.elements.link.value = secret;
  window.history.replaceState(null, "", window.location.pathname);
}
// After a link that did not work the form says so.
if (form) form.hidden = !secret && !form.querySelector("[role=alert]");
