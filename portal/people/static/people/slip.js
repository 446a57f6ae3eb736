// Fills in the code of a scanned slip. It stands behind the # of the address, which browsers send
// to no server; it is taken out of the address at once, so that no history keeps it.
const field = document.querySelector("[data-slip] [name=slip]");
const code = window.location.hash.slice(1);
if (field && code) {
  field.value = code;
  window.history.replaceState(null, "", window.location.pathname);
  document.querySelector("[data-slip] [name=name]").focus();
}
